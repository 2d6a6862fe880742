"""Circuits that may not be extended for lighting, and what a 10 A circuit may feed."""

import pytest

from circuitcheck.circuit.keys.job import SUPPLY
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.extend_circuit import RULE
from tests.rules.build import EDITIONS, book, box, cable, circuit, driver, findings, load, site, supply

NEW = load("new", "b", power_w=10, origin="added")


def judged(*parts, edition="nec-2023"):
    return findings(RULE, circuit(box("b"), *parts), edition)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("serves", "outcome"),
    [
        # electricalcode.net, 210.23 and its exception: small-appliance, laundry and bathroom circuits feed only theirs
        ("general lighting", Outcome.PASS),
        ("small appliance", Outcome.FAIL),
        ("bathroom", Outcome.FAIL),
        ("laundry", Outcome.FAIL),
        ("individual", Outcome.FAIL),
        ("garage", Outcome.UNDETERMINED),
        (None, Outcome.UNDETERMINED),
    ],
)
def test_by_what_it_serves(edition, serves, outcome):
    (found,) = judged(NEW, supply(serves=serves), edition=edition)
    assert found.outcome is outcome
    assert (found.needs == ("supply.serves",)) == (outcome is Outcome.UNDETERMINED)
    assert found.keys == ("supply.serves",)


def test_the_reason_is_said():
    (found,) = judged(NEW, supply(serves="laundry"))
    assert "laundry" in found.says


def test_bathroom_light_on_a_bathroom_circuit_is_a_question():
    (found,) = judged(NEW, supply(serves="bathroom"), site(room="bathroom"))
    assert found.outcome is Outcome.UNDETERMINED
    assert found.ask
    (elsewhere,) = judged(NEW, supply(serves="laundry"), site(room="laundry"))
    assert elsewhere.outcome is Outcome.FAIL


def test_nothing_added_says_nothing():
    assert judged(load("old", "b", power_w=10), supply(serves="laundry")) == []
    assert judged(cable("c", "panel", "b", origin="existing"), supply(serves=None)) == []


@pytest.mark.parametrize("part", [cable("c", "panel", "b"), driver("d", "b"), box("new box", origin="added")])
def test_anything_added_counts(part):
    (found,) = judged(part, supply(serves="laundry"))
    assert found.outcome is Outcome.FAIL


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_word_that_the_file_may_use_has_a_row(edition):
    rows = {row.key[0]: row for row in book(edition).table("circuit-uses").rows}
    assert tuple(rows) == SUPPLY.keys["serves"].words
    assert {row.text("lighting") for row in rows.values()} <= {"yes", "no", "ask"}


class TestTenAmperes:
    def test_lighting_and_fans_since_2023(self):
        # 210.23(A), text of 2023: lighting outlets, bath and laundry fans; no receptacles, no fixed appliances
        use, rating = judged(NEW, load("fan", "b", kind="fan", power_w=20), driver("d", "b"), supply(breaker_a=10))
        assert use.outcome is rating.outcome is Outcome.PASS

    def test_a_fan_of_another_room_does_not_belong_on_it(self):
        parts = (box("den", room="den"), load("paddles", "den", kind="fan", power_w=60), supply(breaker_a=10))
        _, rating = judged(NEW, *parts)
        assert rating.outcome is Outcome.FAIL
        assert "paddles" in rating.says
        assert rating.ask

    @pytest.mark.parametrize("kind", ["receptacle", "heater", "alarm", "other"])
    def test_nothing_else(self, kind):
        _, rating = judged(NEW, load("thing", "b", kind=kind, power_w=20), supply(breaker_a=10))
        assert rating.outcome is Outcome.FAIL
        assert "thing" in rating.says

    def test_unknown_kind(self):
        _, rating = judged(NEW, load("thing", "b", kind=None, power_w=20), supply(breaker_a=10))
        assert rating.outcome is Outcome.UNDETERMINED
        assert rating.needs == ("load.thing.kind",)

    @pytest.mark.parametrize("edition", ["nec-2017", "nec-2020"])
    def test_earlier_editions_know_no_such_circuit(self, edition):
        _, rating = judged(NEW, supply(breaker_a=10), edition=edition)
        assert rating.outcome is Outcome.CAUTION
        assert rating.ask


class TestOverTwentyAmperes:
    """210.23(B) and (C) of 2017 and 2020, (C) and (D) of 2023: over 20 A only outside of dwellings."""

    @pytest.mark.parametrize("edition", EDITIONS)
    @pytest.mark.parametrize(
        ("breaker", "dwelling", "outcome"),
        [
            (30, True, Outcome.FAIL),
            (30, False, Outcome.CAUTION),
            (30, None, Outcome.UNDETERMINED),
            ((20, 30), True, Outcome.UNDETERMINED),
        ],
    )
    def test_lights_on_a_large_circuit(self, edition, breaker, dwelling, outcome):
        *_, found = judged(NEW, supply(breaker_a=breaker), site(dwelling=dwelling), edition=edition)
        assert found.outcome is outcome

    def test_twenty_amperes_say_nothing(self):
        assert len(judged(NEW, supply(breaker_a=20))) == 1
