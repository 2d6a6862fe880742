"""Who may do it and the permit: questions for the permit office, never decided."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.evidence.who_may import RULE
from tests.rules.build import box, circuit, findings, load, only, site

ADDED = (box("new", origin="added"), load("lamp", "new", origin="added"))


def test_an_electrician_with_a_permit_settles_it():
    built = circuit(site(work_by="licensed electrician", permit="granted"), *ADDED)
    assert only(RULE, built, "circuit").outcome is Outcome.PASS


def test_everything_else_is_a_question():
    found = only(RULE, circuit(*ADDED), "circuit")
    assert found.outcome is Outcome.CAUTION
    assert len(found.ask) == 4


def test_an_owner_in_a_single_house_still_asks_about_the_permit():
    built = circuit(site(work_by="owner", owner_occupied=True, dwelling_units=1), *ADDED)
    found = only(RULE, built, "circuit")
    assert found.outcome is Outcome.CAUTION
    assert len(found.ask) == 2


def test_it_never_fails_and_says_nothing_without_added_work():
    rented = circuit(site(work_by="tenant", owner_occupied=False, dwelling_units=12), *ADDED)
    assert only(RULE, rented, "circuit").outcome is Outcome.CAUTION
    assert findings(RULE, circuit(box("old"))) == []


def test_a_tenant_is_asked_about_by_name():
    built = circuit(site(work_by="tenant", owner_occupied=False, dwelling_units=1), *ADDED)
    assert any("tenant" in question for question in only(RULE, built, "circuit").ask)


def test_what_the_permit_office_granted_to_an_owner_at_home_is_settled():
    built = circuit(site(work_by="owner", owner_occupied=True, dwelling_units=1, permit="granted"), *ADDED)
    assert only(RULE, built, "circuit").outcome is Outcome.PASS
    rented = circuit(site(work_by="owner", owner_occupied=False, dwelling_units=1, permit="granted"), *ADDED)
    assert only(RULE, rented, "circuit").outcome is Outcome.CAUTION


def test_an_owners_permit_ends_at_the_owners_own_one_family_home():
    """Homeowner permits of Fargo, Duluth and Arden Hills: owner, occupant, one-family."""
    for given in ({"owner_occupied": False, "dwelling_units": 1}, {"owner_occupied": True, "dwelling_units": 2}):
        found = only(RULE, circuit(site(work_by="owner", permit="granted", **given), *ADDED), "circuit")
        assert found.outcome is Outcome.CAUTION
        assert "own one-family home" in found.says


@pytest.mark.parametrize("guessed", ["permit", "work_by"])
def test_a_guess_settles_nothing(guessed):
    built = circuit(site(work_by="licensed electrician", permit="granted", known_by={guessed: How.GUESS}), *ADDED)
    assert only(RULE, built, "circuit").outcome is Outcome.CAUTION


@pytest.mark.parametrize(
    ("given", "outcome", "questions"),
    [
        ({"owner_occupied": True, "dwelling_units": 1}, Outcome.PASS, 1),
        ({"owner_occupied": True, "dwelling_units": 2}, Outcome.CAUTION, 3),
        ({"owner_occupied": False, "dwelling_units": 1}, Outcome.CAUTION, 3),
        ({"owner_occupied": None, "dwelling_units": 1}, Outcome.CAUTION, 3),
        ({"owner_occupied": True, "dwelling_units": None}, Outcome.CAUTION, 3),
    ],
)
def test_an_owner_may_in_the_own_house_with_one_dwelling(given, outcome, questions):
    built = circuit(site(work_by="owner", permit="granted", **given), *ADDED)
    found = only(RULE, built, "circuit")
    assert (found.outcome, len(found.ask)) == (outcome, questions)


def test_the_working_says_what_the_file_says_and_what_it_does_not():
    known = only(RULE, circuit(site(work_by="owner", owner_occupied=False, dwelling_units=2), *ADDED), "circuit")
    assert known.working == (
        "owner lives there: no", "dwellings in the building: 2", "work by: owner", "permit: unknown",
    )  # fmt: skip
    assert "own one-family home" in known.says
    bare = only(RULE, circuit(site(owner_occupied=True, permit="asked"), *ADDED), "circuit")
    assert bare.working == (
        "owner lives there: yes", "dwellings in the building: unknown", "work by: unknown", "permit: asked",
    )  # fmt: skip
    assert "does not settle it" in bare.says
    assert only(RULE, circuit(*ADDED), "circuit").working[0] == "owner lives there: unknown"


def test_what_is_only_guessed_settles_nothing():
    guessed = site(work_by="licensed electrician", permit="granted", known_by={"permit": How.GUESS})
    assert only(RULE, circuit(guessed, *ADDED), "circuit").outcome is Outcome.CAUTION
    other = site(
        work_by="licensed electrician", permit="granted", dwelling_units=2, known_by={"dwelling_units": How.GUESS}
    )
    assert only(RULE, circuit(other, *ADDED), "circuit").outcome is Outcome.PASS


@pytest.mark.parametrize(
    ("given", "says", "to_do"),
    [
        (
            {"work_by": "licensed electrician", "permit": "granted"},
            "A licensed electrician does the work, and the permit is granted, as the file says.",
            "Leave the new work open until the inspector has seen it.",
        ),
        (
            {"work_by": "owner", "permit": "not needed", "owner_occupied": True, "dwelling_units": 1},
            "The owner, who lives there, does the work, and the permit is not needed, as the file says.",
            "Leave the new work open until the inspector has seen it.",
        ),
        (
            {"work_by": "owner", "owner_occupied": False, "dwelling_units": 1},
            "An owner's permit usually covers only the owner's own one-family home: ask the permit office.",
            "Ask the permit office before buying or opening anything.",
        ),
        (
            {"work_by": "tenant", "owner_occupied": False, "dwelling_units": 4},
            "A tenant may usually not do this work: ask the permit office first.",
            "Ask the permit office before buying or opening anything.",
        ),
        (
            {"work_by": "owner", "owner_occupied": True},
            "Ask the permit office who may do this work and whether it needs a permit; the file does not settle it.",
            "Ask the permit office before buying or opening anything.",
        ),
        (
            {"work_by": "licensed electrician", "owner_occupied": False, "dwelling_units": 4},
            "Ask the permit office who may do this work and whether it needs a permit; the file does not settle it.",
            "Ask the permit office before buying or opening anything.",
        ),
    ],
)
def test_what_is_said_and_to_do(given, says, to_do):
    found = only(RULE, circuit(site(**given), *ADDED), "circuit")
    assert (found.says, found.to_do) == (says, (to_do,))
