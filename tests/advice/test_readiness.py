"""How far a plan is, and what its steps say."""

from dataclasses import replace

from circuitcheck.advice.directory import directory_wording
from circuitcheck.advice.order import checks_after, dead_test_steps, order_of_work, order_until_known
from circuitcheck.advice.readiness import State, readiness_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check
from circuitcheck.tables.rulebook import load_rulebook
from tests.advice.build import example
from tests.rules.build import box, cable, circuit, control, load, site, supply


def readiness(name):
    built, report, _ = example(name)
    return readiness_of(report, wiring_of(built))


def test_each_example_is_as_far_as_its_findings_let_it():
    assert readiness("bedroom").state is State.NOTHING_OPEN
    assert readiness("hallway").state is State.MUST_CHANGE
    assert readiness("den").state is State.UNKNOWN
    assert readiness("old-house").state is State.STOP


def test_boxes_that_cannot_be_told_alone_keep_a_plan_from_being_ready():
    built, report, _ = example("den")
    calm = replace(report, findings=())
    ready = readiness_of(calm, wiring_of(built))
    assert ready.state is State.UNKNOWN
    assert ready.untold == ("bookcase", "ceiling")


def test_with_a_shared_neutral_both_breakers_go_off():
    assert "BOTH breakers" in " ".join(dead_test_steps(circuit(supply(shared_neutral=True)), ()))
    unknown = " ".join(dead_test_steps(circuit(supply(shared_neutral=None)), ()))
    assert "Unknown whether another circuit shares" in unknown
    assert "breakers" not in " ".join(dead_test_steps(circuit(supply(shared_neutral=False)), ()))


def test_a_fuse_is_taken_out():
    text = " ".join(dead_test_steps(circuit(supply(device="fuse")), ()))
    assert "Take the fuse out" in text
    assert "Switch it off. Lock" not in text


def test_the_dead_test_proves_the_tester_before_and_after():
    steps = dead_test_steps(circuit(), ("attic",))
    live = [number for number, step in enumerate(steps) if "live" in step and "tester" in step]
    tested = next(number for number, step in enumerate(steps) if step.startswith("Test every pair"))
    assert min(live) < tested < max(live)


def test_power_comes_last_and_what_exists_is_joined_after_what_is_new():
    built, _, _ = example("hallway")
    phases = [phase.title for phase in order_of_work(built, wiring_of(built))]
    new, old = "Make up the new boxes, farthest first", "Last of all, join it to what is there"
    assert phases.index("Set boxes, run and staple the new cable, joined to nothing") < phases.index(new)
    assert phases.index(new) < phases.index("Show it while it is open") < phases.index(old)
    assert phases[-1] == "Close, then power"
    steps = [step for phase in order_of_work(built, wiring_of(built)) for step in phase.steps]
    power = next(number for number, step in enumerate(steps) if "switch on" in step)
    assert power == len(steps) - 2  # after it stands only what to do when it trips
    joined = next(number for number, step in enumerate(steps) if step.startswith("Join grounds first"))
    dead = max(number for number, step in enumerate(steps) if "whole dead test" in step)
    assert dead < joined < power


def test_an_existing_box_is_entered_in_a_stretch_of_its_own_that_ends_with_the_power_back():
    built, _, _ = example("hallway")
    phases = {phase.title: phase.steps for phase in order_of_work(built, wiring_of(built))}
    steps = phases['At existing box "attic", with the power off']
    words = ("Shut off", "Take the fixture down (attic lamp)", "Photograph", "Open a knockout", "Cap every splice")
    places = [next(place for place, step in enumerate(steps) if step.startswith(word)) for word in words]
    assert places == sorted(places)
    assert "restore the power" in steps[-1]


def test_three_way_switches_are_tried_in_both_positions_of_the_other():
    built = circuit(
        box("a"),
        box("b"),
        cable("feed", "panel", "a"),
        cable("on", "a", "b", conductors=3),
        control("one", "a", ways="three-way", with_id="two"),
        control("two", "b", ways="three-way", with_id="one"),
        load("lamp", "b", power_w=5, switched_by="one"),
    )
    report = check(built, load_rulebook(built.job.rulebook))
    assert any("in both positions of the others" in line for line in checks_after(built, report))


def test_while_something_is_unknown_the_order_ends_before_anything_is_joined():
    built, report, _ = example("den")
    ready = readiness_of(report, wiring_of(built))
    phases = order_until_known(built, ready)
    assert phases[0].title == "Settle first: until then nothing is cut or run"
    steps = " ".join(step for phase in phases for step in phase.steps)
    assert "make this plan again" in steps
    assert "Join" not in steps


def test_the_checks_name_each_switch_with_what_it_turns_off():
    built, report, _ = example("bedroom")
    checks = " ".join(checks_after(built, report))
    assert "Switch door turns off ceiling lamp, left light, right light, and nothing else." in checks


def test_the_directory_tells_rooms_and_what_was_added():
    built, _, _ = example("hallway")
    assert directory_wording(built) == (
        "attic, hallway; attic lamp, landing lamps, vacuum cleaner; added: wall light 1, wall light 2, wall light 3"
    )


def test_a_directory_line_stays_short_with_many_loads():
    parts = [box("b"), cable("feed", "panel", "b", origin="existing")]
    parts += [load(f"lamp {number}", "b", power_w=5) for number in range(40)]
    assert "40 loads" in directory_wording(circuit(*parts, site(room="hallway")))


def test_a_permit_that_was_not_asked_comes_first():
    built = circuit(site(permit="not asked"), box("b"), cable("feed", "panel", "b"), load("l", "b", power_w=5))
    first = order_of_work(built, wiring_of(built))[0].steps[0]
    assert "permit office" in first
