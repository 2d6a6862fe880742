"""Load share against published arithmetic, then the directions that must hold."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.circuit.change import Change
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Outcome, Status
from circuitcheck.quantities import Interval
from circuitcheck.refs import Ref
from circuitcheck.rules.capacity.load_share import RULE
from tests.rules.build import EDITIONS, between, book, box, cable, circuit, driver, guess, load, only, supply


def shared(*parts, edition="nec-2023"):
    return only(RULE, circuit(box("b"), *parts), "circuit", edition)


class TestPublishedArithmetic:
    def test_ten_luminaires_with_two_lamps(self):
        # youfixityourself.com/ask_eli/calculate_watts: 20 lamps of 60 W make 1200 W of 1800 W; 240 W are left to 80 %
        found = shared(load("lights", "b", power_w=120, quantity=10))
        assert found.value == pytest.approx(1200 / 120)
        assert found.limit == 15
        assert found.outcome is Outcome.PASS
        added = load("more", "b", power_w=240, origin="added")
        assert shared(load("lights", "b", power_w=1200), added).outcome is Outcome.PASS
        one_more = load("more", "b", power_w=241, origin="added")
        assert shared(load("lights", "b", power_w=1200), one_more).outcome is Outcome.CAUTION

    def test_thirty_lamps_of_60_watts(self):
        # doityourself.com/forum/electrical-ac-dc/233627: 30 of 60 W in theory, 24 for 80 %
        lamps = {count: shared(load("lights", "b", power_w=60, quantity=count)).outcome for count in (24, 25, 30, 31)}
        assert lamps == {24: Outcome.PASS, 25: Outcome.CAUTION, 30: Outcome.CAUTION, 31: Outcome.FAIL}

    def test_continuous_lighting(self):
        # txdot.gov Highway Illumination Manual, overcurrent protection: 18 A of lighting asks for 1.25 x 18 = 22.5 A
        found = shared(load("lights", "b", current_a=18, continuous=True), supply(breaker_a=20))
        assert found.value == pytest.approx(22.5)
        assert found.outcome is Outcome.FAIL

    def test_sixteen_amperes_fill_a_twenty(self):
        # forums.mikeholt.com thread 103218: non-continuous plus 125 % of continuous; 16 A x 1.25 = 20 A just fits
        assert shared(load("l", "b", current_a=16, continuous=True), supply(breaker_a=20)).outcome is Outcome.PASS
        assert shared(load("l", "b", current_a=16.1, continuous=True), supply(breaker_a=20)).outcome is Outcome.FAIL

    def test_a_heater_on_a_receptacle(self):
        # forums.mikeholt.com/threads/210-21-b-2.2585630: a 1500 W, 120 V heater takes 12.5 A
        heater = load("heater", "b", kind="receptacle", power_w=1500)
        assert shared(heater).value == pytest.approx(12.5)


class TestALoadOfUnknownPower:
    def test_what_is_known_is_too_much_already(self):
        # 18 A of 15 A, and a lamp of which nobody knows the watts: at least so much.
        found = shared(load("heater", "b", current_a=18), load("lamp", "b", power_w=None))
        assert (found.outcome, found.value, found.high) == (Outcome.FAIL, 18, None)
        assert found.says == "The circuit would carry at least 18 A, more than its 15 A breaker."

    def test_how_long_it_burns_is_unknown_too(self):
        # 18 A, or 18 A x 1.25 = 22.5 A: at least 18 A. The rows are of the number that is told.
        found = shared(load("heater", "b", current_a=18, continuous=None), load("lamp", "b", power_w=None))
        assert found.says == "The circuit would carry at least 18 A, more than its 15 A breaker."
        assert (found.value, sum(part.value for part in found.parts)) == (18, 18)

    def test_an_open_answer(self):
        found = shared(load("heater", "b", current_a=8), load("lamp", "b", power_w=None))
        assert found.outcome is Outcome.UNDETERMINED
        assert "from what is known, the circuit carries at least 8 A;" in found.says


class TestBothReadings:
    def test_nobody_said_and_it_matters(self):
        found = shared(load("lights", "b", current_a=13, continuous=None), supply(breaker_a=15))
        assert found.outcome is Outcome.CAUTION
        assert (found.low, found.high, found.value) == (13, pytest.approx(16.25), pytest.approx(16.25))
        assert found.needs == ()
        assert found.assumed_keys == ("load.lights.continuous",)
        text = " ".join(found.working)
        assert "13 A" in text
        assert "16.2 A" in text
        assert "depends" in found.says

    def test_both_readings_are_shown(self):
        lines = shared(load("lights", "b", current_a=3)).working
        assert "if nothing were continuous (3 hours or more): 3 A" in lines
        assert "if everything were (x 1.25): 3.75 A" in lines

    def test_some_of_each(self):
        found = shared(
            load("a", "b", current_a=4, continuous=True),
            load("c", "b", current_a=3, continuous=False),
        )
        assert found.value == pytest.approx(1.25 * 4 + 3)


class TestUnknown:
    def test_receptacles_are_planned_at_180(self):
        # 220.14(I): 180 VA each
        found = shared(load("outlets", "b", kind="receptacle", quantity=2))
        assert found.value == pytest.approx(2 * 180 / 120)
        assert found.assumed_keys == ("load.outlets.power",)
        assert "planning figure" in found.assumed[0]
        assert found.outcome is Outcome.PASS

    @pytest.mark.parametrize("kind", ["light", "fan", "heater", "alarm", "other", None])
    def test_anything_else_is_asked_for(self, kind):
        found = shared(load("known", "b", power_w=240), load("thing", "b", kind=kind))
        assert found.outcome is Outcome.UNDETERMINED
        assert (found.low, found.high, found.value) == (pytest.approx(2), None, None)
        assert found.needs == ("load.thing.power",)
        assert "thing" in found.says

    def test_what_is_known_may_be_too_much_already(self):
        found = shared(load("known", "b", power_w=2000), load("thing", "b"))
        assert found.outcome is Outcome.FAIL

    def test_power_factor_is_a_range(self):
        found = shared(load("lamp", "b", power_w=60, power_factor=None))
        assert (found.low, found.high) == (pytest.approx(0.5), pytest.approx(1.0))
        assert found.assumed_keys == ("load.lamp.power_factor",)

    def test_power_factor_that_decides(self):
        found = shared(load("lamp", "b", power_w=1000, power_factor=None))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("load.lamp.power_factor",)

    def test_a_heater_has_none(self):
        found = shared(load("heater", "b", kind="heater", power_w=600, power_factor=None, connection="cord"))
        assert found.low == found.high == pytest.approx(5)

    def test_guess_that_decides(self):
        found = shared(load("lamp", "b", power_w=guess(1700)))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("load.lamp.power",)

    def test_range_that_decides_nothing(self):
        found = shared(load("lamp", "b", current_a=(2.0, 4.0)))
        assert found.outcome is Outcome.PASS
        assert (found.low, found.value) == (pytest.approx(2), pytest.approx(4))

    def test_breaker(self):
        found = shared(load("lamp", "b", current_a=16), supply(breaker_a=between(15, 20)))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("supply.breaker",)

    def test_share_of_a_range_is_a_caution(self):
        found = shared(load("lamp", "b", current_a=(11.0, 13.0)))
        assert found.outcome is Outcome.CAUTION


class TestEachLoad:
    def test_parts_add_up(self):
        found = shared(
            load("a", "b", power_w=60),
            load("c", "b", apparent_va=75, quantity=2),
            load("d", "b", current_a=0.6, continuous=True),
            driver("e", "b", continuous=False),
        )
        # 60 W / 120 V; 150 VA / 120 V; 0.6 A x 1.25; 0.6 A on the driver's label
        assert {part.subject: part.value for part in found.parts} == {
            "a": pytest.approx(0.5),
            "c": pytest.approx(1.25),
            "d": pytest.approx(0.75),
            "e": pytest.approx(0.6),
        }
        assert sum(part.value for part in found.parts) == pytest.approx(found.value)

    def test_power_factor_makes_volt_amperes(self):
        assert shared(load("a", "b", power_w=60, power_factor=0.5)).value == pytest.approx(1.0)

    def test_a_lamp_above_the_label_counts_as_it_is(self):
        """100 W / 120 V = 0.8333 A, whatever the holder is marked for; two of them twice that."""
        found = shared(load("lamp", "b", power_w=60, fitted_w=100, quantity=2))
        assert found.value == pytest.approx(1.6667, abs=5e-5)
        assert "the lamp counts" in " ".join(found.working)
        assert shared(load("lamp", "b", apparent_va=60, fitted_w=100)).value == pytest.approx(0.8333, abs=5e-5)

    def test_fitted_lamp_stands_beside_and_changes_nothing(self):
        rated = shared(load("lamp", "b", power_w=60))
        fitted = shared(load("lamp", "b", power_w=60, fitted_w=8))
        assert fitted.value == rated.value
        assert "takes 8 W" in " ".join(fitted.working)
        assert "in today" in " ".join(fitted.working)
        assert "in today" not in " ".join(rated.working)

    def test_what_is_left(self):
        assert "left: 14.5 A, 1740 VA" in " ".join(shared(load("lamp", "b", power_w=60)).working)

    def test_existing_and_added_apart(self):
        old, new = load("old", "b", power_w=120), load("new", "b", power_w=60, origin="added")
        lines = shared(old, new).working
        assert "existing: 1 A" in lines
        assert "added: 0.5 A" in lines

    def test_nothing_is_called_left_while_a_load_is_unknown(self):
        assert "left" not in shared(load("thing", "b")).says

    def test_driver_without_a_label_is_asked_for(self):
        found = shared(driver("d", "b", input_current_a=None, output_power_w=None))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("driver.d.input_current",)

    def test_measured_voltage_changes_nothing(self):
        assert shared(load("lamp", "b", power_w=60), supply(measured_voltage_v=110)).value == pytest.approx(0.5)

    def test_nothing_listed(self):
        found = shared()
        assert (found.value, found.outcome) == (0, Outcome.PASS)


@pytest.mark.parametrize("edition", EDITIONS)
def test_over_80_percent_cites_common_practice(edition):
    found = shared(load("lamp", "b", current_a=13), edition=edition)
    assert found.outcome is Outcome.CAUTION
    assert Status.COMMON_PRACTICE in {source.status for source in found.sources}
    assert book(edition).value("loading-caution-share").source in found.sources


LOADS = st.lists(
    st.tuples(
        st.floats(0.1, 600),
        st.floats(1, 1.5),
        st.sampled_from([True, False, None]),
        st.sampled_from([None, 1.0, 0.7]),
        st.integers(1, 3),
    ),
    max_size=5,
)


def loads_of(rows):
    return [
        load(f"l{n}", "b", power_w=(low, low * wider), continuous=always, power_factor=factor, quantity=count)
        for n, (low, wider, always, factor, count) in enumerate(rows)
    ]


class TestDirections:
    @settings(max_examples=80, deadline=None)
    @given(LOADS, LOADS.filter(bool))
    def test_adding_a_load_never_leaves_more_room(self, rows, more):
        fewer = shared(*loads_of(rows))
        added = [load(f"m{n}", "b", power_w=row[0], continuous=row[2]) for n, row in enumerate(more)]
        full = shared(*loads_of(rows), *added)
        assert full.limit - full.value <= fewer.limit - fewer.value
        rank = {Outcome.FAIL: 0, Outcome.UNDETERMINED: 1, Outcome.CAUTION: 2, Outcome.PASS: 3}
        assert rank[full.outcome] <= rank[fewer.outcome]

    @settings(max_examples=80, deadline=None)
    @given(LOADS)
    def test_low_value_high(self, rows):
        found = shared(*loads_of(rows))
        assert found.low <= found.high == found.value
        assert sum(part.value for part in found.parts) == pytest.approx(found.value)

    @settings(max_examples=40, deadline=None)
    @given(LOADS.filter(bool))
    def test_finding_out_stays_within_the_range(self, rows):
        wide = shared(*loads_of(rows))
        known = [(low * wider, 1.0, bool(always), factor or 1.0, count) for low, wider, always, factor, count in rows]
        narrow = shared(*loads_of(known))
        assert wide.low - 1e-9 <= narrow.low <= narrow.high <= wide.high + 1e-9


def test_value_is_the_sure_end_where_the_other_is_not_known():
    found = shared(load("lamps", "b", power_w=between(2000, 2400)), load("thing", "b"))
    assert (found.outcome, found.high) == (Outcome.FAIL, None)
    assert found.value == found.low == pytest.approx(2000 / 120)


class TestReading:
    """NFPA 70, 210.23: the load is never above the rating; a reading shows load that nobody listed."""

    def test_a_reading_above_the_list_counts(self):
        # existing 14.5 A read (0.5 A listed), 120 W / 120 V = 1 A added: 15.5 A on 15 A
        lamp, new = load("lamp", "b", power_w=60), load("new", "b", power_w=120, origin="added")
        found = shared(lamp, new, supply(measured_current_a=14.5))
        assert (found.outcome, found.value) == (Outcome.FAIL, pytest.approx(15.5))
        assert sum(part.value for part in found.parts) == pytest.approx(15.5)

    def test_a_reading_below_the_list_lowers_nothing(self):
        found = shared(load("lamp", "b", power_w=60), supply(measured_current_a=0.3))
        assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(0.5))

    def test_what_nobody_listed_may_be_continuous(self):
        # 10 A read, nothing listed, 3 A added: 13 A; with the surplus continuous 1.25 x 10 + 3 = 15.5 A
        found = shared(load("new", "b", power_w=360, origin="added"), supply(measured_current_a=10))
        assert (found.outcome, found.value) == (Outcome.CAUTION, pytest.approx(13))
        assert "12.5 A" in found.says

    def test_a_reading_of_a_range(self):
        found = shared(load("new", "b", power_w=360, origin="added"), supply(measured_current_a=(11, 13)))
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.measured_current",))


class TestHeatersAndMotors:
    def test_a_fixed_heater_is_continuous_whatever_anybody_says(self):
        # 424.3(B) of 2017, 424.4(B) of 2020: 1.25 x 840 / 120 = 8.75 A
        for said in (True, False, None):
            assert shared(load("heater", "b", kind="heater", power_w=840, continuous=said)).value == pytest.approx(8.75)
        plugged = load("heater", "b", kind="heater", power_w=840, connection="cord")
        assert shared(plugged).value == pytest.approx(7)
        either = shared(load("heater", "b", kind="heater", power_w=840, connection=None))
        assert (either.low, either.high) == (pytest.approx(7), pytest.approx(8.75))

    def test_the_largest_motor_counts_a_quarter_more(self):
        # 220.18(A): 1.25 x 360 / 120 + 240 / 120; 90 VA cannot drive 1/8 hp (93.2 W)
        big, small = (load(name, "b", kind="fan", apparent_va=va) for name, va in (("big", 360), ("small", 240)))
        assert shared(big, small).value == pytest.approx(1.25 * 3 + 2)
        assert shared(load("fan", "b", kind="fan", apparent_va=90)).value == pytest.approx(0.75)
        assert shared(load("fan", "b", kind="fan", power_w=93, power_factor=0.5)).value == pytest.approx(1.55)

    def test_never_both_factors(self):
        assert shared(load("fan", "b", kind="fan", apparent_va=360, continuous=True)).value == pytest.approx(3.75)

    def test_a_continuous_motor_takes_no_quarter_from_another(self):
        # 210.20(A) a quarter more of what lasts, 220.18(A) of the largest other motor: whichever of both is larger
        for va in (200, 239, 241, 360):
            lasting = load("a", "b", kind="fan", apparent_va=va, continuous=True)
            found = shared(lasting, load("b", "b", kind="fan", apparent_va=240))
            assert found.value == pytest.approx(1.25 * (va + 240) / 120)

    def test_of_several_alike_it_is_counted_once(self):
        assert shared(load("fans", "b", kind="fan", apparent_va=120, quantity=3)).value == pytest.approx(3.25)


class TestWhatIsInIt:
    def test_a_lamp_counts_whatever_the_thing_turns_out_to_be(self):
        # 3,460 W / 120 V = 28.8 A: more than 25 A in a receptacle too, though 180 VA are planned for it
        for kind in (None, "light", "receptacle"):
            found = shared(load("thing", "b", kind=kind, power_w=None, fitted_w=3460), supply(breaker_a=25))
            assert (found.outcome, found.low) == (Outcome.FAIL, pytest.approx(3460 / 120))


class TestPowerFactor:
    def test_filaments_and_lampholders_have_one(self):
        for lamp in ({"lamp": "incandescent"}, {"lamp": "halogen"}, {"fitted_w": 9, "lamp": "LED"}):
            found = shared(load("lights", "b", power_w=120, power_factor=None, **lamp))
            assert found.low == found.high == pytest.approx(1)

    def test_that_of_a_built_in_led_is_unknown(self):
        found = shared(load("light", "b", power_w=120, power_factor=None, lamp="LED"))
        assert (found.low, found.high) == (pytest.approx(1), pytest.approx(2))


class TestWhatIsTold:
    @pytest.mark.parametrize("device", ["breaker", "fuse"])
    def test_past_the_share_to_which_people_plan(self, device):
        # 8 A read, 4.5 A added: 12.5 A are past 0.8 x 15 = 12 A; 1.25 x 8 + 4.5 = 14.5 A would fit
        new = load("new", "b", current_a=4.5, origin="added")
        found = shared(new, supply(measured_current_a=8, device=device))
        assert found.outcome is Outcome.CAUTION
        assert found.says == (
            f"The circuit carries 12.5 A of its 15 A {device}, past the 80 % to which many electricians plan; "
            "2.5 A is left."
        )

    def test_what_was_read_counts_once_where_it_fits_as_continuous(self):
        # 8 A read, 4 A of them listed: 4 A beyond; 8 A now, 9 A if those were continuous
        found = shared(load("lamps", "b", current_a=4), supply(measured_current_a=8))
        assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(8))
        assert found.working[1:] == (
            "measured beyond the existing loads on the list: 4 A",
            "existing: 4 A",
            "added: 0 A",
            "if nothing were continuous (3 hours or more): 8 A",
            "if everything were (x 1.25): 10 A",
            "from what is given: 8 A",
            "left: 7 A, 840 VA at 120 V",
        )

    def test_a_reading_is_a_source_only_where_it_counts(self):
        source = book().value("measured-over-listed").source
        lamps = load("lamps", "b", current_a=4)
        assert source in shared(lamps, supply(measured_current_a=8)).sources
        assert source not in shared(lamps, supply(measured_current_a=3)).sources

    @pytest.mark.parametrize(
        ("given", "told"),
        [
            ({"power_w": 60, "fitted_w": 100}, "takes 200 W; the lamp counts"),
            ({"power_w": 60, "fitted_w": 8}, "takes 16 W; the rated load counts"),
            ({"apparent_va": 60, "fitted_w": 100}, "takes 200 W; the lamp counts"),
            ({"current_a": 0.5, "fitted_w": 50}, "takes 100 W; the rated load counts"),
        ],
    )
    def test_whether_the_lamp_or_the_label_counts(self, given, told):
        # of two pieces each: 100 W / 120 V are more than 60 VA / 120 V, and 50 W / 120 V less than 0.5 A
        assert told in shared(load("lamp", "b", quantity=2, **given)).working[0]

    def test_where_nothing_is_left_nothing_is_told_of_it(self):
        assert "left" not in " ".join(shared(load("lamp", "b", current_a=16)).working)
        assert "left: 0 A, 0 VA at 120 V" in shared(load("lamp", "b", current_a=15)).working


def replanned(action, *, reading=14.5, new=None, **old):
    """14.5 A were read with an old load on; it goes, and 1 A is to come (120 W), on 15 A."""
    parts = load("old", "b", **{"kind": "other", "power_w": None, "on_at_reading": True} | old), added(120)
    there = cable("run", "panel", "b", origin="existing"), supply(measured_current_a=reading)
    new = new or ({"kind": "light", "power_w": Interval(0.0, 0.0)} if action == "replace" else {})
    change = Change(part=Ref("load", "old"), action=action, new=new)
    planned = as_planned(replace(circuit(box("b"), *there, *parts), changes=(change,)))
    return only(RULE, planned, "circuit")


def added(watts):
    return load("new", "b", power_w=watts, power_factor=1.0, origin="added")


class TestWhatGoes:
    """What a load that goes drew comes off the reading: 14.5 A + 1 A are 15.5 A, and 12.5 A where it drew 3 A."""

    @pytest.mark.parametrize("drew", [{"current_a": 3}, {"power_w": 360}, {"apparent_va": 360}, {"fitted_w": 360}])
    def test_what_it_drew_is_known(self, drew):
        found = replanned("remove", **drew)
        assert (found.outcome, found.value) == (Outcome.CAUTION, pytest.approx(12.5))  # over 80 % of 15 A

    @pytest.mark.parametrize(
        ("drew", "key"),
        [
            ({}, "power"),
            ({"current_a": (0.2, 3)}, "current"),
            ({"power_w": (24, 360)}, "power"),
            ({"apparent_va": (24, 360)}, "apparent"),
            ({"power_w": 60, "fitted_w": (24, 360)}, "fitted"),
            ({"power_w": 360, "kind": None}, "kind"),
            ({"kind": "light"}, "power"),
        ],
    )
    def test_what_is_open_in_it_is_asked_for(self, drew, key):
        found = replanned("remove", **drew)
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, (f"load.old.{key}",))
        assert found.low <= 12.5 + 1e-9

    @pytest.mark.parametrize("action", ["remove", "replace"])
    def test_of_a_light_the_watts_on_its_label_are_the_largest_lamps(self, action):
        """360 W / 120 V: 0 to 3 A were the lamp's, 12.5 to 15.5 A are left with what is to come."""
        found = replanned(action, kind="light", power_w=360)
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.old.fitted",))
        assert (found.low, found.high) == (pytest.approx(12.5), pytest.approx(15.5))
        # Even the largest lamp leaves 15.1 A: 48 W / 120 V = 0.4 A of 14.5 A, and 1 A to come.
        assert replanned(action, kind="light", power_w=48).outcome is Outcome.FAIL

    def test_nobody_asks_what_it_drew_where_that_does_not_matter(self):
        found = replanned("remove", reading=8)
        assert (found.outcome, found.needs) == (Outcome.PASS, ())
        assert found.high == pytest.approx(9)

    def test_of_what_another_stands_for_it_is_asked_what_it_drew(self):
        """Of 14.5 A it drew 0.2 to 3 A: 12.5 to 15.3 A with the 1 A to come; the other, of 0 W, draws none."""
        found = replanned("replace", current_a=(0.2, 3))
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.old.current",))
        assert (found.low, found.high) == (pytest.approx(12.5), pytest.approx(15.3))

    def test_one_light_in_the_place_of_another(self):
        """3 A read with a lamp of 60 W on: 0.5 A were its, and 9 W stand there now: 3 - 0.5 + 0.075 + 1 A to come."""
        watts = dict.fromkeys(("power_w", "fitted_w"), Interval(9.0, 9.0))
        nine = {"kind": "light", "power_factor": Interval(1.0, 1.0), "continuous": False} | watts
        for lamp, low, high in ((60, 3.575, 3.575), (None, 3.575, 4.075)):
            was = {"kind": "light", "power_w": 60, "fitted_w": lamp}
            found = replanned("replace", reading=3.0, new=nine, **was)
            assert (found.outcome, found.needs) == (Outcome.PASS, ())
            assert (found.low, found.high) == (pytest.approx(low), pytest.approx(high))
        off = replanned("replace", reading=3.0, new=nine, kind="light", power_w=60, fitted_w=60, on_at_reading=False)
        assert off.high == pytest.approx(4.075), "it was off: all that was read is something else's"
