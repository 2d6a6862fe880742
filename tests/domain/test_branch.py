"""The branch circuit as a tree of nodes: what the panel itself sees, ends of the way, loops that several boxes share.

Resistance by hand from NFPA 70, Chapter 9, Table 8: 14 AWG solid copper 3.07 ohm per 1000 ft at 75 degC.
"""

from itertools import pairwise

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.branch import (
    Loss,
    arriving_v,
    branch,
    loss_to,
    node_impedance,
    solved_around,
    way_is_in_tables,
    way_sources,
    way_to,
)
from circuitcheck.domain.unlisted_loss import unlisted_loss
from tests.rules.build import FOOT, book, box, cable, circuit, control, driver, load, supply

#: There and back through 100 ft of 14 AWG [ohm].
OHM = 0.614


def case_with(*parts):
    return case_of(circuit(*parts), book())


def chain(count=3, watts=60, on=(), **given):
    """Boxes one behind the other, 100 ft apart, with a lamp in each."""
    names = ["panel", *(f"b{number}" for number in range(count))]
    parts = [supply(**dict(on))]
    for start, end in pairwise(names):
        parts += [box(end), cable(f"to {end}", start, end, length_m=100 * FOOT, **given)]
        parts += [load(f"l {end}", end, power_w=watts)]
    return case_with(*parts)


def test_nothing_is_lost_up_to_the_panel_itself():
    case = chain()
    assert loss_to(case, -1) == Loss(0.0, 0.0, -1)
    assert way_is_in_tables(case, -1)
    assert way_to(case, -1, 5) == []
    assert arriving_v(case, -1) == 120


def test_behind_an_impedance_the_panel_itself_has_less():
    # 1190 W at 119 V are 10 A, which lose 1 V in 0.1 ohm: 120 - 1 = 119 V
    case = case_with(
        supply(impedance_ohm=0.1), box("b"), cable("c", "panel", "b", length_m=1e-6), load("l", "b", power_w=1190)
    )
    assert arriving_v(case, -1) == pytest.approx(119)
    assert loss_to(case, 0).before_panel_v == pytest.approx(1)
    measured = case_with(
        supply(impedance_ohm=0.1, measured_voltage_v=120), box("b"), cable("c", "panel", "b", length_m=1e-6),
        load("l", "b", power_w=1190),
    )  # fmt: skip
    assert arriving_v(measured, -1) == pytest.approx(119)


def test_without_a_cable_the_panel_has_what_is_read_there():
    assert arriving_v(case_with(supply(measured_voltage_v=118, impedance_ohm=0.1)), -1) == 118
    assert arriving_v(case_with(supply(measured_voltage_v=118)), -1) == 118
    assert arriving_v(chain(on={"measured_voltage_v": 117}), -1) == 117


def test_the_way_is_upstream_first_and_cut_at_its_begin():
    case = chain(4)
    assert way_to(case, 3, 24) == [0, 1, 2, 3]
    assert way_to(case, 3, 2) == [2, 3]
    assert [node.depth for node in branch(case).nodes] == [1, 2, 3, 4]
    assert [node.above for node in branch(case).nodes] == [-1, 0, 1, 2]
    assert branch(case).legs == [[0, 1, 2, 3]]
    assert [node.leg for node in branch(case).nodes] == [0, 0, 0, 0]
    assert not any(node.is_loop or node.switched for node in branch(case).nodes)
    assert not hasattr(branch(case).nodes[0], "__dict__")  # nothing else can be noted on it


def test_the_cable_that_loses_most_lies_before_what_it_feeds():
    # Currents 3, 2 and 1 times 0.5 A: the first cable loses most for all of them.
    assert [loss_to(chain(), node).largest for node in range(3)] == [0, 0, 0]
    last = case_with(
        box("a"), box("b"), cable("short", "panel", "a", length_m=1), cable("long", "a", "b", length_m=100),
        load("l", "b", power_w=60),
    )  # fmt: skip
    assert [loss_to(last, node).largest for node in range(2)] == [0, 1]


def test_legs_do_not_know_of_one_another_without_an_impedance_before_them():
    def two(**on):
        case = case_with(
            supply(**on), box("a"), box("b"),
            cable("one", "panel", "a", length_m=100 * FOOT), cable("two", "panel", "b", length_m=100 * FOOT),
            load("l", "a", power_w=600), load("m", "b", power_w=600),
        )  # fmt: skip
        return case, [loss_to(case, node).lost_v for node in range(2)]

    case, (first, second) = two()
    assert branch(case).legs == [[0], [1]]
    assert first == second
    # 600 W through 0.614 ohm from 120 V: v = 60 + sqrt(60^2 - 600 x 0.614) = 116.85 V
    assert first == pytest.approx(120 - 116.85, abs=0.01)
    shared, losses = two(impedance_ohm=0.2)
    assert losses == pytest.approx([first, first], rel=0.05)
    assert losses[0] > first  # the others' current lowers the volts, so the same watts take more amperes
    assert solved_around(shared, 0) is solved_around(shared, 1)


def test_a_size_that_no_table_holds_ends_the_way():
    unknown = {"material": "aluminum", "size": "2.5 mm2"}  # IEC 60228 gives the resistance of this one in copper
    case = chain(2, **unknown)
    assert node_impedance(case, 0) is None
    assert not way_is_in_tables(case, 0)
    assert not way_is_in_tables(case, 1)
    assert way_is_in_tables(chain(2), 1)
    mixed = case_with(
        box("a"), box("b"), cable("thin", "panel", "a", **unknown), cable("on", "a", "b"),
        load("l", "b", power_w=60),
    )  # fmt: skip
    assert not way_is_in_tables(mixed, 1)
    assert node_impedance(mixed, 1) is not None


def looped(*lamps):
    """Lamps in boxes a, b and so on, switched through one loop of 100 ft, which leads from box a to the switch."""
    parts = [box("s"), cable("loop", "a", "s", carries="switch loop", length_m=100 * FOOT), control("k", "s")]
    before = "panel"
    for name, watts in zip("abc", lamps, strict=False):
        parts += [box(name), cable(f"to {name}", before, name, length_m=1)]
        if watts is not None:
            parts.append(load(f"l {name}", name, power_w=watts, switched_by="k"))
        before = name
    case = case_with(*parts)
    return case, {part.id: node for part, node in branch(case).at.items()}


def test_lamps_of_one_switch_share_its_loop_by_their_watts():
    # Two lamps of 60 W: each sees the loop twice, since the other's current flows there too. 30 and 90 W: 4 and 4/3.
    for watts, times in (((60,), (1,)), ((60, 60), (2, 2)), ((30, 90), (4, 4 / 3)), ((0, 60), (1, 1))):
        case, at = looped(*watts)
        for name, share in zip("ab", times, strict=False):
            if f"l {name}" in at:
                assert node_impedance(case, at[f"l {name}"]).real == pytest.approx(OHM * share, rel=2e-3)
                assert branch(case).nodes[at[f"l {name}"]].is_loop


def read(amperes, *more, **on):
    return case_with(
        supply(measured_current_a=amperes, **on), box("a"), box("b"),
        cable("first", "panel", "a", length_m=100 * FOOT), cable("second", "a", "b", length_m=50 * FOOT),
        load("l", "b", power_w=120), *more,
    )  # fmt: skip


def costs(case, node):
    """Amperes, and the volts lost in the first cable, besides on the way, and before the panel."""
    return unlisted_loss(case, node)[:4]


def test_a_reading_that_no_load_explains_costs_volts_on_the_way():
    """5 A read, 1 A on the list: 4 A more. 0.614 ohm to the first box, 0.307 ohm on, 0.1 ohm before the panel."""
    loss = costs(read(5, impedance_ohm=0.1), 1)
    assert loss == pytest.approx((4, 4 * OHM, 4 * OHM / 2, 0.4), rel=2e-3)
    assert costs(read(5), 0) == pytest.approx((4, 4 * OHM, 0, 0), rel=2e-3, abs=1e-9)
    assert costs(read(1.5), 0) == pytest.approx((0.5, 0.5 * OHM, 0, 0), rel=2e-3, abs=1e-9)
    assert unlisted_loss(read(1), 1) is None
    assert unlisted_loss(read(None), 1) is None
    assert unlisted_loss(read(5), -1) is None
    # with a second cable from the panel nobody knows which of them carries it
    other = read(5, box("c"), cable("third", "panel", "c"))
    other = costs(other, branch(other).at_box["b"])
    assert other == pytest.approx((4, 0, 4 * OHM * 1.5, 0), rel=2e-3)


def test_a_load_that_no_branch_cable_feeds_costs_volts_on_every_way():
    """3 A of a heater in a box that no cable feeds, and 1 A on the list: with 6 A read, 5 A have no place."""
    apart = box("apart"), load("heater", "apart", current_a=3)
    unread = costs(read(None, *apart, impedance_ohm=0.1), 1)
    assert unread == pytest.approx((3, 0, 3 * OHM * 1.5, 0.3), rel=2e-3)
    assert costs(read(6, *apart), 0) == pytest.approx((5, 0, 5 * OHM, 0), rel=2e-3)


def two_legs(watts=600, **on):
    """100 ft to a and 100 ft to b, each with its load [W], and 100 ft on from a to c with nothing there."""
    return case_with(
        supply(**on), box("a"), box("b"), box("c"),
        cable("one", "panel", "a", length_m=100 * FOOT), cable("two", "panel", "b", length_m=100 * FOOT),
        cable("on", "a", "c", length_m=100 * FOOT),
        load("l", "a", power_w=watts), load("m", "b", power_w=watts),
    )  # fmt: skip


def behind(source, watts, ohm):
    """Volts at a load that keeps its power behind a resistance: the greater root of v^2 - source v + watts ohm."""
    return source / 2 + ((source / 2) ** 2 - watts * ohm) ** 0.5


def test_what_arrives_is_what_is_read_at_the_panel_less_what_is_lost():
    for read, source in ((None, 120), (115, 115)):
        case = two_legs(measured_voltage_v=read)
        at = branch(case).at_box
        there = behind(source, 600, OHM)
        for name in ("a", "b", "c"):
            assert arriving_v(case, at[name]) == pytest.approx(there, rel=1e-3)
        assert arriving_v(case, -1) == source


def test_behind_an_impedance_the_legs_share_what_it_loses():
    """Two loads alike, each behind 0.614 ohm and both behind 0.2: each as if alone behind 0.614 + 2 x 0.2 ohm."""
    for read, source in ((None, 120), (115, 115)):
        case = two_legs(measured_voltage_v=read, impedance_ohm=0.2)
        at = branch(case).at_box
        there = behind(source, 600, OHM + 0.4)
        assert arriving_v(case, at["a"]) == pytest.approx(there, rel=1e-3)
        assert arriving_v(case, at["b"]) == pytest.approx(there, rel=1e-3)
        # 2 x 600 W / v through 0.2 ohm
        assert arriving_v(case, -1) == pytest.approx(source - 0.2 * 1200 / there, rel=1e-3)


def test_loads_that_no_voltage_serves_leave_the_panel_what_it_has():
    """120^2 / (4 x 0.614) = 5863 W are the most that 100 ft can give."""
    case = two_legs(6000)
    assert arriving_v(case, -1) == 120
    assert arriving_v(case, 0) is None
    assert loss_to(case, 0) is None
    assert arriving_v(two_legs(5700), 0) is not None


def test_currents_stand_beside_the_nodes_they_feed():
    # 600 W at 116.85 V in both legs; nothing flows on from a to c
    case = two_legs()
    amperes = pytest.approx(600 / behind(120, 600, OHM), rel=1e-3)
    at = branch(case).at_box
    for name, expected in (("a", amperes), ("b", amperes), ("c", 0)):
        state = solved_around(case, at[name])
        assert state.current_a[state.place[at[name]]] == expected
        assert len(state.current_a) == len(state.lost_v) == len(state.place)


def test_what_no_cable_feeds_is_on_no_node():
    case = case_with(
        box("a"), box("s"), box("b"), cable("f", "panel", "a"), cable("loop", "a", "s", carries="switch loop"),
        control("k", "s"), load("l", "a", power_w=60, switched_by="k"), load("m", "b", power_w=60, switched_by="k"),
        load("n", "a", power_w=60), load("o", "a", power_w=60, switched_by="another"),
        driver("d", "a", power_factor=1), driver("e", "b", power_factor=1),
    )  # fmt: skip
    at = {part.id: node for part, node in branch(case).at.items()}
    assert set(at) == {"l", "n", "o", "d"}
    assert at["n"] == at["o"] == at["d"] == branch(case).at_box["a"] != at["l"]
    assert [load.id for load in branch(case).nodes[at["l"]].switched] == ["l"]


def test_where_the_conductors_of_a_way_stand():
    case = case_with(
        box("a"), box("b"), cable("thin", "panel", "a"), cable("on", "a", "b", size="2.5 mm^2"),
        load("l", "b", power_w=60),
    )  # fmt: skip
    gauge, metric = book().table("conductors").find("14 AWG"), book().table("metric-conductors").find("2.5 mm^2")
    with case.reading.at(lambda entry: 75.0):  # at the table's temperature no coefficient is needed
        assert {gauge.source, metric.source} <= set(way_sources(case, 1, 2))
        assert gauge.source not in way_sources(case, 1, 1)
        assert metric.source not in way_sources(case, 0, 2)
        assert way_sources(case, -1, 2) == ()


def test_a_first_cable_that_no_table_holds_costs_nothing_certain():
    case = case_with(
        supply(measured_current_a=3), box("a"), cable("first", "panel", "a", size="2.5 mm2", material="aluminum"),
        load("l", "a", power_w=120),
    )  # fmt: skip
    assert costs(case, 0) == pytest.approx((2, 0, 0, 0))
