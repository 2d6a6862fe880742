"""Ampacity against published worked examples, each with its address, then the directions that must hold."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.case.making import case_of
from circuitcheck.circuit.model import Device
from circuitcheck.domain.conditions_of_use import ampacity_in, conditions_of
from circuitcheck.domain.conductor_ampacity import Conditions, corrected_ampacity
from circuitcheck.domain.overcurrent import greatest_breaker
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.ampacity import RULE
from tests.rules.build import (
    EDITIONS,
    between,
    book,
    box,
    cable,
    circuit,
    control,
    driver,
    exact,
    findings,
    guess,
    load,
    only,
    site,
    supply,
)

FIXED = {"cable_limit_c": None, "terminals_c": 90}


def degrees_c(fahrenheit):
    return (fahrenheit - 32) * 5 / 9


def run(*loads, edition="nec-2023", parts=(), **given):
    """The finding about one cable from the panel to a box with these loads."""
    built = circuit(box("b"), cable("c", "panel", "b", **given), *(loads or (load("lamp", "b", power_w=60),)), *parts)
    return only(RULE, built, "c", edition)


def test_a_load_of_unknown_power_behind_too_much_already():
    # 14 AWG copper at 60 degC (140 degF) may carry 15 A (Table 310.16); 18 A are too much without the lamp.
    found = run(load("heater", "b", current_a=18), load("lamp", "b", power_w=None))
    assert (found.outcome, found.value, found.high) == (Outcome.FAIL, 18, None)
    assert found.says == 'Cable "c" would carry at least 18 A, more than the 15 A it may carry in these conditions.'


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("size", "count", "fahrenheit", "amperes"),
    [
        # diychatroom.com, f18, thread 10123 on temperature ratings: four 12/2 together .7 x 30 = 21, five 15
        ("12 AWG", 8, 86, 21),
        ("12 AWG", 10, 86, 15),
        # ecmweb.com/print/qampa/code-qa-84: nine 12 AWG THHN, 30 x 0.70 = 21
        ("12 AWG", 9, 86, 21),
        # forums.mikeholt.com/threads/derating-adjusment.111900: four 12 AWG THHN, 30 x .8 = 24
        ("12 AWG", 4, 86, 24),
        # forums.mikeholt.com/threads/deration-of-conductors.54044: attic at 135 degF and 14 conductors, 0.71 and 50 %
        ("12 AWG", 14, 135, 30 * 0.71 * 0.50),
        # stallcupeducation.learnworlds.com/blog/applying-correction-factors-article: 10 AWG THHN at 120 degF, 32.8
        ("10 AWG", 3, 120, 32.8),
        # ecmweb.com/nec/code-quiz-57: at 50 degC 14 AWG 20.50 and 12 AWG 24.60
        ("14 AWG", 2, 122, 20.5),
        ("12 AWG", 2, 122, 24.6),
        # forums.mikeholt.com/threads/wire-size.2561303/page-2: 14 AWG NM in 130 degF air still has 19
        ("14 AWG", 2, 130, 19),
        # engineerboards.com/threads/nec-table-310-15-b-2-a-and-b.27269: 12 AWG THHN at 55 degC, 0.76 of 30
        ("12 AWG", 3, 131, 22.8),
    ],
)
def test_published_examples(edition, size, count, fahrenheit, amperes):
    corrected = corrected_ampacity(
        book(edition),
        size,
        "copper",
        Conditions(insulation_c=90, ambient_c=degrees_c(fahrenheit), conductors=count, **FIXED),
    )
    assert corrected.amperes == pytest.approx(amperes)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("insulation", [60, 75, 90])
@pytest.mark.parametrize("top", range(10, 90, 5))
def test_factor_is_that_of_the_top_of_its_band(edition, insulation, top):
    """The equation of 310.15(B), sqrt((Tc - Ta') / (Tc - Ta)), at the top of each band, to the last printed digit."""
    corrected = corrected_ampacity(
        book(edition),
        "10 AWG",
        "copper",
        Conditions(insulation_c=insulation, ambient_c=top - 0.1, conductors=1, **FIXED),
    )
    ratio = (insulation - top) / (insulation - 30)
    if ratio <= 0:
        assert corrected.ambient_factor is None
        assert corrected.amperes == 0
    else:
        assert corrected.ambient_factor == pytest.approx(math.sqrt(ratio), abs=0.0055)


class TestHeld:
    """Correction starts at the insulation; the result is held to the cable type and the terminals."""

    def test_sheathed_cable_ends_at_the_60_degree_column(self):
        # bresslerinsulation.com/2019/03/11/ampacity: NM-B starts at 90 degC and ends no higher than the 60 degC column
        assert run().limit == pytest.approx(15)
        assert run(size="12 AWG").limit == pytest.approx(20)

    def test_raceway_goes_by_the_terminals(self):
        # tests.com practice, question 60: terminals of small circuits count as 60 degC unless marked otherwise
        assert run(type="THHN in raceway", size="12 AWG").limit == pytest.approx(20)
        warmer = run(type="THHN in raceway", size="12 AWG", parts=(supply(terminals_c=75),))
        assert warmer.limit == pytest.approx(25)  # 310.16, 12 AWG copper at 75 degC

    def test_sheathed_cable_gains_nothing_from_warmer_terminals(self):
        assert run(size="12 AWG", parts=(supply(terminals_c=75),)).limit == pytest.approx(20)

    def test_aluminum_columns(self):
        # 2018 IRC Table E3705.1: 12 AWG aluminum 15, 20, 25 A; copper-clad goes by the same columns
        for material in ("aluminum", "copper-clad aluminum"):
            assert run(size="12 AWG", material=material).limit == pytest.approx(15)

    def test_insulation_that_the_file_gives_overrides_the_type(self):
        # Old NM in a house: 14 AWG with 60 degC insulation at 50 degC, 15 x 0.58 = 8.7 A
        old = run(type="NM-B", insulation_temperature_c=60, ambient_c=50)
        assert old.limit == pytest.approx(8.7)
        assert run(type="NM", insulation_temperature_c=90, ambient_c=50).limit == pytest.approx(15)

    def test_insulation_between_columns_takes_the_cooler_one(self):
        assert run(insulation_temperature_c=85, ambient_c=50).limit == pytest.approx(15.0)  # 20 x 0.75

    def test_insulation_cooler_than_every_column_has_no_ampacity(self):
        assert run(insulation_temperature_c=50).outcome is Outcome.FAIL


class TestHotAttic:
    def test_old_cable_is_not_allowed_at_135_fahrenheit(self):
        # studylib.net/doc/18183859/nm-cable-derating: NM with 60 degC insulation in a 135 degF attic is not allowed
        found = run(type="NM", ambient_c=degrees_c(135))
        assert found.outcome is Outcome.FAIL
        assert found.limit == 0
        assert "nothing" in found.says

    def test_place_gives_the_air_by_common_practice(self):
        found = run(place="attic")
        assert found.outcome is Outcome.PASS
        assert found.assumed_keys == ("supply.terminals", "cable.c.ambient")
        assert any(source.status == "common practice" for source in found.sources)

    def test_air_that_nobody_measured_fails_nothing(self):
        # At 60 degC, common practice for an attic, 60 degC insulation carries nothing; the attic may be cooler.
        found = run(place="attic", type="NM")
        assert found.outcome is Outcome.UNDETERMINED
        assert found.limit == 0
        assert found.needs == ("cable.c.ambient",)
        assert run(place="attic", type="NM", ambient_c=60).outcome is Outcome.FAIL
        assert run(place="inside", type="NM").outcome is Outcome.PASS

    def test_nobody_said_where(self):
        found = run(place=None, type="NM")
        assert found.outcome is Outcome.UNDETERMINED
        assert "cable.c.place" in found.needs
        assert any("attic" in sentence for sentence in found.assumed)

    def test_a_range_of_air(self):
        found = run(type="NM", ambient_c=(40, 58))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("cable.c.ambient",)


class TestBundles:
    def test_each_other_cable_counts_two(self):
        # studylib.net/doc/18183859/nm-cable-derating: two 2-conductor cables contain 4 current-carrying conductors
        assert run(size="12 AWG", bundled_with=1, type="THHN in raceway", parts=(supply(terminals_c=90),)).limit == (
            pytest.approx(24)
        )
        assert run(size="12 AWG", bundled_with=4, ambient_c=30).limit == pytest.approx(15)

    def test_the_length_that_makes_a_bundle_is_said(self):
        # 310.15(C)(1), California Electrical Code 2022: more than 24 in without space
        assert "24 in" in " ".join(run(bundled_with=1).working)
        assert "alongside" not in " ".join(run().working)

    def test_count_that_the_file_gives_overrides(self):
        assert run(size="12 AWG", bundled_with=4, current_carrying=3).limit == pytest.approx(20)

    def test_sealed_hole_counts_from_the_third_cable(self):
        # mikeholt.com/dailycodetipcalendar.php (2017): more than two in one sealed opening are adjusted
        assert run(sealed_hole_with=1).limit == pytest.approx(15)
        # three cables, six conductors: 25 x 0.80 = 20, held to 15; in 50 degC air 25 x 0.82 x 0.80 = 16.4, held to 15
        assert run(sealed_hole_with=2, size="10 AWG", ambient_c=50, current_carrying=6).limit == pytest.approx(
            40 * 0.82 * 0.80
        )

    def test_unknown_number_of_conductors_matters_only_in_a_bundle(self):
        assert (run(conductors=None).outcome, run(conductors=None).limit) == (run().outcome, run().limit)
        # its own two or three and two or three in each of two others: 6 to 9, so 0.80 to 0.70 of 30 A
        found = run(conductors=None, bundled_with=2, size="12 AWG", parts=(supply(breaker_a=20),))
        assert "cable.c.current_carrying" in found.assumed_keys

    def test_what_the_cables_alongside_carry_is_asked_where_it_decides(self):
        # 8 to 11 conductors: 25 x 0.71 x 0.70 = 12.4 A, next rating 15 A; from ten on 25 x 0.71 x 0.50 = 8.9 A, 10 A
        found = run(bundled_with=3, ambient_c=60)
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.c.current_carrying",))
        assert found.limit == pytest.approx(25 * 0.71 * 0.5)
        assert run(bundled_with=3, ambient_c=60, current_carrying=8).outcome is Outcome.PASS

    def test_only_one_of_a_pair_of_travelers_carries(self):
        # 310.15(C)(1): not those that cannot be energized at the same time; a spare conductor counts
        wires = {"conductors": 3, "bundled_with": 0, "ambient_c": 30, "size": "12 AWG"}
        assert "2 current-carrying" in " ".join(run(carries="travelers", **wires).working)
        assert "3 current-carrying" in " ".join(run(carries="feed and switched", **wires).working)


class TestBreaker:
    def test_next_standard_size_for_lights(self):
        # forums.mikeholt.com/goto/post?id=1261232: 12 AWG at 60 % (18 A) keeps its 20 A breaker, not with several
        # receptacles. Here 12 AWG in a bundle in 42 degC air: 30 x 0.87 x 0.70 = 18.27
        warm = {
            "size": "12 AWG",
            "ambient_c": 42,
            "bundled_with": 3,
            "current_carrying": 8,
            "parts": (supply(breaker_a=20),),
        }
        assert run(**warm).limit == pytest.approx(18.27)
        assert run(**warm).outcome is Outcome.PASS
        # ecmweb.com, Receptacles in dwellings: one duplex receptacle makes a circuit one with several receptacles.
        for quantity in (1, 2):
            outlet = load("outlet", "b", kind="receptacle", quantity=quantity, power_w=100, connection="cord")
            found = run(outlet, **warm)
            assert found.outcome is Outcome.FAIL
            assert "20 A" in found.says

    def test_a_receptacle_that_no_load_names_forbids_rounding_up_too(self):
        there = box("c", devices=(Device(kind="receptacle", size="14 AWG"),))
        warm = {"size": "12 AWG", "ambient_c": 42, "bundled_with": 3, "current_carrying": 8}
        assert run(**warm, parts=(supply(breaker_a=20), there)).outcome is Outcome.FAIL

    def test_a_load_of_unknown_kind_may_be_a_receptacle(self):
        warm = {
            "size": "12 AWG",
            "ambient_c": 42,
            "bundled_with": 3,
            "current_carrying": 8,
            "parts": (supply(breaker_a=20),),
        }
        for told in ({"kind": None}, {"kind": "light", "known_by": {"kind": "guess"}}):
            found = run(load("thing", "b", quantity=2, power_w=100, **told), **warm)
            assert found.outcome is Outcome.UNDETERMINED
            assert found.needs == ("load.thing.kind",)

    @pytest.mark.parametrize("edition", EDITIONS)
    def test_rounding_up_skips_no_fuse(self, edition):
        # 240.6(A), text of NFPA 70-2017: 1, 3, 6, 10 and 601 A are further ratings of fuses
        for amperes, rating in ((0.9, 1), (2.5, 3), (5, 6), (8.7, 10)):
            assert greatest_breaker(book(edition), amperes, may_round_up=True)[0] == rating

    def test_rounding_up_skips_no_standard_rating(self):
        # 240.6(A), text of NFPA 70-2017: 8.7 A rounds up to a 10 A fuse, not to 15 A
        assert greatest_breaker(book(), 8.7, may_round_up=True)[0] == 10
        assert greatest_breaker(book(), 12.4, may_round_up=True)[0] == 15
        assert greatest_breaker(book(), 15, may_round_up=True)[0] == 15
        assert greatest_breaker(book(), 12.4, may_round_up=False)[0] == 12.4
        assert greatest_breaker(book(), 0, may_round_up=True)[0] == 0


class TestReading:
    """14 A were read; 5 A hang on the new cable, and what the list leaves of the reading may flow through it too."""

    @staticmethod
    def judged(elsewhere):
        built = circuit(
            box("a"), box("b"), box("c"), cable("feed", "panel", "a", origin="existing", size="10 AWG"),
            cable("new", "a", "b"), cable("old", "a", "c", origin="existing", size="12 AWG"),
            load("lights", "b", current_a=5, origin="added"), elsewhere, supply(measured_current_a=14),
        )  # fmt: skip
        return only(RULE, built, "new")

    @pytest.mark.parametrize(
        ("make", "known", "key", "most", "least"),
        [
            (load, {}, "current_a", 10, 1),
            (load, {}, "power_w", 1200, 120),
            (load, {}, "apparent_va", 1200, 120),
            (load, {"power_w": 60}, "fitted_w", 1200, 120),
            (load, {"power_w": 240}, "power_factor", 0.25, 1.0),
            (driver, {"output_power_w": None}, "input_current_a", 10, 1),
            (driver, {"output_power_w": None, "input_current_a": None}, "input_power_w", 1200, 120),
            (driver, {"efficiency": 1, "input_current_a": None}, "output_power_w", 1200, 120),
            (driver, {"output_power_w": 240, "input_current_a": None}, "efficiency", 0.25, 1.0),
            (driver, {"output_power_w": 240, "efficiency": 1, "input_current_a": None}, "power_factor", 0.25, 1.0),
        ],
    )
    def test_the_less_the_others_draw_the_more_may_flow_here(self, make, known, key, most, least):
        def judged(value):
            given = {"origin": "existing", "power_factor": 1.0, **known, key: value}
            return self.judged(make("other", "c", **given))

        # 14 - 8 + 5 A is within the 15 A of 14 AWG, 14 - 2 + 5 A is not
        assert judged(most).outcome is Outcome.PASS
        assert judged(least).outcome is Outcome.UNDETERMINED
        either = judged((min(least, most), max(least, most)))
        assert (either.outcome, either.value) == (Outcome.UNDETERMINED, pytest.approx(5))
        assert [need.rpartition(".")[2] for need in either.needs] == [re.sub("_(a|w|va)$", "", key)]


class TestLoad:
    def test_load_over_what_it_carries(self):
        found = run(load("heater", "b", kind="heater", power_w=1900), parts=(supply(breaker_a=15),))
        assert found.value == pytest.approx(1900 / 120)
        assert found.outcome is Outcome.FAIL

    def test_continuous_load_counts_a_quarter_more(self):
        # ecmweb.com/nec/code-quiz-57: 12 A x 1.25 = 15 A, so that 12 A may stay on behind 14 AWG at 60 degC
        found = run(load("lights", "b", current_a=12, continuous=True))
        assert (found.value, found.limit) == (pytest.approx(12), pytest.approx(12))
        assert found.outcome is Outcome.PASS
        assert "15 A with continuous loads counted 1.25 times" in found.says

    def test_only_as_not_continuous_is_a_caution(self):
        found = run(load("lights", "b", current_a=13, continuous=None))
        assert (found.low, found.high, found.limit) == (pytest.approx(13), pytest.approx(13), pytest.approx(12))
        assert found.outcome is Outcome.CAUTION

    def test_the_largest_motor_of_a_cable_is_one_that_it_feeds(self):
        # 430.24: a conductor that supplies several motors, a quarter of the largest of them; 1.25 x 240 / 120
        loads = (
            load(name, box, kind="fan", apparent_va=va) for name, box, va in (("big", "a", 360), ("small", "b", 240))
        )
        built = circuit(box("a"), box("b"), cable("c1", "panel", "a"), cable("c2", "a", "b"), *loads)
        numbers = {one.subject: one.value for one in findings(RULE, built)}
        assert numbers == {"c1": pytest.approx(3 + 2 + 0.25 * 3), "c2": pytest.approx(1.25 * 2)}

    def test_hours_change_the_limit_and_not_what_flows(self):
        # what flows is one number, whether the conditions decide (attic) or the conductor before correction (inside)
        for place in ("inside", "attic"):
            found = run(load("lights", "b", current_a=(8, 10), continuous=None), place=place)
            assert (found.low, found.high) == (pytest.approx(8), pytest.approx(10))

    def test_unknown_load_is_asked_for(self):
        found = run(load("lights", "b"))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.value is None
        assert found.needs == ("load.lights.power",)

    def test_each_cable_carries_what_hangs_below_it(self):
        built = circuit(
            box("a"),
            box("b"),
            box("c"),
            cable("c1", "panel", "a"),
            cable("c2", "a", "b"),
            cable("c3", "a", "c"),
            load("one", "a", current_a=1),
            load("two", "b", current_a=2),
            load("four", "c", current_a=2, quantity=2),
        )
        assert {one.subject: one.value for one in findings(RULE, built)} == {"c1": 7, "c2": 2, "c3": 4}


class TestUnknown:
    def test_size(self):
        """That a piece may be thinner than allowed is asked by the check of the breaker against the wire."""
        assert "cable.c.size" in run(size=None).assumed_keys
        found = run(load("heater", "b", current_a=18), size=None, parts=(supply(breaker_a=20),))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("cable.c.size",)

    def test_size_past_the_table(self):
        assert run(size="750 kcmil").outcome is Outcome.UNDETERMINED

    def test_type_asks_only_where_it_decides(self):
        cool = run(type=None)
        assert cool.outcome is Outcome.PASS
        assert "cable.c.type" in cool.assumed_keys
        hot = run(type=None, place="attic")
        assert hot.outcome is Outcome.UNDETERMINED
        assert set(hot.needs) == {"cable.c.type", "cable.c.ambient"}

    def test_type_may_hold_what_the_insulation_would_allow(self):
        # 310.16, 12 AWG copper: 20 A at 60 degC if it is sheathed cable, 25 A by 75 degC terminals if it is not
        found = run(
            load("lights", "b", current_a=22),
            type=None,
            size="12 AWG",
            insulation_temperature_c=90,
            parts=(supply(terminals_c=75, breaker_a=25),),
        )
        assert found.limit == pytest.approx(20)
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("cable.c.type",)

    def test_the_year_is_evidence_and_changes_no_number(self):
        hot = run(type=None, place="attic")
        for wired in (1962, 1999):
            dated = run(type=None, place="attic", parts=(site(wired=wired),))
            assert (dated.outcome, dated.limit, dated.value) == (hot.outcome, hot.limit, hot.value)
            assert str(wired) in " ".join(dated.assumed)

    def test_material(self):
        found = run(material=None, size="12 AWG", type="NM", parts=(supply(breaker_a=20),))
        assert found.outcome is Outcome.UNDETERMINED
        assert "cable.c.material" in found.needs

    def test_material_of_a_size_that_the_table_has_in_copper_only(self):
        """Table 310.16 prints no aluminum in 14 AWG."""
        found = run(material=None)
        assert (found.outcome, found.limit) == (Outcome.PASS, 15)
        assert "cable.c.material" in found.assumed_keys

    def test_what_cannot_change_the_answer_is_not_asked_for(self):
        """In a cable that may carry 0 A or 15 A, a lamp of 0.5 A or 1 A is over the one and under the other anyway."""
        lamp = load("lamp", "b", power_w=60, power_factor=None)
        found = run(lamp, type="NM", material=None, place=None, parts=(site(wired=1983),))
        assert (found.outcome, found.limit) == (Outcome.UNDETERMINED, 0)
        assert found.needs == ("cable.c.place",)

    def test_a_load_that_may_be_over_the_best_is_asked_for(self):
        heater = load("heater", "b", kind="heater", power_w=between(1000, 2000))
        found = run(heater, type="NM", place=None, parts=(site(wired=1983),))
        assert found.needs == ("cable.c.place", "load.heater.power")

    def test_guessed_terminals(self):
        found = run(
            load("lights", "b", current_a=18),
            type="THHN in raceway",
            size="14 AWG",
            parts=(supply(terminals_c=between(60, 75), breaker_a=20),),
        )
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("supply.terminals",)

    def test_guessed_power(self):
        found = run(load("lights", "b", power_w=guess(1700)))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("load.lights.power",)


def test_metric_size_goes_by_its_stand_in():
    # 2.5 mm^2 lies between 14 AWG (2.08 mm^2) and 12 AWG (3.31 mm^2), so it may carry what 14 AWG may
    assert run(size="2.5 mm^2").limit == pytest.approx(15)
    assert "as 14 AWG" in " ".join(run(size="2.5 mm^2").working)


def test_any_size_in_the_same_place():
    """What a rule for a new conductor asks: other sizes where this cable lies."""
    built = circuit(box("b"), cable("c", "panel", "b", place="attic", ambient_c=60), supply(terminals_c=60))
    case = case_of(built, book())
    there = conditions_of(case, case.cables[0])
    assert ampacity_in(book(), "10 AWG", "copper", there).amperes == pytest.approx(28.4)  # 40 x 0.71, under 30 A
    assert ampacity_in(book(), "no size", "copper", there) is None


SIZES = ("14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG")


class TestDirections:
    @settings(max_examples=100, deadline=None)
    @given(
        st.sampled_from(SIZES),
        st.sampled_from([60, 75, 90]),
        st.floats(-20, 90),
        st.floats(0, 40),
        st.integers(1, 45),
        st.integers(0, 10),
    )
    def test_hotter_or_fuller_never_carries_more(self, size, insulation, ambient, hotter, count, more):
        here = Conditions(insulation, ambient, count, cable_limit_c=60, terminals_c=60)
        hot, crowded = here._replace(ambient_c=ambient + hotter), here._replace(conductors=count + more)
        cool, warm, full = (
            corrected_ampacity(book(), size, "copper", conditions).amperes for conditions in (here, hot, crowded)
        )
        assert warm <= cool
        assert full <= cool

    @settings(max_examples=60, deadline=None)
    @given(st.integers(0, 3), st.sampled_from([60, 75, 90]), st.floats(-20, 90), st.integers(1, 45))
    def test_thicker_and_hotter_insulation_never_carries_less(self, place, insulation, ambient, count):
        here = Conditions(insulation, ambient, count, cable_limit_c=None, terminals_c=75)
        thin = corrected_ampacity(book(), SIZES[place], "copper", here).amperes
        thick = corrected_ampacity(book(), SIZES[place + 1], "copper", here).amperes
        better = corrected_ampacity(book(), SIZES[place], "copper", here._replace(insulation_c=90)).amperes
        assert thick >= thin
        assert better >= thin

    @settings(max_examples=60, deadline=None)
    @given(
        st.sampled_from([None, "NM-B", "NM", "THHN in raceway", "AC"]),
        st.sampled_from([None, "copper", "aluminum"]),
        st.sampled_from([None, "attic", "inside"]),
        st.integers(0, 4),
        st.sampled_from([None, 2, 3]),
        st.sampled_from([None, True, False]),
        st.tuples(st.floats(1, 900), st.floats(1, 2)),
    )
    def test_the_worst_is_never_better_than_the_best(self, kind, material, place, bundled, conductors, always, power):
        lamp = load("lamp", "b", power_w=exact(power[0]), continuous=always, power_factor=None)
        built = circuit(
            box("b"),
            cable(
                "c",
                "panel",
                "b",
                type=kind,
                material=material,
                place=place,
                bundled_with=bundled,
                conductors=conductors,
                size="12 AWG",
            ),
            lamp,
        )
        found = only(RULE, built, "c")
        assert found.low <= found.high
        assert found.low <= found.value <= found.high
        assert (found.outcome is Outcome.UNDETERMINED) == bool(found.needs)


@settings(max_examples=100, deadline=None)
@given(
    st.fixed_dictionaries(
        {
            "type": st.sampled_from([None, "NM-B", "THHN in raceway"]),
            "material": st.sampled_from([None, "copper"]),
            "place": st.sampled_from([None, "attic", "inside"]),
            "conductors": st.sampled_from([None, 2]),
            "bundled_with": st.integers(0, 4),
            "size": st.sampled_from(SIZES),
        }
    ),
    st.sampled_from(["NM-B", "NM", "AC", "THWN in raceway", "TW in raceway"]),
    st.sampled_from(["copper", "aluminum", "copper-clad aluminum"]),
    st.sampled_from(["attic", "inside", "outdoors", "crawl space", "underground"]),
    st.floats(30, 60),
    st.sampled_from([2, 3]),
    st.sampled_from([60.0, 75.0]),
)
def test_finding_out_stays_within_the_range(given_keys, kind, material, place, air, conductors, terminals):
    def found_for(keys):
        return run(load("lamps", "b", current_a=9), parts=(supply(terminals_c=terminals),), **keys)

    open_answer = found_for(given_keys)
    if given_keys["material"] is None and (given_keys["size"] == "14 AWG" or given_keys["type"] == "NM-B"):
        material = (
            "copper"  # Table 310.16 prints no aluminum in this size; NM-B is younger than the old aluminum cable.
        )
    known = {
        **given_keys,
        "type": given_keys["type"] or kind,
        "material": given_keys["material"] or material,
        "place": given_keys["place"] or place,
        "conductors": given_keys["conductors"] or conductors,
        "ambient_c": air if given_keys["place"] in (None, "attic") else 30,
    }
    known["current_carrying"] = known["conductors"] + 2 * known["bundled_with"]
    settled = found_for(known)
    assert settled.needs == ()
    assert open_answer.limit <= settled.limit or settled.outcome is Outcome.FAIL
    if open_answer.outcome in (Outcome.PASS, Outcome.FAIL):
        assert settled.outcome is open_answer.outcome


@pytest.mark.parametrize("count", [1_200, pytest.param(10_000, marks=pytest.mark.long)])
def test_thousands_of_cables_in_a_chain(count):
    """Iterative and linear: the chain is added up once, from its end to the panel. Python nests 1,000 calls."""
    parts = [box(f"b{number}") for number in range(count)]
    parts += [cable(f"c{n}", f"b{n - 1}" if n else "panel", f"b{n}") for n in range(count)]
    parts += [load(f"l{n}", f"b{n}", power_w=1200 / count) for n in range(count)]
    found = {one.subject: one.value for one in findings(RULE, circuit(*parts))}
    assert found["c0"] == pytest.approx(10.0)
    assert found[f"c{count - 1}"] == pytest.approx(10.0 / count)


class TestWhatWasRead:
    """Lights to be added hang on "new", 2 A are there on "old", and the rest of the reading on nothing in the list."""

    @staticmethod
    def judged(subject, reading, lights=4, *, continuous=False, **given):
        built = circuit(
            box("a"), box("b"), box("c"), cable("feed", "panel", "a", origin="existing", size="12 AWG"),
            cable("new", "a", "b", size="12 AWG", **given), cable("old", "a", "c", origin="existing", size="12 AWG"),
            load("lights", "b", current_a=lights, origin="added", continuous=continuous),
            load("other", "c", current_a=2), supply(measured_current_a=reading),
        )  # fmt: skip
        return only(RULE, built, subject)

    def test_all_of_it_flows_through_the_only_cable_that_leaves_the_panel(self):
        # 8 - 2 = 6 A beyond the list; 4 + 2 + 6 = 12 A, and if all that were continuous 12 + 0.25 x 6 = 13.5 of 20 A
        found = self.judged("feed", 8)
        assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(12))
        assert "measured beyond the listed loads: 6 A; all of it flows here" in found.working
        assert "load downstream: 12 A" in found.working
        # 14 - 2 = 12 A: 4 + 2 + 12 = 18 A, and 18 + 0.25 x 12 = 21 A
        long = self.judged("feed", 14)
        assert (long.outcome, long.value) == (Outcome.CAUTION, pytest.approx(18))
        assert long.says.startswith('Cable "feed" carries 18 A. 12 A of it was measured and is not on the list;')

    def test_farther_along_it_counts_against_the_conditions(self):
        # 42 degC and 8 conductors: 30 x 0.87 x 0.70 = 18.27 A; 12 + 7 A are more, and less than the 20 A before
        warm = {"ambient_c": 42, "bundled_with": 3, "current_carrying": 8}
        found = self.judged("new", 9, 12, **warm)
        assert (found.outcome, found.value) == (Outcome.UNDETERMINED, pytest.approx(12))
        assert "measured, and where it flows is unknown: 7 A" in found.working
        assert self.judged("new", 8, 12, **warm).outcome is Outcome.PASS  # 12 + 6 A

    def test_farther_along_it_counts_beside_continuous_loads(self):
        # 10 + 9 = 19 A of 20 A; 1.25 x 10 + 9 = 21.5 A
        assert self.judged("new", 11, 10, continuous=True).outcome is Outcome.UNDETERMINED
        # 10 + 1.25 x 9 = 21.25 A where those 9 A flow here and are continuous (210.19(A)(1)); 10 + 1.25 x 8 = 20 A
        long = self.judged("new", 11, 10)
        assert (long.outcome, long.value) == (Outcome.CAUTION, pytest.approx(10))
        assert "The meter showed 9 A whose place is unknown; if it flows here and is continuous" in long.says
        assert self.judged("new", 10, 10).outcome is Outcome.PASS

    def test_nothing_that_was_read_flows_to_what_is_only_added(self):
        """What is to come was not there when somebody measured."""

        def outcome(b, beyond):
            built = circuit(
                box("a"), box("b", origin=b), box("c", origin=beyond), cable("feed", "panel", "a", origin="existing"),
                cable("new", "a", "b", size="12 AWG"), cable("on", "b", "c", size="12 AWG"),
                load("lights", "c", current_a=10, origin="added"), supply(measured_current_a=9),
            )  # fmt: skip
            return only(RULE, built, "new").outcome

        assert outcome("added", "added") is Outcome.PASS
        assert outcome("existing", "added") is outcome("added", "existing") is Outcome.CAUTION

    @pytest.mark.parametrize(
        ("old", "outcome"),
        [
            (None, Outcome.PASS),
            ("box b", Outcome.UNDETERMINED),
            ("box c", Outcome.UNDETERMINED),
            ("cable new", Outcome.UNDETERMINED),
            ("cable on", Outcome.UNDETERMINED),
            ("load lights", Outcome.UNDETERMINED),
            ("a load of a box on no cable", Outcome.UNDETERMINED),
        ],
    )
    def test_what_is_only_added_is_not_asked_about_what_was_read(self, old, outcome):
        """14 AWG, 8 conductors together: 25 x 0.70 = 17.5 A, at most 15 A (310.16, 310.15(C)(1), 334.80), for 10 A.

        9 A were read of which no load is on the list: 19 A if it flowed here. It was read before the new cable was
        there, so that none of it can, but where the cable feeds on to something that was there, as where it is spliced
        between. A load that was there and hangs on no cable of the file may be anywhere, and so may what else was.
        """

        def origin(name):
            return {"origin": "existing" if name == old else "added"}

        built = circuit(
            box("a"), box("b", **origin("box b")), box("c", **origin("box c")), box("lost"),
            cable("feed", "panel", "a", origin="existing", size="12 AWG"),
            cable("new", "a", "b", bundled_with=3, current_carrying=8, **origin("cable new")),
            cable("on", "b", "c", size="12 AWG", **origin("cable on")),
            load("lights", "c", current_a=10, **origin("load lights")),
            *((load("old", "lost", current_a=1),) if old == "a load of a box on no cable" else ()),
            supply(measured_current_a=9 if old != "load lights" else 19),
        )  # fmt: skip
        found = only(RULE, built, "new")
        assert (found.outcome, found.value, found.limit) == (outcome, pytest.approx(10), pytest.approx(15))
        assert any("where it flows is unknown" in line for line in found.working) is (old is not None)

    @pytest.mark.parametrize(
        ("carries", "lamp", "outcome"),
        [
            ("feed", "added", Outcome.PASS),
            ("switched", "added", Outcome.PASS),
            ("switched", "existing", Outcome.UNDETERMINED),
            ("switch loop", "added", Outcome.UNDETERMINED),
            ("travelers", "added", Outcome.UNDETERMINED),
        ],
    )
    def test_a_new_switch_may_turn_on_what_was_there(self, carries, lamp, outcome):
        """15 A may flow in this cable too, and 20 A were read: were they on no list, and turned on by this switch."""
        built = circuit(
            box("a"), box("b", origin="added"), cable("feed", "panel", "a", origin="existing", size="12 AWG"),
            cable("new", "a", "b", bundled_with=3, current_carrying=8, ambient_c=30, carries=carries),
            control("new switch", "b", kind="switch", origin="added"),
            load("lamp", "a", current_a=1, origin=lamp, switched_by="new switch"), supply(measured_current_a=20),
        )  # fmt: skip
        assert only(RULE, built, "new").outcome is outcome

    def test_an_added_load_on_no_cable_of_the_file_may_be_behind_what_is_only_added(self):
        """As above; of the 19 A that may then flow none was read."""
        built = circuit(
            box("a"), box("b", origin="added"), box("lost", origin="added"),
            cable("feed", "panel", "a", origin="existing", size="12 AWG"),
            cable("new", "a", "b", bundled_with=3, current_carrying=8),
            load("lights", "b", current_a=10, origin="added"), load("more", "lost", current_a=9, origin="added"),
            supply(measured_current_a=6),
        )  # fmt: skip
        found = only(RULE, built, "new")
        assert found.outcome is Outcome.UNDETERMINED
        assert "on no branch cable or measured, and where it flows is unknown: 9 A" in found.working

    def test_it_is_a_source_only_where_it_counts(self):
        source = book().value("measured-over-listed").source
        assert source in self.judged("feed", 8).sources
        assert source not in run(ambient_c=30, parts=(supply(terminals_c=60),)).sources


class TestWhatIsTold:
    def test_the_factor_for_continuous_loads_only_where_there_are_any(self):
        factor = book().value("continuous-load-factor").source
        long, short = (run(load("lights", "b", current_a=12, continuous=always)) for always in (True, False))
        # 1.25 x 12 = 15 A; 310.16: 15 A for 14 AWG
        line = "with continuous loads counted 1.25 times: 15 A, against 15 A before correction and adjustment"
        assert (line in long.working, factor in long.sources) == (True, True)
        assert factor not in short.sources
        assert "continuous" not in " ".join(short.working)

    @pytest.mark.parametrize("device", ["breaker", "fuse"])
    def test_what_protects_it_by_its_name(self, device):
        found = run(parts=(supply(breaker_a=30, device=device),))
        assert f"So its {device} may be at most 15 A, not 30 A." in found.says

    def test_cable_that_may_carry_nothing_is_left_alone(self):
        hot = run(type="NM", ambient_c=60)
        assert "may carry nothing in air at 140 degF (60 degC)" in hot.says
        # 310.16 begins at 60 degC
        cool = run(insulation_temperature_c=50)
        assert "the tables give 14 AWG copper no ampacity" in cool.says
        for found in (hot, cool):
            assert found.to_do == (
                "Leave this cable alone and have a licensed electrician look at it before anything is added.",
            )
        assert "thicker conductor" in run(load("lights", "b", current_a=20)).to_do[0]

    def test_aluminum_in_a_size_that_has_none_is_no_matter_of_the_air(self):
        found = run(material="aluminum", ambient_c=80, type="NM")
        assert "the tables give 14 AWG aluminum no ampacity" in found.says

    def test_of_a_size_past_the_table_only_the_size_is_named(self):
        assert run(size="750 kcmil").keys == ("cable.c.size",)


@pytest.mark.parametrize(("hangs_on", "outcome"), [("near", Outcome.FAIL), ("somewhere", Outcome.UNDETERMINED)])
def test_an_existing_load_on_no_cable_of_the_file_may_be_behind_the_one_that_leaves_the_panel(hangs_on, outcome):
    """All that was read at the panel leaves it (Kirchhoff): 14 A, over 25 A x 0.50 with 12 conductors together."""
    made = circuit(
        supply(measured_current_a=14),
        box("near"),
        box("somewhere"),
        cable("run", "panel", "near", origin="existing", bundled_with=5, current_carrying=12),
        load("lamp", "near", current_a=5),
        load("heater", hangs_on, current_a=4),
    )
    found = only(RULE, made, "run")
    assert found.outcome is outcome
    assert found.limit == pytest.approx(12.5)
    assert ("9 A whose place is unknown" in found.says) is (hangs_on == "somewhere")


@pytest.mark.parametrize("reading", [None, 4])
@pytest.mark.parametrize(("amperes", "outcome"), [(7, Outcome.PASS), (8, Outcome.UNDETERMINED)])
def test_a_load_that_no_branch_cable_feeds_may_be_behind_any(reading, amperes, outcome):
    """310.16 and 310.15(C)(1): 14 AWG with 12 conductors together, 25 A x 0.50 = 12.5 A, against 5 A and 7 or 8 A."""
    made = circuit(
        supply(measured_current_a=reading),
        box("near"),
        box("apart"),
        cable("run", "panel", "near", origin="existing", bundled_with=5, current_carrying=12),
        load("lamp", "near", current_a=5),
        load("heater", "apart", current_a=amperes),
    )
    found = only(RULE, made, "run")
    assert (found.outcome, found.value) == (outcome, pytest.approx(5))
    assert f"on no branch cable or measured, and where it flows is unknown: {amperes} A" in found.working
    if outcome is Outcome.UNDETERMINED:
        assert "the circuit carries 8 A whose place is unknown" in found.says
        assert found.keys == ("load.heater.box",)
