"""Metal boxes bonded to the equipment ground (314.4, 250.148(C))."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.box_bonding import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only


def built(**given):
    return circuit(
        box("attic", **given), box("new", origin="added", material="nonmetallic"), cable("run", "attic", "new")
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_bonded_metal_box_passes(edition):
    assert only(RULE, built(material="metal", bonded=True), "attic", edition).outcome is Outcome.PASS


def test_an_unbonded_metal_box_fails():
    assert only(RULE, built(material="metal", bonded=False), "attic").outcome is Outcome.FAIL


def test_an_unknown_existing_box_asks_for_both():
    found = only(RULE, built(), "attic")
    assert found.outcome is Outcome.UNDETERMINED
    assert set(found.needs) == {"box.attic.material", "box.attic.bonded"}


def test_an_added_metal_box_is_a_reminder():
    found = only(RULE, circuit(box("new", origin="added", material="metal")), "new")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)


def test_a_box_into_which_a_light_goes_is_touched():
    parts = (box("old", material="metal", bonded=False), load("new light", "old", origin="added"))
    assert only(RULE, circuit(*parts), "old").outcome is Outcome.FAIL


def test_plastic_boxes_and_untouched_boxes_say_nothing():
    assert findings(RULE, built(material="nonmetallic")) == []
    assert findings(RULE, circuit(box("old", material="metal", bonded=False))) == []


@pytest.mark.parametrize(("bonded", "word"), [(True, "yes"), (False, "no")])
def test_the_working_says_what_the_file_says(bonded, word):
    lines = only(RULE, built(material="metal", bonded=bonded), "attic").working
    assert list(lines) == ["material: metal", f"joined to the equipment ground: {word}"]
