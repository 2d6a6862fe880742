"""Six inches of free conductor, three past a small opening (300.14); splicing it on is said from 2023 on."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.free_conductor import RULE
from tests.rules.build import EDITIONS, INCH, box, cable, circuit, findings, only


def built(**given):
    return circuit(box("new", origin="added"), cable("run", "panel", "new", **given))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("inches", "outcome"), [(6, Outcome.PASS), (5.9, Outcome.FAIL)])
def test_six_inches(edition, inches, outcome):
    assert only(RULE, built(free_length_m=inches * INCH), "run", edition).outcome is outcome


def test_a_range_across_the_limit_cannot_tell():
    assert only(RULE, built(free_length_m=(5 * INCH, 7 * INCH)), "run").outcome is Outcome.UNDETERMINED


def test_nothing_said_is_a_reminder():
    found = only(RULE, built(), "run")
    assert (found.outcome, found.to_come) == (Outcome.CAUTION, True)


def test_editions_differ_on_splices():
    working = {edition: only(RULE, built(), "run", edition).working for edition in EDITIONS}
    assert working["nec-2017"] == working["nec-2020"] != working["nec-2023"]
    assert "question for the inspector" in working["nec-2020"][0]
    # Mike Holt forum, thread 2585745: "permitted to be spliced or unspliced" is new in 2023.
    assert "spliced or unspliced" in working["nec-2023"][0]


def test_existing_cable_says_nothing():
    assert findings(RULE, built(origin="existing")) == []


def test_of_a_length_that_may_be_less_than_any_no_low_end_is_told():
    found = only(RULE, built(), "run")
    assert found.low is None
    assert found.high is not None


def test_whether_a_short_one_may_be_lengthened_is_asked_only_where_it_is_short():
    """300.14 as read before 2023 says nothing of splices."""
    assert only(RULE, built(free_length_m=5 * INCH), "run").ask == (
        "May a free conductor that is too short be lengthened by a splice here?",
    )
    assert only(RULE, built(free_length_m=6 * INCH), "run").ask == ()
