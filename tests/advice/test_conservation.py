"""No conductor gets lost: every end in an opened box is in one joint, or named among those that cannot be told."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.advice.carrying import carried_by_cable
from circuitcheck.advice.joints import EndKind, JointKind
from circuitcheck.advice.nets import NEUTRAL, NetKind
from circuitcheck.advice.switching import switching_of
from circuitcheck.advice.wiring import wiring_of
from tests.advice.build import insulated_ends
from tests.rules.build import box, cable, circuit, control, device, driver, fixture_wires, load, supply, unbroken

CARRIES = (None, "feed", "switched", "feed and switched", "switch loop", "travelers")
maybe = st.none() | st.booleans()


@st.composite
def circuits(draw):
    """Trees of up to eight boxes with anything in them, said or not said."""
    count = draw(st.integers(1, 8))
    names = [f"b{number}" for number in range(count)]
    controls = [
        control(
            f"s{number}",
            draw(st.sampled_from(names)),
            origin=draw(st.sampled_from(("existing", "added"))),
            kind=draw(st.sampled_from((None, "switch", "dimmer", "sensor"))),
            ways=draw(st.sampled_from((None, "single-pole", "three-way", "four-way"))),
            with_id=draw(st.sampled_from((None, "s0", "s1", "s2"))),
            needs_neutral=draw(maybe),
        )
        for number in range(draw(st.integers(0, 3)))
    ]
    known = [one.id for one in controls]
    switch = st.none() | st.sampled_from(known) if known else st.none()
    parts = [supply(shared_neutral=draw(maybe)), *controls]
    for number, name in enumerate(names):
        parts.append(
            box(
                name,
                origin=draw(st.sampled_from((None, "existing", "added"))),
                material=draw(st.sampled_from((None, "metal", "nonmetallic"))),
                neutral=draw(maybe),
                devices=tuple(
                    device(kind) for kind in draw(st.lists(st.sampled_from(("switch", "receptacle")), max_size=2))
                ),
                fixture_wires=draw(st.sampled_from(((), (fixture_wires("18 AWG", 2),), (fixture_wires("18 AWG", 3),)))),
                fixture_ground=draw(st.sampled_from((None, "18 AWG"))),
                unbroken=draw(st.sampled_from(((), (), (unbroken("14 AWG", 2),), (unbroken("12 AWG", 1),)))),
            )
        )
        parts.append(
            cable(
                f"c{number}",
                "panel" if number == 0 else draw(st.sampled_from(("panel", *names[:number]))),
                name,
                origin=draw(st.sampled_from((None, "existing", "added"))),
                size=draw(st.sampled_from((None, "14 AWG", "12 AWG"))),
                conductors=draw(st.sampled_from((None, 1, 2, 3, 4))),
                ground=draw(maybe),
                carries=draw(st.sampled_from(CARRIES)),
                switched_by=draw(switch),
            )
        )
    parts += [
        load(
            f"l{number}",
            draw(st.sampled_from(names)),
            origin=draw(st.sampled_from((None, "existing", "added"))),
            kind=draw(st.sampled_from((None, "light", "receptacle", "fan"))),
            grounding=draw(st.sampled_from((None, "wire", "none"))),
            switched_by=draw(switch),
        )
        for number in range(draw(st.integers(0, 4)))
    ]
    if draw(st.booleans()):
        parts.append(driver("d", draw(st.sampled_from(names))))
    return circuit(*parts)


def all_ends(one):
    ends = [end for joint in one.joints.joints for end in joint.ends]
    return ends + [untold.end for untold in one.joints.untold]


def every_insulated_end_of_every_cable_is_somewhere_once(built, wiring):
    for one in wiring:
        counted = insulated_ends(one)
        for run in built.tree.cables_at.get(one.box.id, ()):
            expected = 1 if run.conductors is None else run.conductors  # an unknown number is named once
            assert counted.pop(run.id, 0) == expected, run.id
        assert not counted


def every_ground_and_every_wire_of_a_part_is_somewhere_once(built, wiring):
    for one in wiring:
        grounds = Counter(end.cable for end in all_ends(one) if end.cable and end.net.kind is NetKind.GROUND)
        there = built.tree.cables_at.get(one.box.id, ())
        assert grounds == Counter(run.id for run in there if run.ground is not False)
        wires = sum(each.count for each in one.box.fixture_wires)
        lights = [each for each in built.tree.loads_at.get(one.box.id, ()) if each.kind != "receptacle"]
        leads = [end for end in all_ends(one) if end.kind is EndKind.LEAD and end.net.kind is not NetKind.GROUND]
        drivers = {each.id for each in built.tree.drivers_at.get(one.box.id, ())}
        counted = bool(drivers) and wires == 2 * (len(lights) + len(drivers))  # the leads of drivers are among them
        names = {each.id for each in lights} | {"luminaire"} | (drivers if counted else set())
        if wires:
            assert len([end for end in leads if end.part in names]) == wires
        else:
            terminals = [end for end in all_ends(one) if end.part in names and end.kind is EndKind.TERMINAL]
            assert len(terminals) == 2 * len(lights)


def neutral_and_hot_never_meet_and_no_splice_stands_alone(built, wiring):
    for one in wiring:
        for joint in one.joints.joints:
            assert {end.net for end in joint.ends} == {joint.net}
            assert joint.net.told
            assert len(joint.ends) == 1 if joint.kind is JointKind.CAPPED else len(joint.ends) >= 2
        nets = [joint.net for joint in one.joints.joints if joint.kind is not JointKind.THROUGH]
        assert len(nets) == len(set(nets))


def a_cable_never_says_one_net_twice(built, wiring):
    switching = switching_of(built)
    for run_id, carried in carried_by_cable(built, switching).items():
        told = [net for net in carried.nets or () if net.told]
        assert len(told) == len(set(told)), run_id
        assert told.count(NEUTRAL) <= 1


def every_end_that_is_left_open_says_why(built, wiring):
    for one in wiring:
        assert all(untold.why for untold in one.joints.untold)


@settings(max_examples=200, deadline=None)
@given(circuits())
def test_no_conductor_gets_lost(built):
    """To draw a circuit takes longer than all that is asked of it: each is held to everything."""
    wiring = wiring_of(built)
    every_insulated_end_of_every_cable_is_somewhere_once(built, wiring)
    every_ground_and_every_wire_of_a_part_is_somewhere_once(built, wiring)
    neutral_and_hot_never_meet_and_no_splice_stands_alone(built, wiring)
    a_cable_never_says_one_net_twice(built, wiring)
    every_end_that_is_left_open_says_why(built, wiring)
