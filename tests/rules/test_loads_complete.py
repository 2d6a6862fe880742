"""Contract, section 4: unknown is a caution and the first question, "no" cannot tell."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.evidence.loads_complete import RULE
from tests.rules.build import box, cable, circuit, findings, supply


def told(complete, **given):
    parts = (box("a"), box("new", origin="added"), cable("run", "a", "new"))
    (found,) = findings(RULE, circuit(supply(loads_complete=complete, **given), *parts))
    return found.outcome, found.needs


@pytest.mark.parametrize(
    ("complete", "outcome"), [(True, Outcome.PASS), (None, Outcome.CAUTION), (False, Outcome.UNDETERMINED)]
)
def test_unknown_is_a_caution_and_no_cannot_tell(complete, outcome):
    assert told(complete) == (outcome, () if complete else ("supply.loads_complete",))


def test_a_guess_settles_nothing():
    assert told(True, known_by={"loads_complete": How.GUESS})[0] is Outcome.CAUTION
    assert told(False, known_by={"loads_complete": How.GUESS})[0] is Outcome.CAUTION


def test_without_work_it_is_not_asked():
    assert findings(RULE, circuit(box("a"), cable("feed", "panel", "a", origin="existing"))) == []


def test_the_walk_is_planned_unless_somebody_made_it():
    for complete in (True, None, False):
        parts = (box("a"), box("new", origin="added"), cable("run", "a", "new"))
        (found,) = findings(RULE, circuit(supply(loads_complete=complete), *parts))
        assert bool(found.to_do) is (complete is not True)
