"""Open sheathed cable is guarded where it could be damaged (334.15(A), (B); 300.4)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.exposed_cable import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only


def built(lamp="added", **given):
    plain = {"run": "on a surface", "concealed": False, "origin": "existing"}
    lamp = load("lamp", "b", power_w=9, origin=lamp)
    return circuit(box("b"), cable("run", "panel", "b", **(plain | given)), lamp)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("could", "outcome"), [(True, Outcome.FAIL), (False, Outcome.PASS)])
def test_what_was_looked_at(edition, could, outcome):
    assert only(RULE, built(exposed_to_damage=could), "run", edition).outcome is outcome


def test_an_old_run_that_the_work_uses_is_asked_about():
    found = only(RULE, built(), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.exposed_to_damage",))


def test_where_it_runs_is_asked_before_how_it_could_be_hit():
    """In an attic the rules of 320.23 count instead; anywhere else it is guarded where it could be damaged."""
    found = only(RULE, built(place=None), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.place", "cable.run.exposed_to_damage"))


def test_a_new_run_is_a_line_of_the_checklist():
    found = only(RULE, built(origin="added"), "run")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)


@pytest.mark.parametrize(
    "given", [{"lamp": "existing"}, {"concealed": True}, {"run": "through framing"}, {"type": "MC"}, {"place": "attic"}]
)
def test_elsewhere_it_says_nothing(given):
    assert findings(RULE, built(**given)) == []


@pytest.mark.parametrize("run", ["on a surface", "across framing", "along framing", "fished"])
def test_open_cable_on_framing_or_fished_in_the_open_too(run):
    """334.15 speaks of all exposed work, however it is fastened."""
    assert only(RULE, built(run=run), "run").outcome is Outcome.UNDETERMINED
