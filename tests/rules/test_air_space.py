"""Cable in a space that air is blown through: 300.22(C) and its exception for joist and stud spaces of dwellings.

The exception as quoted at Mike Holt forum, post 1676982, and InterNACHI forum, thread 57809: from side to side only.
"""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.air_space import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, low_voltage_load, only, site


def built(dwelling=True, **given):
    return circuit(site(dwelling=dwelling), box("new", origin="added"), cable("run", "panel", "new", **given))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("way", "kind", "dwelling", "outcome"),
    [
        ("crossed", "NM-B", True, Outcome.PASS),
        ("crossed", "NM-B", False, Outcome.FAIL),
        ("crossed", "NM-B", None, Outcome.UNDETERMINED),
        ("followed", "NM-B", True, Outcome.FAIL),
        ("followed", "MC", True, Outcome.CAUTION),
        ("followed", None, True, Outcome.UNDETERMINED),
    ],
)
def test_branch_cable(edition, way, kind, dwelling, outcome):
    assert only(RULE, built(dwelling, air_space=way, type=kind), "run", edition).outcome is outcome


@pytest.mark.parametrize(
    ("marked", "outcome"), [(True, Outcome.PASS), (False, Outcome.FAIL), (None, Outcome.UNDETERMINED)]
)
def test_low_voltage_cable_along_it_wants_the_mark(marked, outcome):
    lead = cable("lead", "d", "strip", type="class 2 cable", size="18 AWG", air_space="followed", plenum_marked=marked)
    parts = (box("new", origin="added"), cable("in", "panel", "new"), driver("d", "new"), low_voltage_load("strip"))
    assert only(RULE, circuit(site(dwelling=True), *parts, lead), "lead").outcome is outcome


def test_it_says_nothing_where_it_does_not_apply():
    assert findings(RULE, built()) == []
    assert findings(RULE, built(air_space="none")) == []
    assert findings(RULE, built(air_space="followed", origin="existing")) == []


def test_names_may_hold_braces():
    one = circuit(box("new", origin="added"), cable("{x}", "panel", "new", air_space="followed"))
    assert '"{x}"' in only(RULE, one, "{x}").says


def test_what_says_so_and_what_is_asked():
    """300.22(C); of cable for low voltage also the clause on its mark: 725.3(C), and 300.22(C)(1) of 2023."""
    branch = only(RULE, built(air_space="followed"), "run")
    assert [source.place for source in branch.sources] == ["300.22(C) and exception"]
    assert branch.ask == ()
    metal = only(RULE, built(air_space="followed", type="MC"), "run")
    assert metal.ask == ("Is the conduit or armor of metal, without a plastic cover?",)
    lead = cable("lead", "d", "strip", type="class 2 cable", size="18 AWG", air_space="followed", plenum_marked=True)
    parts = (box("new", origin="added"), cable("in", "panel", "new"), driver("d", "new"), low_voltage_load("strip"))
    marked = only(RULE, circuit(site(dwelling=True), *parts, lead), "lead")
    assert [source.place for source in marked.sources] == ["300.22(C) and exception", "300.22(C)(1)"]
