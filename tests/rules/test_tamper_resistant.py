"""Tamper-resistant receptacles: 406.12 with its exceptions, read as quoted; work to come while unknown."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.tamper_resistant import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only, site


def built(dwelling=True, **given):
    plain = {"kind": "receptacle", "origin": "added", "connection": "cord"}
    parts = (box("wall", origin="added"), cable("in", "panel", "wall"), load("outlet", "wall", **(plain | given)))
    return circuit(site(dwelling=dwelling), *parts)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("resistant", "out_of_reach", "outcome"),
    [
        (True, None, Outcome.PASS),
        (False, True, Outcome.PASS),
        (False, False, Outcome.FAIL),
        (False, None, Outcome.UNDETERMINED),
        (None, None, Outcome.CAUTION),
    ],
)
def test_a_new_receptacle_in_a_dwelling(edition, resistant, out_of_reach, outcome):
    """Let off: more than 5-1/2 ft above the floor, or in the place of an appliance (406.12, exceptions 1 and 3)."""
    found = only(RULE, built(tamper_resistant=resistant, out_of_reach=out_of_reach), "outlet", edition)
    assert found.outcome is outcome
    assert found.to_come == (outcome is Outcome.CAUTION)
    assert (found.needs == ("load.outlet.out_of_reach",)) == (outcome is Outcome.UNDETERMINED)


def test_it_says_nothing_where_it_does_not_apply():
    assert findings(RULE, built(kind="light")) == []
    assert findings(RULE, built(origin="existing")) == []
    assert findings(RULE, built(dwelling=False)) == []


def test_names_may_hold_braces():
    parts = (box("wall", origin="added"), cable("in", "panel", "wall"))
    one = load("{x}", "wall", kind="receptacle", origin="added", tamper_resistant=False, out_of_reach=False)
    assert '"{x}"' in only(RULE, circuit(site(dwelling=True), *parts, one), "{x}").says
