"""Box fill against published worked examples, each with its address, then the directions that must hold."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.box_fill import RULE
from tests.rules.build import (
    CUBIC_INCH,
    EDITIONS,
    between,
    book,
    box,
    cable,
    circuit,
    control,
    device,
    driver,
    findings,
    fixture_wires,
    guess,
    load,
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
        assert found.smallest == "4 x 2-1/8 octagon"

    def test_mixed_sizes_without_canopy(self):
        # ecmweb.com/content/quizzes-code-26, question 2: 4.5 + 4.5 for the No. 12, a 4 x 2-1/8 octagonal box
        found = fill(
            box("b", fittings=("stud",), internal_clamps=True, fixture_wires=(fixture_wires("18 AWG", 2),)),
            *feeds(("12 AWG", 2), ("12 AWG", 2)),
        )
        shares = {part.name: part.value for part in found.parts}
        assert shares["insulated conductors of c0"] + shares["insulated conductors of c1"] == pytest.approx(4.5 + 4.5)
        assert found.smallest == "4 x 2-1/8 octagon"

    def test_switch_box_with_twelves(self):
        # joshthesparky.com/sparkys-journal/boxfill-qotw: eleven No. 12, 24.75 needed in a 21.0 box
        found = fill(
            box("b", trade_size="4 x 1-1/2 square", internal_clamps=True, devices=(device(),)),
            *feeds(("12 AWG", 2), ("12 AWG", 2), ("12 AWG", 3)),
        )
        assert found.value == pytest.approx(24.75)
        assert found.limit == pytest.approx(21.0)
        assert found.outcome is Outcome.FAIL
        assert found.smallest == "4-11/16 x 1-1/4 square"

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
        # the fifth counts, and wires of 14 AWG are not small enough
        five = (fixture_wires("18 AWG", 3), fixture_wires("16 AWG", 2))
        assert self.base(fixture_wires=five, canopy=True).value - self.base().value == pytest.approx(1.5)
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

    def test_metric_counts_as_the_next_size_up(self):
        # 2.5 mm^2 lies between 14 AWG (2.08 mm^2) and 12 AWG (3.31 mm^2), areas of ASTM B258
        found = fill(box("b"), *feeds(("2.5 mm^2", 2), ground=False))
        assert found.value == pytest.approx(2 * 2.25)

    def test_sizes_past_the_table_are_said_so(self):
        found = fill(box("b"), *feeds(("4 AWG", 2)))
        assert found.outcome is Outcome.UNDETERMINED
        assert found.value is None
        assert found.needs == ("cable.c0.size",)


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

    def test_no_table_box_is_big_enough(self):
        found = fill(box("b"), *feeds(*[("12 AWG", 3)] * 9))
        assert found.outcome is Outcome.FAIL
        assert found.smallest is None

    def test_other_shape_where_the_own_has_none(self):
        found = fill(box("b"), *feeds(*[("14 AWG", 2)] * 6))
        assert found.value == pytest.approx(12 * 2 + 2 + 2 * 0.5)
        assert found.smallest == "4-11/16 x 1-1/2 square"


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

    def found(self, *parts, devices=(), volume=14.0):
        # two 14/2 with grounds: 4 conductors and 1 ground are 10 in^3; a yoke would make 14 in^3
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
        assert (found.outcome, found.value) == (Outcome.PASS, pytest.approx(10.0))
        assert found.assumed_keys == ("box.b.devices",)
        assert "dimmer" in found.assumed[0]

    def test_a_list_is_believed(self):
        found = self.found(control("one", "b"), control("two", "b"), devices=(device(),), volume=14.0)
        assert (found.outcome, found.value, found.assumed) == (Outcome.PASS, pytest.approx(14.0), ())

    def test_a_box_that_is_too_full_anyway_still_fails(self):
        found = self.found(control("dimmer", "b"), volume=9.0)
        assert (found.outcome, found.value) == (Outcome.FAIL, pytest.approx(10.0))

    def test_a_light_needs_none(self):
        assert self.found(load("lamp", "b", power_w=60)).assumed == ()


SIZES = st.sampled_from(["18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", None])


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
        assert found.low <= found.high + 1e-9
        assert found.value == found.high
        assert sum(part.value for part in found.parts) == pytest.approx(found.value)

    @settings(max_examples=100, deadline=None)
    @given(boxes_and_cables(), st.sampled_from(EDITIONS), st.data())
    def test_finding_out_stays_within_the_range(self, given_box, edition, data):
        there, cables = given_box
        wide = fill(box("b", **there), *cables, edition=edition)
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


def test_cites_only_what_it_says_it_uses():
    """Every source of a full count stands in a table or value that the rule names."""
    for edition in EDITIONS:
        rulebook = book(edition)
        named = set()
        for name in RULE.uses:
            if name.startswith("value:"):
                value = rulebook.find_value(name.removeprefix("value:"))
                named |= {value.source} if value is not None else set()
            else:
                named |= {row.source for row in rulebook.table(name).rows}
        there = box(
            "b",
            internal_clamps=None,
            fittings=("stud",),
            devices=(device(), device(gangs=2)),
            fixture_wires=(fixture_wires("18 AWG", 6),),
            fixture_ground="18 AWG",
            terminal_blocks=1,
            class_2_barrier=True,
            unbroken=(unbroken("14 AWG", 1), unbroken("14 AWG", 1, loop=True)),
        )
        cables = feeds(*[("14 AWG", 2)] * 6)
        cited = set(findings(RULE, circuit(there, *cables, edition=edition), edition)[0].sources)
        assert cited
        assert cited <= named
