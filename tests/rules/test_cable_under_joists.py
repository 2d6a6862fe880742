"""Small sheathed cable across the underside of joists (334.15(C)); armored cable by 320.15."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cable_under_joists import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, only


def built(room="basement", **given):
    plain = {"run": "across framing", "concealed": False}
    return circuit(box("new", origin="added", room=room), cable("run", "panel", "new", **(plain | given)))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("size", "conductors", "outcome"),
    [
        ("14 AWG", 2, Outcome.FAIL),
        ("10 AWG", 3, Outcome.FAIL),
        ("8 AWG", 2, Outcome.FAIL),  # smaller than two 6 AWG
        ("8 AWG", 3, Outcome.PASS),
        ("6 AWG", 2, Outcome.PASS),
        ("0.5 mm^2", 2, Outcome.FAIL),  # 0.5 mm^2 has less metal than 8 AWG (8.37 mm^2)
        ("4 mm^2", 2, Outcome.FAIL),
    ],
)
def test_sizes(edition, size, conductors, outcome):
    assert only(RULE, built(size=size, conductors=conductors), "run", edition).outcome is outcome


def test_a_crawl_space_counts_too():
    assert only(RULE, built(room="hallway", place="crawl space"), "run").outcome is Outcome.FAIL


def test_armored_cable_may():
    assert only(RULE, built(type="AC"), "run").outcome is Outcome.PASS


@pytest.mark.parametrize(
    "given",
    [{"run": "through framing"}, {"concealed": True}, {"origin": "existing"}, {"room": "den"}, {"place": "attic"}],
)
def test_elsewhere_it_says_nothing(given):
    assert findings(RULE, built(**given)) == []


def test_whether_the_ceiling_is_open_is_asked():
    found = only(RULE, built(concealed=None), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.run.concealed",))
