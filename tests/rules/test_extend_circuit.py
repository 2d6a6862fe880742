"""Circuits that may not be extended for lighting, and what a 10 A circuit may feed."""

from dataclasses import replace

import pytest

from circuitcheck.circuit.keys.job import SUPPLY
from circuitcheck.circuit.model import Site
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.extend_circuit import RULE
from tests.rules.build import EDITIONS, book, box, cable, circuit, control, driver, findings, load, site, supply

NEW = load("new", "b", power_w=10, origin="added", replaces=False)


def judged(*parts, edition="nec-2023"):
    room = next((part.room for part in parts if isinstance(part, Site)), "hallway")
    return findings(RULE, circuit(box("b", room=room), *parts), edition)


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
        ("one bathroom", Outcome.FAIL),
        (None, Outcome.UNDETERMINED),
    ],
)
def test_by_what_it_serves(edition, serves, outcome):
    (found,) = judged(NEW, supply(serves=serves), edition=edition)
    assert found.outcome is outcome
    assert (found.needs == ("supply.serves",)) == (outcome is Outcome.UNDETERMINED)
    assert found.keys == ("supply.serves",)


class TestGarageAndBathroomCircuits:
    """210.11(C)(4) came with 2017; exception 2 of 2023: one vehicle bay. 210.11(C)(3) exception: one bathroom."""

    @pytest.mark.parametrize("edition", EDITIONS)
    @pytest.mark.parametrize(
        ("wired", "room", "outcome"),
        [
            (2008, "garage", Outcome.PASS),
            (2016, "garage", Outcome.PASS),
            (2008, "hallway", Outcome.CAUTION),
            (2017, "garage", Outcome.FAIL),
            (2021, "hallway", Outcome.FAIL),
        ],
    )
    def test_a_garage_circuit_by_its_year(self, edition, wired, room, outcome):
        place = site(wired=wired, room=room, garage_bays=2)
        (found,) = judged(NEW, supply(serves="garage"), place, edition=edition)
        assert found.outcome is outcome

    @pytest.mark.parametrize(
        ("edition", "room", "outcome"),
        [
            ("nec-2017", "garage", Outcome.FAIL),
            ("nec-2020", "garage", Outcome.FAIL),
            ("nec-2023", "garage", Outcome.PASS),
            ("nec-2023", "hallway", Outcome.FAIL),
        ],
    )
    def test_a_garage_of_one_bay(self, edition, room, outcome):
        place = site(wired=2024, room=room, garage_bays=1)
        (found,) = judged(NEW, supply(serves="garage"), place, edition=edition)
        assert found.outcome is outcome

    def test_what_is_open_is_asked(self):
        (bays,) = judged(NEW, supply(serves="garage"), site(wired=2024, room="garage"))
        assert (bays.outcome, bays.needs) == (Outcome.UNDETERMINED, ("site.garage_bays",))
        (year,) = judged(NEW, supply(serves="garage"), site(room="garage"), edition="nec-2020")
        assert (year.outcome, year.needs) == (Outcome.UNDETERMINED, ("site.wired",))

    @pytest.mark.parametrize("edition", EDITIONS)
    def test_one_bathroom_feeds_its_own_lights_only(self, edition):
        bathroom = box("bath", room="bathroom")
        new = load("new", "bath", power_w=10, origin="added", replaces=False)
        (found,) = judged(bathroom, new, supply(serves="one bathroom"), edition=edition)
        assert found.outcome is Outcome.PASS
        (found,) = judged(
            bathroom, new, load("more", "b", origin="added", replaces=False), supply(serves="one bathroom")
        )
        assert found.outcome is Outcome.FAIL  # the other one is in the hallway


class TestAddedReceptacles:
    """210.11(C) and 210.52(B)(1): kitchens and dining rooms on small-appliance circuits; others: the required ones."""

    @pytest.mark.parametrize("edition", EDITIONS)
    @pytest.mark.parametrize(
        ("room", "outcome"),
        [
            ("kitchen", Outcome.FAIL),
            ("dining room", Outcome.FAIL),
            ("bathroom", Outcome.CAUTION),
            ("laundry", Outcome.CAUTION),
            ("garage", Outcome.CAUTION),
        ],
    )
    def test_on_a_lighting_circuit(self, edition, room, outcome):
        _, found = judged(
            load("{r}", "b", kind="receptacle", origin="added", replaces=False), site(room=room), edition=edition
        )
        assert (found.subject, found.outcome) == ("{r}", outcome)
        assert found.ask

    def test_a_switched_one_for_a_lamp_is_a_question(self):
        switched = load("r", "b", kind="receptacle", origin="added", replaces=False, switched_by="s")
        _, found = judged(switched, control("s", "b", kind="switch"), site(room="kitchen"))
        assert found.outcome is Outcome.CAUTION

    def test_elsewhere_it_says_nothing(self):
        assert len(judged(load("r", "b", kind="receptacle", origin="added", replaces=False), site(room="bedroom"))) == 1
        assert (
            len(
                judged(
                    load("r", "b", kind="receptacle", origin="added", replaces=False),
                    site(room="kitchen", dwelling=False),
                )
            )
            == 1
        )
        assert len(judged(load("r", "b", kind="receptacle"), NEW, site(room="kitchen"))) == 1


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
    assert {row.text("lighting") for row in rows.values()} <= {"yes", "no", "ask", "by year"}


class TestTenAmperes:
    def test_lighting_and_fans_since_2023(self):
        # 210.23(A), text of 2023: lighting outlets, bath and laundry fans; no receptacles, no fixed appliances
        parts = (box("bath", room="bathroom"), driver("d", "b"), supply(breaker_a=10))
        exhaust = load("fan", "bath", kind="fan", fan="exhaust", power_w=20)
        use, rating = judged(NEW, exhaust, *parts)
        assert use.outcome is rating.outcome is Outcome.PASS
        _, rating = judged(NEW, replace(exhaust, fan="paddle"), *parts)
        assert rating.outcome is Outcome.FAIL
        _, rating = judged(NEW, replace(exhaust, fan=None), *parts)
        assert (rating.outcome, rating.needs) == (Outcome.UNDETERMINED, ("load.fan.fan",))

    def test_both_ends_of_a_rating(self):
        _, found = judged(NEW, load("r", "b", kind="receptacle"), supply(breaker_a=(10, 20)))
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.breaker",))

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
        assert rating.outcome is Outcome.FAIL  # 210.3 of 2017, 210.18 of 2020: 15, 20, 30, 40 or 50 A
        assert rating.ask

    @pytest.mark.parametrize(
        ("breaker", "edition"),
        [(16, "nec-2017"), (16, "nec-2023"), (12, "nec-2023"), (7, "nec-2023"), (18, "nec-2020")],
    )
    def test_a_rating_that_no_edition_has(self, breaker, edition):
        """210.3 of 2017, 210.18 since: 15, 20, 30, 40 or 50 A for several outlets, and 10 A from 2023 on."""
        _, rating = judged(NEW, supply(breaker_a=breaker), edition=edition)
        assert (rating.outcome, rating.keys, bool(rating.ask)) == (Outcome.FAIL, ("supply.breaker",), True)

    @pytest.mark.parametrize("edition", EDITIONS)
    @pytest.mark.parametrize("breaker", [15, 15.0000000001, 20])
    def test_a_usual_rating_says_nothing(self, breaker, edition):
        assert len(judged(NEW, supply(breaker_a=breaker), edition=edition)) == 1


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


def lit_at(volts, room, *, dwelling=True, units=1, **given):
    return circuit(
        supply(voltage_v=volts, poles=2, **given), site(room=room, dwelling=dwelling, dwelling_units=units),
        box("wall", origin="added", room=room), cable("run", "panel", "wall"),
        load("new", "wall", origin="added", power_w=60),
    )  # fmt: skip


def about_volts(built):
    return [found.outcome for found in findings(RULE, built) if "supply.voltage" in found.keys]


@pytest.mark.parametrize(
    ("volts", "room", "more", "outcomes"),
    [
        # NFPA 70, 210.6(A): in dwelling units at most 120 V between the conductors at luminaires
        (120, "living room", {}, []),
        (125, "living room", {}, []),  # an old word for the same voltage
        (240, "living room", {}, [Outcome.FAIL]),
        (240, "hallway", {}, [Outcome.FAIL]),
        (240, "hallway", {"units": 4}, [Outcome.UNDETERMINED]),  # a shared hall is no part of a dwelling unit
        (240, "outdoors", {}, [Outcome.UNDETERMINED]),
        (240, "garage", {}, [Outcome.UNDETERMINED]),
        (240, "office", {"dwelling": False}, [Outcome.UNDETERMINED]),
        # two entries that cannot both be true: neither is judged as if the other were not there
        (240, "living room", {"measured_voltage_v": 121}, [Outcome.UNDETERMINED]),
        (240, "living room", {"measured_voltage_v": 238}, [Outcome.FAIL]),
    ],
)
def test_the_volts_of_new_lights_in_a_dwelling_unit(volts, room, more, outcomes):
    assert about_volts(lit_at(volts, room, **more)) == outcomes


@pytest.mark.parametrize("kind", ["heater", "appliance", "receptacle", None])
def test_what_is_no_light_may_have_240_v_and_hides_none(kind):
    """210.6(A)(1) speaks of luminaires: a fixed heater of 240 V is usual. One of unknown kind may be a light.

    A heater that is surely none leaves a driver beside it to be asked about.
    """
    heater = replace(lit_at(240, "bedroom").loads[0], id="heater", kind=kind)
    alone = replace(lit_at(240, "bedroom"), loads=(heater,))
    assert about_volts(alone) == ([] if kind else [Outcome.UNDETERMINED])
    beside = replace(alone, loads=(heater, *lit_at(240, "bedroom").loads))
    (told,) = (found for found in findings(RULE, beside) if "supply.voltage" in found.keys)
    assert told.outcome is Outcome.FAIL
    assert '"new"' in told.says or kind is None
    fed = replace(alone, drivers=(driver("d", "wall", origin="added"),))
    assert about_volts(fed) == [Outcome.UNDETERMINED]


@pytest.mark.parametrize(
    ("volts", "room", "dwelling", "origin", "asked"),
    [
        (
            240,
            "bedroom",
            True,
            "added",
            "May a driver of this voltage be put there, or does it count as part of a light?",
        ),
        (
            208,
            "bedroom",
            True,
            "added",
            "May a driver of this voltage be put there, or does it count as part of a light?",
        ),
        (240, "outdoors", True, "added", "May lights of this voltage be put there?"),
        (240, "office", False, "added", "May lights of this voltage be put there?"),
        (120, "bedroom", True, "added", None),
        (240, "bedroom", True, "existing", None),
    ],
)
def test_whether_a_driver_counts_as_part_of_its_light_is_asked(volts, room, dwelling, origin, asked):
    """210.6(A) speaks of the terminals of luminaires. By Article 100 what connects a light source to its supply is part
    of a luminaire; by Article 411 the power supply of low-voltage lighting stands beside its luminaires.
    """
    fed = replace(lit_at(volts, room, dwelling=dwelling), loads=(), drivers=(driver("d", "wall", origin=origin),))
    told = [found for found in findings(RULE, fed) if "supply.voltage" in found.keys]
    assert [(found.outcome, found.ask) for found in told] == ([(Outcome.UNDETERMINED, (asked,))] if asked else [])


def test_a_light_that_may_not_be_there_is_told_before_a_driver():
    lit = lit_at(240, "bedroom")
    (told,) = (
        found
        for found in findings(RULE, replace(lit, drivers=(driver("d", "wall", origin="added"),)))
        if "supply.voltage" in found.keys
    )
    assert (told.outcome, told.ask) == (Outcome.FAIL, ())
    assert told.says.startswith('"new"')


def test_of_cable_alone_the_room_of_the_job_counts():
    """210.11(C)(3) exception: one bathroom; nothing hangs on the new cable yet."""
    run = cable("c", "panel", "b")
    (inside,) = judged(run, supply(serves="one bathroom"), site(room="bathroom"))
    (outside,) = judged(run, supply(serves="one bathroom"), site(room="hallway"))
    assert (inside.outcome, outside.outcome) == (Outcome.PASS, Outcome.FAIL)


@pytest.mark.parametrize(
    ("wired", "room", "asks", "words"),
    [
        (2008, "garage", False, "its wiring is older than 2017, when such circuits were first required."),
        (2008, "hallway", True, "but outlets outside of the garage may not be allowed on it."),
        (2021, "hallway", True, "the circuit for the garage receptacles may feed nothing else."),
    ],
)
def test_why_a_garage_circuit_may_or_may_not_be_extended(wired, room, asks, words):
    (found,) = judged(NEW, supply(serves="garage"), site(wired=wired, room=room, garage_bays=2))
    assert found.says.endswith(words)
    assert found.ask == (("Is this the circuit required for the garage receptacles?",) if asks else ())


def test_what_a_10_a_circuit_may_not_feed_is_led_to_and_fans_are_asked_about():
    """210.23(A) of 2023: lights, and exhaust fans of bathrooms and laundries. Of a fan its kind of fan decides."""
    paddle = load("paddle", "b", kind="fan", fan="paddle", power_w=60)
    heater = load("heater", "b", kind="heater", power_w=60)
    _, both = judged(NEW, paddle, heater, supply(breaker_a=10))
    assert both.keys == ("supply.breaker", "load.paddle.fan", "load.heater.kind")
    assert both.ask == ("Is every fan on this circuit an exhaust fan of a bathroom or a laundry room?",)
    _, one = judged(NEW, heater, supply(breaker_a=10))
    assert (one.keys, one.ask) == (("supply.breaker", "load.heater.kind"), ())
    assert '"heater"' in one.says


@pytest.mark.parametrize(
    ("room", "units", "outcome"),
    [
        ("hallway", 1, Outcome.FAIL),
        ("hallway", 2, Outcome.UNDETERMINED),  # a hallway that two dwellings share is in none of them
        ("bedroom", 2, Outcome.FAIL),
        ("outdoors", 1, Outcome.UNDETERMINED),
    ],
)
def test_which_lights_of_240_v_are_asked_about(room, units, outcome):
    """210.6(A): in dwelling units."""
    (found,) = (each for each in findings(RULE, lit_at(240, room, units=units)) if "supply.voltage" in each.keys)
    assert found.outcome is outcome
    assert found.ask == (("May lights of this voltage be put there?",) if outcome is Outcome.UNDETERMINED else ())


@pytest.mark.parametrize(
    ("room", "lead"),
    [("kitchen", '"r" may not be on this circuit: '), ("bathroom", '"r" may not belong on this circuit: ')],
)
def test_how_sure_it_is_of_a_receptacle_is_said(room, lead):
    """210.52(B)(1): kitchens on small-appliance circuits alone; in a bathroom only those that it must have."""
    _, found = judged(load("r", "b", kind="receptacle", origin="added", replaces=False), site(room=room))
    assert found.says.startswith(lead)
