"""Box fill against published worked examples, each with its address, then the directions that must hold."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.case import EACH
from circuitcheck.circuit.model import OtherCable
from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.capacity.box_fill import RULE
from tests.rules.build import (
    CUBIC_INCH,
    EDITIONS,
    between,
    box,
    cable,
    circuit,
    control,
    device,
    direction,
    driver,
    findings,
    fixture_wires,
    guess,
    load,
    low_voltage_load,
    only,
    unbroken,
)


def fill(the_box, *cables, edition="nec-2023"):
    others = [box(one.to_id) for one in cables if one.to_id != the_box.id]
    return only(RULE, circuit(the_box, *others, *cables, edition=edition), the_box.id, edition)


def feeds(*counts_by_size, **common):
    """A chain end: one cable in from the panel, the others out to boxes of their own."""
    cables = []
    for number, (size, conductors) in enumerate(counts_by_size):
        ends = ("panel", "b") if number == 0 else ("b", f"out {number}")
        cables.append(cable(f"c{number}", *ends, size=size, conductors=conductors, **common))
    return cables


class TestPublishedExamples:
    """Totals are those that the pages print."""

    def test_stud_hickey_and_luminaire_wires(self):
        # ecmweb.com/content/quizzes-code-26, question 1: nine No. 14, a 4 x 2-1/8 octagonal box
        found = fill(
            box("b", fittings=("stud", "hickey"), fixture_wires=(fixture_wires("14 AWG", 2),)),
            *feeds(("14 AWG", 2), ("14 AWG", 2)),
        )
        assert found.value == pytest.approx(9 * 2.00)
        assert found.outcome is Outcome.FAIL

    def test_mixed_sizes_without_canopy(self):
        # ecmweb.com/content/quizzes-code-26, question 2: 4.5 + 4.5 for the No. 12, a 4 x 2-1/8 octagonal box
        found = fill(
            box("b", fittings=("stud",), internal_clamps=True, fixture_wires=(fixture_wires("18 AWG", 2),)),
            *feeds(("12 AWG", 2), ("12 AWG", 2)),
        )
        shares = {part.name: part.value for part in found.parts}
        assert shares["insulated conductors of c0"] + shares["insulated conductors of c1"] == pytest.approx(4.5 + 4.5)

    def test_switch_box_with_twelves(self):
        # joshthesparky.com/sparkys-journal/boxfill-qotw: eleven No. 12, 24.75 needed in a 21.0 box
        found = fill(
            box("b", trade_size="4 x 1-1/2 square", internal_clamps=True, devices=(device(),)),
            *feeds(("12 AWG", 2), ("12 AWG", 2), ("12 AWG", 3)),
        )
        assert found.value == pytest.approx(24.75)
        assert found.limit == pytest.approx(21.0)
        assert found.outcome is Outcome.FAIL

    def test_receptacle_box_just_full(self):
        # diychatroom.com/threads/box-fill-calculations.102858: three 14/2 and a receptacle make 9 x 2 = 18 in an 18 box
        marked = box("b", volume_m3=18 * CUBIC_INCH, devices=(device("receptacle"),))
        found = fill(marked, *feeds(("14 AWG", 2), ("14 AWG", 2), ("14 AWG", 2)))
        assert found.value == pytest.approx(18.0)
        assert found.outcome is Outcome.PASS
        # … and "if one cable is 14-3 you will be over filled"
        assert fill(marked, *feeds(("14 AWG", 2), ("14 AWG", 2), ("14 AWG", 3))).outcome is Outcome.FAIL

    def test_clamp_and_yoke(self):
        # electricianprep.co/learn/box-fill, question 1: three 12 AWG, two grounds, a clamp, a yoke: 15.75
        found = fill(
            box("b", internal_clamps=True, devices=(device(),)),
            *feeds(("12 AWG", 2), ("12 AWG", 1)),
        )
        assert found.value == pytest.approx(15.75)

    def test_straight_through_and_looped(self):
        # ecmweb.com/nec/code-quiz-39: three straight through, nine looped, cut ground: 49.5
        cables = [
            cable("in", "panel", "b", type="THHN in raceway", size="12 AWG", conductors=12),
            cable("out", "b", "next", type="THHN in raceway", size="12 AWG", conductors=12),
        ]
        there = box("b", unbroken=(unbroken("12 AWG", 3), unbroken("12 AWG", 9, loop=True)))
        found = fill(there, *cables)
        assert found.value == pytest.approx(49.5)

    @pytest.mark.parametrize("edition", EDITIONS)
    def test_ten_gauge_grounds(self, edition):
        # forums.mikeholt.com/threads/box-fill-counting-ground-conductors-nec-2020-change.2568132: past four each ground
        # counts a quarter of the largest, 2.5 x 0.25 = 0.625 for 10 AWG; before that edition one count covered all.
        cables = feeds(("10 AWG", 2), *[("12 AWG", 2)] * 5)
        grounds = sum(part.value for part in fill(box("b"), *cables, edition=edition).parts if "ground" in part.name)
        assert grounds == pytest.approx(2.5 if edition == "nec-2017" else 2.5 + 2 * 0.625)


class TestEachLine:
    def base(self, **given):
        return fill(box("b", **given), *feeds(("14 AWG", 2), ("12 AWG", 2)))

    def test_bare_count(self):
        # two 14 at 2.00, two 12 at 2.25, grounds at the larger
        assert self.base().value == pytest.approx(4.0 + 4.5 + 2.25)

    def test_each_kind_of_fitting_once(self):
        extra = self.base(fittings=("stud", "stud", "hickey")).value - self.base().value
        assert extra == pytest.approx(2 * 2.25)

    def test_clamps_once_at_the_largest(self):
        assert self.base(internal_clamps=True).value - self.base().value == pytest.approx(2.25)

    def test_device_at_its_own_size_and_by_the_gang(self):
        assert self.base(devices=(device(size="14 AWG"),)).value - self.base().value == pytest.approx(4.0)
        assert self.base(devices=(device(gangs=2),)).value - self.base().value == pytest.approx(4 * 2.25)

    def test_canopy_lets_out_four_small_wires_and_the_ground(self):
        small = (fixture_wires("18 AWG", 4),)
        assert self.base(fixture_wires=small, fixture_ground="18 AWG", canopy=True).value == self.base().value
        assert self.base(fixture_wires=small).value - self.base().value == pytest.approx(4 * 1.5)
        # wires of 14 AWG are not small enough
        fourteens = (fixture_wires("14 AWG", 2),)
        assert self.base(fixture_wires=fourteens, canopy=True).value - self.base().value == pytest.approx(4.0)

    @pytest.mark.parametrize(
        ("edition", "more"), [("nec-2017", 0.0), ("nec-2020", 0.25 * 2.25), ("nec-2023", 0.25 * 2.25)]
    )
    def test_luminaire_ground_is_one_more_ground(self, edition, more):
        cables = feeds(*[("12 AWG", 2)] * 4)
        without = fill(box("b"), *cables, edition=edition)
        counted = fill(box("b", fixture_ground="18 AWG"), *cables, edition=edition)
        assert counted.value - without.value == pytest.approx(more)

    @pytest.mark.parametrize(("edition", "each"), [("nec-2017", 0.0), ("nec-2020", 0.0), ("nec-2023", 2.25)])
    def test_terminal_blocks_since_2023(self, edition, each):
        cables = feeds(("12 AWG", 2))
        with_two = fill(box("b", terminal_blocks=2), *cables, edition=edition).value
        assert with_two - fill(box("b"), *cables, edition=edition).value == pytest.approx(2 * each)

    def test_low_voltage_cable_counts_where_it_is_spliced_and_brings_no_ground(self):
        built = circuit(
            box("b"),
            box("splice"),
            cable("in", "panel", "b"),
            driver("d", "b"),
            cable("lead", "d", "splice", size="18 AWG", type="class 2 cable", ground=None),
        )
        found = only(RULE, built, "splice")
        assert found.value == found.low == pytest.approx(2 * 1.5)

    def test_thinner_than_the_table_counts_as_its_thinnest(self):
        found = fill(box("b"), *feeds(("22 AWG", 2), ground=False))
        assert found.value == pytest.approx(2 * 1.5)
        # 0.75 mm^2 is thinner than 18 AWG (0.823 mm^2, ASTM B258)
        found = fill(box("b"), *feeds(("0.75 mm^2", 2), ground=False))
        assert found.value == pytest.approx(2 * 1.5)

    def test_metric_counts_as_the_next_size_up(self):
        # 2.5 mm^2 lies between 14 AWG (2.08 mm^2) and 12 AWG (3.31 mm^2), areas of ASTM B258
        found = fill(box("b"), *feeds(("2.5 mm^2", 2), ground=False))
        assert found.value == pytest.approx(2 * 2.25)

    def test_sizes_past_the_table_are_said_so(self):
        found = fill(box("b"), *feeds(("4 AWG", 2)))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.value is None
        assert found.keys == ("cable.c0.size",)
        assert found.ask


class TestUnbroken:
    """An unbroken conductor takes the place of the two cable ends that it joins; another circuit's only adds."""

    def test_joined_ends_go(self):
        cables = feeds(("14 AWG", 2), ("14 AWG", 2))
        spliced = fill(box("b"), *cables)
        through = fill(box("b", unbroken=(unbroken("14 AWG", 2),)), *cables)
        looped = fill(box("b", unbroken=(unbroken("14 AWG", 2, loop=True),)), *cables)
        assert spliced.value == looped.value == pytest.approx(4 * 2 + 2)
        assert through.value == pytest.approx(2 * 2 + 2)

    def test_one_of_two_runs_through(self):
        found = fill(box("b", unbroken=(unbroken("14 AWG", 1),)), *feeds(("14 AWG", 2), ("14 AWG", 2)))
        assert found.value == pytest.approx(2 * 2 + 2 + 2)

    def test_at_the_end_of_the_line_they_are_another_circuits(self):
        found = fill(box("b", unbroken=(unbroken("14 AWG", 2),)), *feeds(("14 AWG", 2)))
        assert found.value == pytest.approx(2 * 2 + 2 * 2 + 2)

    def test_another_circuits_come_on_top(self):
        # 314.16(B)(1) as taught (forums.mikeholt.com, thread 61182): 4 spliced ends of this circuit, 2 passing of the
        # other, each 2.00, and the grounds once 2.00.
        cables = feeds(("14 AWG", 2), ("14 AWG", 2))
        found = fill(box("b", unbroken=(unbroken("14 AWG", 2, other_circuit=True),)), *cables)
        assert found.value == pytest.approx(4 * 2 + 2 * 2 + 2)

    def test_whose_they_are_is_asked_where_it_decides(self):
        cables = feeds(("14 AWG", 2), ("14 AWG", 2))
        whose = (unbroken("14 AWG", 2, other_circuit=None),)
        found = fill(box("b", volume_m3=12 * CUBIC_INCH, unbroken=whose), *cables)
        assert (found.low, found.high) == (pytest.approx(6.0), pytest.approx(14.0))
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.b.unbroken.other_circuit",))
        assert fill(box("b", volume_m3=14 * CUBIC_INCH, unbroken=whose), *cables).outcome is Outcome.PASS
        assert fill(box("b", volume_m3=5 * CUBIC_INCH, unbroken=whose), *cables).outcome is Outcome.FAIL

    def test_unknown_number_of_conductors_stays_within_its_range(self):
        # Three run through from a 14/3 into a cable of two or of three: one ends here in the first case.
        run = box("b", unbroken=(unbroken("14 AWG", 3),))
        incoming = cable("in", "panel", "b", conductors=3, ground=False)
        two, three, unknown = (
            fill(run, incoming, cable("out", "b", "z", conductors=count, ground=False)) for count in (2, 3, None)
        )
        assert (two.value, three.value) == (pytest.approx(4 * 2.0), pytest.approx(3 * 2.0))
        assert unknown.low <= three.value
        assert unknown.high >= two.value

    def test_another_size_is_another_circuits(self):
        found = fill(box("b", unbroken=(unbroken("12 AWG", 2),)), *feeds(("14 AWG", 2), ("14 AWG", 2)))
        assert found.value == pytest.approx(4 * 2 + 2 * 2.25 + 2)


class TestRoom:
    def test_marked_volume_goes_before_the_table(self):
        marked = box("b", volume_m3=30 * CUBIC_INCH, trade_size="4 x 1-1/2 octagon")
        assert fill(marked, *feeds(("14 AWG", 2))).limit == pytest.approx(30.0)

    def test_extensions_add_and_a_barrier_takes(self):
        larger = fill(box("b", extensions_m3=(4 * CUBIC_INCH,)), *feeds(("14 AWG", 2)))
        assert larger.limit == pytest.approx(15.5 + 4.0)
        # 2018 IRC page 770: an unmarked barrier takes 0.5 in^3 (metal) or 1.0 in^3 (nonmetallic)
        for material, takes in (("metal", 0.5), ("plastic", 1.0), (None, 1.0)):
            split = fill(box("b", class_2_barrier=True, material=material), *feeds(("14 AWG", 2)))
            assert split.limit == pytest.approx(15.5 - takes)

    @pytest.mark.parametrize(
        ("cubic_inches", "gangs", "outcome"),
        [
            (21.0, 1, Outcome.PASS),  # (21 - 1) / 2 = 10
            (20.9, 1, Outcome.UNDETERMINED),
            (31.0, 3, Outcome.PASS),  # (31 - 1) / 3 = 10
            (30.9, 3, Outcome.UNDETERMINED),
            (17.0, 1, Outcome.UNDETERMINED),
            (16.9, 1, Outcome.FAIL),  # with four wires of 18 AWG on the other side 10 + 6, and the divider takes 1
        ],
    )
    def test_a_divider_shares_the_room_out(self, cubic_inches, gangs, outcome):
        """314.16(A): the volume is apportioned to the spaces that a barrier makes. Two 14/2 with their grounds need
        4 x 2.00 + 2.00 = 10 in^3 on their own side; the wires of the light are on the other one.
        """
        there = box("b", volume_m3=cubic_inches * CUBIC_INCH, gangs=gangs, class_2_barrier=True, material="nonmetallic")
        lead = cable("lead", "d", "b", type="class 2 cable", size="18 AWG", ground=False)
        light = low_voltage_load("strip", power_w=5, kind="resistor")
        on = cable("on", "b", "strip", type="class 2 cable", size="18 AWG", ground=False)
        cables = feeds(("14 AWG", 2), ("14 AWG", 2))
        built = circuit(there, box("out 1"), *cables, driver("d", "out 1"), lead, light, on)
        found = only(RULE, built, "b")
        assert found.outcome is outcome
        assert bool(found.ask) is (outcome is Outcome.UNDETERMINED)

    def test_whether_there_is_a_divider_is_asked_first(self):
        """Without one 10 in^3 of 14 AWG and 3 of 18 AWG have room in 14; with one half of 13 is too little for 10."""
        there = box("b", volume_m3=14 * CUBIC_INCH, gangs=1, class_2_barrier=None, material="nonmetallic")
        light = low_voltage_load("strip", power_w=5, kind="resistor")
        lead = cable("lead", "b", "strip", type="class 2 cable", size="18 AWG", ground=False)
        feed = cable("low", "d", "b", type="class 2 cable", size="18 AWG", ground=False, conductors=0)
        cables = (*feeds(("14 AWG", 2), ("14 AWG", 2)), feed, lead)
        found = only(RULE, circuit(there, box("out 1"), *cables, driver("d", "out 1"), light), "b")
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.b.class_2_barrier",))

    def test_a_divided_box_that_the_work_leaves_alone_holds_nothing_up(self):
        old = cable("feed", "panel", "b", origin="existing")
        assert only(RULE, circuit(box("b", volume_m3=8 * CUBIC_INCH, class_2_barrier=True), old), "b").outcome is (
            Outcome.PASS
        )

    def test_unknown_volume_asks_for_it_and_still_counts(self):
        found = fill(box("b", trade_size=None), *feeds(("14 AWG", 2)))
        assert found.outcome is Outcome.UNDETERMINED
        assert (found.value, found.limit) == (pytest.approx(6.0), None)
        assert found.needs == ("box.b.volume",)

    def test_guessed_volume_decides(self):
        found = fill(box("b", volume_m3=guess(6 * CUBIC_INCH)), *feeds(("14 AWG", 2)))
        assert found.outcome is Outcome.UNDETERMINED
        assert "box.b.volume" in found.needs

    def test_ranged_extension_decides(self):
        ring = between(0.0, 6 * CUBIC_INCH)
        found = fill(box("b", volume_m3=4 * CUBIC_INCH, extensions_m3=(ring,)), *feeds(("14 AWG", 2)))
        assert found.outcome is Outcome.UNDETERMINED
        assert "box.b.extensions" in found.needs

    @pytest.mark.parametrize(
        ("gangs", "devices", "has"), [(2, 2, 28.0), (None, 2, 28.0), (None, 1, 14.0), (3, 1, 42.0)]
    )
    def test_a_masonry_box_has_its_volume_for_each_gang(self, gangs, devices, has):
        # Table 314.16(A), masonry box / gang: 3-3/4 x 2 x 2-1/2, 14.0 in^3
        there = box("b", trade_size="3-3/4 x 2 x 2-1/2 masonry", gangs=gangs, devices=(device(),) * devices)
        assert fill(there, *feeds(("14 AWG", 2))).limit == pytest.approx(has)

    def test_another_box_has_no_more_for_its_gangs(self):
        assert fill(box("b", gangs=2), *feeds(("14 AWG", 2))).limit == pytest.approx(15.5)


class TestUnknown:
    def test_clamps_decide(self):
        # six conductors and a ground: 14; with clamps 16 of 15.5
        cables = feeds(*[("14 AWG", 2)] * 3)
        found = fill(box("b", internal_clamps=None), *cables)
        assert (found.low, found.high, found.value) == (pytest.approx(14.0), pytest.approx(16.0), pytest.approx(16.0))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("box.b.internal_clamps",)
        assert found.assumed_keys == ("box.b.internal_clamps",)

    def test_unknown_clamps_that_do_not_decide(self):
        found = fill(box("b", internal_clamps=None), *feeds(("14 AWG", 2)))
        assert found.outcome is Outcome.PASS
        assert found.assumed_keys == ("box.b.internal_clamps",)

    @pytest.mark.parametrize("key", ["size", "conductors", "ground"])
    def test_unknown_cable_is_a_range(self, key):
        known = feeds(("14 AWG", 2), ground=False)
        found = fill(box("b"), *known, cable("x", "b", "z", **{key: None}))
        assert found.low < found.high
        assert f"cable.x.{key}" in found.assumed_keys

    def test_unknown_canopy(self):
        found = fill(box("b", canopy=None, fixture_wires=(fixture_wires("18 AWG", 2),)), *feeds(("14 AWG", 2)))
        assert (found.low, found.high) == (pytest.approx(6.0), pytest.approx(9.0))
        assert "box.b.canopy" in found.assumed_keys

    def test_unknown_size_may_be_what_runs_through(self):
        cables = [cable("in", "panel", "b", size=None), cable("out", "b", "z", size=None)]
        found = fill(box("b", unbroken=(unbroken("14 AWG", 2),)), *cables)
        # at best the two of them are the cable's own: 2 through and the ground
        assert found.low == pytest.approx(3 * 2.0)
        assert found.high > found.low

    def test_what_runs_through_leaves_the_cables_that_are_known_first(self):
        """Three run through from a cable of three into one of two or three and one of two.

        Were the middle one a 12/2: one end of the last stays, three through, clamps and the grounds: 6 x 2.25.
        """
        cables = [
            cable("in", "panel", "b", size="12 AWG", conductors=3),
            cable("maybe", "b", "y", size="12 AWG", conductors=None),
            cable("two", "b", "z", size="12 AWG", conductors=2),
        ]
        given = box("b", internal_clamps=True, unbroken=(unbroken("12 AWG", 3),))
        known = fill(given, cables[0], replace(cables[1], conductors=2), cables[2], edition="nec-2017")
        assert known.value == pytest.approx(6 * 2.25)
        assert fill(given, *cables, edition="nec-2017").low == pytest.approx(6 * 2.25)


class TestDevicesThatNobodyListed:
    """A switch or a receptacle stands on a yoke, which counts two conductors; the file lists none."""

    def found(self, *parts, devices=None, volume=14.0):
        # two 14/2 with grounds: 4 conductors and 1 ground are 10 in^3; a yoke makes 14 in^3
        given = box("b", volume_m3=volume * CUBIC_INCH, devices=devices)
        return only(RULE, circuit(given, box("out 1"), *feeds(("14 AWG", 2), ("14 AWG", 2)), *parts), "b")

    @pytest.mark.parametrize(
        "part",
        [
            control("dimmer", "b"),
            load("outlet", "b", kind="receptacle"),
            load("vacuum cleaner", "b", kind="other", connection="cord"),
        ],
    )
    def test_one_that_would_tip_the_count_is_asked_for(self, part):
        found = self.found(part, volume=13.5)
        assert found.outcome is Outcome.UNDETERMINED
        assert (found.low, found.high) == (pytest.approx(10.0), pytest.approx(14.0))
        assert found.needs == ("box.b.devices",)

    def test_one_that_still_fits_is_said(self):
        found = self.found(control("dimmer", "b"))
        assert (found.outcome, found.low, found.value) == (Outcome.PASS, pytest.approx(10.0), pytest.approx(14.0))
        assert found.assumed_keys == ("box.b.devices",)
        assert "dimmer" in found.assumed[0]

    def test_a_list_is_believed(self):
        both = (control("one", "b"), control("two", "b"))
        found = self.found(*both, devices=(device(), device()), volume=18.0)
        assert (found.outcome, found.value, found.assumed) == (Outcome.PASS, pytest.approx(18.0), ())

    @pytest.mark.parametrize(("volume", "told"), [(13.0, True), (15.9, True), (16.0, False)])
    def test_leads_of_what_was_there_before_are_believed_and_told(self, volume, told):
        """Two 14/2 and grounds 10, two leads of 18 AWG 3; with two of the driver 16 in^3 (314.16(B)(1))."""
        given = box("b", volume_m3=volume * CUBIC_INCH, fixture_wires=(fixture_wires("18 AWG", 2),))
        parts = (load("lamp", "b", power_w=10), driver("new", "b"), box("out 1"))
        found = only(RULE, circuit(given, *parts, *feeds(("14 AWG", 2), ("14 AWG", 2))), "b")
        assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(13.0))
        assert found.assumed_keys == (("box.b.fixture_wires",) if told else ())

    def test_a_list_that_is_too_short_is_asked_about(self):
        """314.16(B)(4): 4.00 in^3 for each yoke. Two switches on two yokes make 10 + 8 = 18, on one yoke 14."""
        both = (control("one", "b"), control("two", "b"))
        found = self.found(*both, devices=(device(),), volume=17.5)
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("box.b.devices",))
        assert (found.low, found.high) == (pytest.approx(14.0), pytest.approx(18.0))
        # A box of one gang that is said to be so has no place for a second yoke.
        given = box("b", volume_m3=17.5 * CUBIC_INCH, devices=(device(),), gangs=1)
        built = circuit(given, box("out 1"), *feeds(("14 AWG", 2), ("14 AWG", 2)), *both)
        found = only(RULE, built, "b")
        assert (found.outcome, found.value, found.assumed) == (Outcome.PASS, pytest.approx(14.0), ())

    def test_a_box_that_is_too_full_anyway_still_fails(self):
        found = self.found(control("dimmer", "b"), volume=9.0)
        assert (found.outcome, found.low) == (Outcome.FAIL, pytest.approx(10.0))

    def test_each_switch_may_have_a_yoke_of_its_own(self):
        found = self.found(control("dimmer", "b"), control("fan switch", "b"), volume=17.0)
        assert (found.outcome, found.high) == (Outcome.UNDETERMINED, pytest.approx(18.0))

    def test_an_empty_list_beside_a_switch_is_asked_about(self):
        assert self.found(control("dimmer", "b"), devices=(), volume=13.5).needs == ("box.b.devices",)

    def test_something_plugged_in_where_no_receptacle_is_said_to_be(self):
        assert self.found(
            load("vacuum cleaner", "b", kind="other", connection="cord"), devices=()
        ).high == pytest.approx(10.0)

    def test_a_light_needs_none(self):
        assert self.found(load("lamp", "b", power_w=60)).assumed == ()


class TestLeads:
    """314.16(B)(1): each conductor that enters counts; its exception lets up to four leads smaller than 14 AWG, and the
    ground, out under a domed canopy. 18 AWG takes 1.50 in^3, 14 AWG 2.00 in^3. One 14/2 with ground: 6.00 in^3.
    """

    def found(self, *parts, volume, **given):
        there = box("b", **{"volume_m3": volume * CUBIC_INCH, "fixture_wires": None, "fixture_ground": None} | given)
        return only(RULE, circuit(there, *feeds(("14 AWG", 2)), *parts), "b")

    def lamp(self, **given):
        return load("lamp", "b", power_w=60, mounting="wall", **given)

    def test_a_pancake_with_leads_that_nobody_counted(self):
        # 6.00 fill a 6 in^3 pancake; two leads without a dome make 9.00
        found = self.found(self.lamp(), volume=6.0)
        assert (found.outcome, found.low, found.high) == (Outcome.UNDETERMINED, pytest.approx(6.0), pytest.approx(9.0))
        assert "box.b.fixture_wires" in found.needs

    def test_no_leads(self):
        found = self.found(self.lamp(), volume=6.0, fixture_wires=(), fixture_ground="none")
        assert (found.outcome, found.value, found.assumed) == (Outcome.PASS, pytest.approx(6.0), ())

    @pytest.mark.parametrize("given", [{"kind": "receptacle"}, {"connection": "cord", "kind": "other"}])
    def test_what_plugs_in_brings_none(self, given):
        assert self.found(self.lamp(**given), volume=30.0, devices=(device(),)).high == pytest.approx(6.0 + 4.0)

    def test_each_light_brings_its_own(self):
        assert self.found(self.lamp(quantity=2), volume=30.0).high == pytest.approx(6.0 + 4 * 1.5)

    def test_no_canopy_helps_a_driver(self):
        # two leads of a driver with nothing but its supply, and a canopy over the box: 9.00
        leads = (fixture_wires("18 AWG", 2),)
        found = self.found(driver("d", "b"), volume=8.0, canopy=True, fixture_wires=leads)
        assert (found.outcome, found.value) == (Outcome.FAIL, pytest.approx(9.0))
        assert self.found(self.lamp(), volume=8.0, canopy=True, fixture_wires=leads).value == pytest.approx(6.0)

    def test_a_driver_that_dims_by_wires_of_its_own(self):
        assert self.found(driver("d", "b", dimming="0-10 V"), volume=30.0).high == pytest.approx(6.0 + 4 * 1.5)
        assert self.found(driver("d", "b", dimming="phase"), volume=30.0).high == pytest.approx(6.0 + 2 * 1.5)

    @pytest.mark.parametrize(
        ("volume", "outcome"),
        [(8.9, Outcome.FAIL), (9.0, Outcome.UNDETERMINED), (14.9, Outcome.UNDETERMINED), (15.0, Outcome.PASS)],
    )
    def test_more_than_four_under_a_canopy_are_read_both_ways(self, volume, outcome):
        # those beyond four: 6.00 + 2 x 1.50 = 9.00; all six: 6.00 + 6 x 1.50 = 15.00
        leads = (fixture_wires("18 AWG", 6),)
        found = self.found(self.lamp(), volume=volume, canopy=True, fixture_wires=leads)
        assert (found.outcome, found.value) == (outcome, pytest.approx(15.0))
        assert bool(found.ask) is (outcome is Outcome.UNDETERMINED)

    def test_of_more_than_four_the_thickest_may_be_let_out(self):
        # 3 x 1.50 + 2 x 1.75 = 8.00; beyond four one of 18 AWG, 1.50
        leads = (fixture_wires("18 AWG", 3), fixture_wires("16 AWG", 2))
        for volume, outcome in ((7.5, Outcome.UNDETERMINED), (7.4, Outcome.FAIL)):
            found = self.found(self.lamp(), volume=volume, canopy=True, fixture_wires=leads)
            assert (found.outcome, found.value) == (outcome, pytest.approx(14.0))


class TestOtherCircuits:
    """314.16(B): every conductor in the box counts, whichever circuit it belongs to.

    Three 14/2 with grounds and two switches: 12.00 + 2.00 + 8.00 = 22.00 in^3.
    """

    def found(self, other=None, controls=1, volume=25.0):
        there = box("b", volume_m3=volume * CUBIC_INCH, devices=(device(), device()), other_cables=other)
        switches = [control(f"switch {number}", "b") for number in range(controls)]
        return only(RULE, circuit(there, *feeds(*[("14 AWG", 2)] * 3), *switches), "b")

    def test_asked_in_a_box_of_two_gangs(self):
        found = self.found()
        assert (found.outcome, found.low) == (Outcome.UNDETERMINED, pytest.approx(22.0))
        assert found.needs == ("box.b.other_cables",)

    def test_not_asked_where_both_switches_are_this_circuits(self):
        assert (self.found(controls=2).outcome, self.found(controls=2).assumed) == (Outcome.PASS, ())

    def test_listed_ones_count(self):
        # one 14/2 more: 22.00 + 4.00
        cables = (OtherCable(size="14 AWG", conductors=2),)
        assert self.found(cables).value == pytest.approx(26.0)
        assert self.found(()).value == pytest.approx(22.0)

    def test_their_grounds_count_with_the_others(self):
        # five grounds from 2020: the fifth counts a quarter, 0.50
        cables = (OtherCable(size="14 AWG", conductors=2), OtherCable(size="14 AWG", conductors=2))
        assert self.found(cables).value == pytest.approx(30.0 + 0.5)


class TestPresumed:
    """What is left out of these lists is taken as none, and told where it would turn the answer."""

    def found(self, volume, **given):
        there = box("b", volume_m3=volume * CUBIC_INCH, **given)
        return fill(there, *feeds(("14 AWG", 2)))

    @pytest.mark.parametrize("key", ["fittings", "terminal_blocks", "unbroken"])
    def test_told_where_the_answer_rests_on_it(self, key):
        # 6.00 in^3; a stud or a terminal block makes 8.00, two conductors of 12 AWG that run through 10.50
        tight, roomy = self.found(7.9, **{key: None}), self.found(11.0, **{key: None})
        assert (tight.outcome, tight.value, tight.assumed_keys) == (Outcome.PASS, pytest.approx(6.0), (f"box.b.{key}",))
        assert (roomy.outcome, roomy.assumed_keys) == (Outcome.PASS, ())

    def test_none_is_none(self):
        assert self.found(7.9).assumed == ()


class TestUntouched:
    """The work that is done is inspected; what it leaves alone stays as it is."""

    def found(self, *parts, **given):
        cables = (cable("in", "panel", "b", origin="existing"), cable("out", "b", "z", origin="existing"))
        return [
            each
            for each in findings(RULE, circuit(box("b", **given), box("z"), *cables, *parts))
            if each.subject == "b"
        ]

    def test_never_holds_the_answer_open(self):
        assert self.found(trade_size=None, internal_clamps=None) == []
        (full,) = self.found(volume_m3=9 * CUBIC_INCH)
        assert full.outcome is Outcome.CAUTION
        (maybe,) = self.found(volume_m3=11 * CUBIC_INCH, internal_clamps=None)
        assert maybe.outcome is Outcome.CAUTION

    @pytest.mark.parametrize(
        "part",
        [
            cable("new", "b", "y"),
            load("new", "b", power_w=9, origin="added"),
            driver("new", "b"),
            control("new", "b", origin="added"),
        ],
    )
    def test_what_is_added_to_it_touches_it(self, part):
        (found,) = self.found(part, trade_size=None)
        assert found.outcome is Outcome.UNDETERMINED


class TestRecessed:
    """The wiring box of a recessed light goes by its label, not by volume (410.21, and trade practice)."""

    def test_not_counted_by_volume(self):
        there = box("b", trade_size=None)
        light = load("can", "b", power_w=9, origin="added", mounting="recessed")
        assert findings(RULE, circuit(there, *feeds(("14 AWG", 2)), light)) == []

    def test_a_box_of_its_own_counts(self):
        light = load("can", "b", power_w=9, origin="added", mounting="recessed")
        assert only(RULE, circuit(box("b"), *feeds(("14 AWG", 2)), light), "b").value == pytest.approx(6.0)


SIZES = st.sampled_from(["18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", None])


def has_too_many_ways(found):
    """Whether not every way was tried, as with conductors that run through between many cables of unknown size."""
    untold = found.value is None
    assert not untold or (found.outcome, found.low, found.high) == (Outcome.UNDETERMINED, None, None)
    return untold


@st.composite
def boxes_and_cables(draw):
    maybe = st.sampled_from([True, False, None])
    there = {
        "internal_clamps": draw(maybe),
        "canopy": draw(maybe),
        "fittings": tuple(draw(st.lists(st.sampled_from(["stud", "hickey"]), max_size=2))),
        "devices": tuple(device(gangs=gangs) for gangs in draw(st.lists(st.integers(1, 3), max_size=2))),
        "fixture_wires": tuple(
            fixture_wires(size, count)
            for size, count in draw(st.lists(st.tuples(SIZES.filter(bool), st.integers(0, 6)), max_size=2))
        ),
        "unbroken": tuple(
            unbroken(size, count, loop)
            for size, count, loop in draw(
                st.lists(st.tuples(SIZES.filter(bool), st.integers(0, 4), st.booleans()), max_size=2)
            )
        ),
        "terminal_blocks": draw(st.integers(0, 2)),
    }
    cables = []
    for number in range(draw(st.integers(1, 7))):
        ends = ("panel", "b") if number == 0 else ("b", f"out {number}")
        cables.append(
            cable(
                f"c{number}",
                *ends,
                size=draw(SIZES),
                conductors=draw(st.sampled_from([2, 3, None])),
                ground=draw(maybe),
            )
        )
    return there, cables


class TestDirections:
    @settings(max_examples=60, deadline=None)
    @given(boxes_and_cables(), st.sampled_from(EDITIONS))
    def test_low_never_over_high_and_value_is_the_worse(self, given_box, edition):
        there, cables = given_box
        found = fill(box("b", **there), *cables, edition=edition)
        if has_too_many_ways(found):
            return
        assert found.low <= found.high + 1e-9
        assert found.value == found.high
        assert sum(part.value for part in found.parts) == pytest.approx(found.value)

    @settings(max_examples=100, deadline=None)
    @given(boxes_and_cables(), st.sampled_from(EDITIONS), st.data())
    def test_finding_out_stays_within_the_range(self, given_box, edition, data):
        there, cables = given_box
        wide = fill(box("b", **there), *cables, edition=edition)
        if has_too_many_ways(wide):
            return
        may_be = {
            "size": ["14 AWG", "12 AWG", "10 AWG"],
            "conductors": [2, 3],
            "ground": [True, False],
            "internal_clamps": [True, False],
            "canopy": [True, False],
        }

        def known(key, value):
            return data.draw(st.sampled_from(may_be[key])) if value is None and key in may_be else value

        found_out = [
            replace(one, **{key: known(key, getattr(one, key)) for key in ("size", "conductors", "ground")})
            for one in cables
        ]
        narrow = fill(box("b", **{key: known(key, value) for key, value in there.items()}), *found_out, edition=edition)
        assert narrow.low == narrow.high
        assert wide.low - 1e-9 <= narrow.value <= wide.high + 1e-9

    @settings(max_examples=60, deadline=None)
    @given(boxes_and_cables(), st.floats(3, 60), st.floats(0, 20), st.sampled_from(EDITIONS))
    def test_a_bigger_box_never_does_worse(self, given_box, volume, more, edition):
        there, cables = given_box
        rank = {Outcome.FAIL: 0, Outcome.UNDETERMINED: 1, Outcome.PASS: 2}
        small = fill(box("b", volume_m3=volume * CUBIC_INCH, **there), *cables, edition=edition)
        large = fill(box("b", volume_m3=(volume + more) * CUBIC_INCH, **there), *cables, edition=edition)
        assert rank[large.outcome] >= rank[small.outcome]

    @settings(max_examples=40, deadline=None)
    @given(boxes_and_cables(), st.sampled_from(EDITIONS))
    def test_one_more_cable_never_needs_less(self, given_box, edition):
        there, cables = given_box
        there = there | {"unbroken": ()}
        fewer = fill(box("b", **there), *cables, edition=edition)
        more = fill(box("b", **there), *cables, cable("more", "b", "beyond"), edition=edition)
        assert more.value >= fewer.value
        assert more.low >= fewer.low


def test_a_guess_at_another_circuits_cables_is_tried_beside_what_is_assumed_instead():
    """Ten thin conductors take more room by themselves, but of thicker ones each device takes more: two of 12 AWG are
    4 x 2.25 = 9.00 in^3, of 14 AWG 8.00 (314.16(B)(4)). Four gangs, two devices: six conductors of 12 AWG and their
    grounds, 13.50 + 2.25.
    """
    thin = (OtherCable(size="18 AWG", conductors=10),)
    told = {"gangs": 4, "volume_m3": 1, "devices": (device(), device())}
    guessed = box("b", other_cables=thin, known_by={"other_cables": "guess"}, **told)
    thick = box("b", other_cables=(OtherCable(size="12 AWG", conductors=2),) * 3, **told)
    feed = feeds(("14 AWG", 2), ground=False)
    assert fill(thick, *feed).value == pytest.approx(4 + 13.5 + 2.25 + 9)
    assert fill(guessed, *feed).high == pytest.approx(4 + 13.5 + 2.25 + 9)


def test_room_is_told_to_four_digits_and_never_more_than_there_is():
    """250 mL are 15.2559 in^3 (1 in^3 is 16.387064 mL)."""
    found = fill(box("b", trade_size=None, volume_m3=250e-6), *feeds(("14 AWG", 2)))
    assert "15.25 in" in found.says
    assert "15.255" not in " ".join((found.says, *found.working))


def test_every_line_of_the_count_is_told():
    """Table 314.16(B): 2.00 in^3 for 14 AWG, 2.25 for 12 AWG; clamps, stud, device and grounds at the largest."""
    found = fill(
        box("b", internal_clamps=True, devices=(device("switch"),), fittings=("stud",)),
        *feeds(("14 AWG", 2), ("12 AWG", 2)),
    )
    assert found.working == (
        "insulated conductors of c0: 2 x 2 (14 AWG) = 4 in^3",
        "insulated conductors of c1: 2 x 2.25 (12 AWG) = 4.5 in^3",
        "internal clamps: 1 x 2.25 (12 AWG) = 2.25 in^3",
        "stud: 1 x 2.25 (12 AWG) = 2.25 in^3",
        "switch (1 gang): 2 x 2.25 (12 AWG) = 4.5 in^3",
        "equipment grounds (2 together): 1 x 2.25 (12 AWG) = 2.25 in^3",
        "needed: 19.75 in^3",
        "room: 15.5 in^3 by the table for 4 x 1-1/2 octagon",
    )
    assert [(row.count, row.each, row.value) for row in found.parts[:2]] == [(2, 2, 4), (2, 2.25, 4.5)]
    assert found.says == 'Box "b" is too full: it needs 19.75 in³ and has 15.5 in³.'


@pytest.mark.parametrize(("origin", "what"), [("added", "Before you buy the box"), ("existing", "Breaker off")])
def test_a_box_to_be_bought_is_chosen_and_not_opened(origin, what):
    unknown = fill(box("b", origin=origin, trade_size=None), *feeds(("14 AWG", 2)))
    assert unknown.to_do[0].startswith(what)
    full = fill(box("b", origin=origin, volume_m3=5 * CUBIC_INCH), *feeds(("14 AWG", 2)))
    assert full.to_do[0].startswith("Choose a larger box" if origin == "added" else "Breaker off")


def test_what_is_beyond_the_table_is_named():
    # Table 314.16(B)(1) ends at 6 AWG
    by_cable = fill(box("b"), *feeds(("6 AWG", 3), ("4 AWG", 2)))
    assert (by_cable.outcome, by_cable.keys) == (Outcome.UNDETERMINED, ("cable.c1.size",))
    assert by_cable.ask == ("What box does 4 AWG need here?",)
    by_list = fill(box("b", other_cables=(OtherCable(size="4 AWG", conductors=2),)), *feeds(("14 AWG", 2)))
    assert by_list.keys == ("box.b.other_cables",)
    by_ground = fill(box("b", fixture_ground="4 AWG"), *feeds(("14 AWG", 2)))
    assert by_ground.keys == ("box.b.fixture_ground",)


def test_one_that_is_beyond_the_table_says_so_whatever_the_others_are():
    """Table 314.16(B)(1) ends at 6 AWG: 4/0 AWG is sized by 314.28, whatever else enters the box that may be new.

    A conductor that runs through unbroken has every size of the other cables tried, which are too many to try all.
    """
    there = box("b", origin="existing", known_by={"origin": How.GUESS}, unbroken=(unbroken("12 AWG", 4, loop=True),))
    unknown = {"origin": "existing", "size": None, "conductors": None}
    built = circuit(
        box("start"), there, cable("run", "panel", "start"), driver("d", "start"),
        cable("c0", "d", "b", **unknown | {"size": "4/0 AWG"}),
        low_voltage_load("spot 1"), cable("c1", "b", "spot 1", **unknown),
        low_voltage_load("spot 2"), cable("c2", "b", "spot 2", **unknown),
    )  # fmt: skip
    found = only(RULE, built, "b")
    assert (found.outcome, found.keys) == (Outcome.UNDETERMINED, ("cable.c0.size",))
    assert found.ask == ("What box does 4/0 AWG need here?",)


class TestWhichWayIsWorse:
    @pytest.mark.parametrize(
        ("entry", "best_to_worst"),
        [
            ("fittings", [(), ("stud",), ("stud", "hickey")]),
            ("devices", [(), (device(),), (device(gangs=2),), (device(gangs=2), device())]),
            ("fixture_wires", [(), (fixture_wires("18 AWG", 2),), (fixture_wires("18 AWG", 2),) * 2]),
            ("other_cables", [(), (OtherCable(size="12 AWG", conductors=2),)]),
            ("fixture_ground", [None, "18 AWG", "14 AWG", "12 AWG", "4 AWG"]),
            ("trade_size", ["4 x 2-1/8 octagon", "4 x 1-1/2 octagon", "4 x 1-1/4 octagon", None]),
            ("volume", [1e-3, 3e-4, 1e-5, None]),
        ],
    )
    def test_of_the_box(self, entry, best_to_worst):
        # Table 314.16(A): 21.5, 15.5 and 12.5 in^3
        built = circuit(box("b"), *feeds(("14 AWG", 2)))
        key = direction(RULE, built, f"box.{entry}", "b")
        keys = [key(value) for value in best_to_worst]
        assert all(one < other for one, other in pairwise(keys))

    @pytest.mark.parametrize(
        ("entry", "value"),
        [
            ("devices", (device(size="12 AWG"),)),  # instead of one at the largest size here
            ("devices", (device(), device(size="14 AWG"))),
            ("fixture_wires", (fixture_wires("12 AWG", 2),)),  # instead of 18 AWG
            ("other_cables", (OtherCable(size="12 AWG", conductors=3),)),  # instead of a 12/2
        ],
    )
    def test_what_is_assumed_instead_may_be_thicker_or_thinner(self, entry, value):
        built = circuit(box("b"), *feeds(("14 AWG", 2)))
        assert direction(RULE, built, f"box.{entry}", "b")(value) is EACH

    @pytest.mark.parametrize(
        ("there", "either_way"),
        [
            ((), False),
            ((unbroken("14 AWG", 2),), True),
            ((unbroken("14 AWG", 0),), False),
            ((unbroken("14 AWG", 2, other_circuit=True),), False),
            ((unbroken("14 AWG", 2, other_circuit=True), unbroken("14 AWG", 2)), True),
        ],
    )
    @pytest.mark.parametrize("part", ["c0", "c1"])
    def test_of_a_cable_to_a_box_where_conductors_run_through(self, there, either_way, part):
        """What runs through unbroken takes the place of ends of the same size, so that more ends may need less."""
        built = circuit(box("b", unbroken=there), box("out 1"), *feeds(("14 AWG", 2), ("14 AWG", 2)))
        size, conductors = (direction(RULE, built, f"cable.{entry}", part) for entry in ("size", "conductors"))
        if either_way:
            assert size("14 AWG") is EACH is conductors(2)
        else:
            assert size("14 AWG") < size("12 AWG")
            assert conductors(2) < conductors(3)
