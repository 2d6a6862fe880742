"""The order of work takes out what is replaced before it joins anything, with the power off."""

from circuitcheck.advice.order import order_of_work
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.tables.rulebook import vocabulary
from tests.advice.known_circuits import CASES, ROOT

HALLWAY = (ROOT / "examples" / "hallway.circuit.toml").read_text("utf-8")
PLANNED = """
[[change]]
part = "box.attic"
action = "replace"
new = { trade_size = "4 x 2-1/8 octagon", material = "metal", internal_clamps = true }

[[change]]
part = "supply"
action = "alter"
new = { protection = "arc-fault" }
"""
OUT = "Take out what is replaced or goes, with the power off"


def phases(text):
    circuit = as_planned(read_circuit(text, "a", vocabulary()))
    return {phase.title: phase.steps for phase in order_of_work(circuit, wiring_of(circuit))}


def test_a_replaced_box_comes_out_before_it_is_joined_and_is_not_set_as_a_new_box():
    order = phases(HALLWAY + PLANNED)
    titles = list(order)
    assert titles.index(OUT) < titles.index("Last of all, join it to what is there")
    steps = order[OUT]
    assert "breaker" in steps[0]
    assert "dead test" in steps[0]
    assert "Take the box out" in steps[1]
    assert steps[2].startswith('Set the new box "attic" in its place')
    assert "licensed electrician" in steps[3]  # the panel is not for the owner
    others = " ".join(step for title, told in order.items() if title != OUT for step in told)
    assert "Set the new " in others
    assert "attic" not in next(step for step in others.split(".") if "Set the new " in step)
    assert "attic" in " ".join(order["Last of all, join it to what is there"])


def test_a_light_that_is_changed_for_another_comes_off_its_box():
    order = phases((CASES / "a21-a-light-changed-for-another.circuit.toml").read_text("utf-8"))
    assert any('Take "ceiling lamp" off its box' in step for step in order[OUT])


def test_a_plan_without_changes_takes_nothing_out():
    assert OUT not in phases(HALLWAY)


def test_what_goes_goes_with_what_hangs_on_it():
    order = phases(HALLWAY + '\n[[change]]\npart = "cable.to landing outlet"\naction = "remove"\n')
    told = " ".join(order[OUT])
    assert 'Free the old cable "to landing outlet"' in told
    assert "An end in the panel is for a licensed electrician" in told
