"""One advice for one cause: no two to-dos of a report contradict each other, and nothing there is bought."""

from pathlib import Path

from circuitcheck.advice.cutting import cut_list
from circuitcheck.advice.materials import items_for_changes, materials_of
from circuitcheck.advice.wiring import wiring_of
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

BOOK = load_rulebook("nec-2023")
HALLWAY = (Path(__file__).parents[2] / "examples" / "hallway.circuit.toml").read_text("utf-8")


def report_of(text):
    circuit = read_circuit(text, "a", vocabulary())
    return circuit, check(circuit, BOOK)


def to_do(report, check_name, subject):
    return next(each.to_do for each in report.findings if (each.check, each.subject) == (check_name, subject))


def test_while_the_wire_that_is_there_is_too_thin_nothing_is_planned_on_it():
    """14 AWG behind 20 A (NFPA 70, 240.4(D): 15 A at most): no "plan 12 AWG" beside "do not add anything"."""
    _circuit, report = report_of(HALLWAY.replace('breaker = "label 15 A"', 'breaker = "label 20 A"'))
    assert to_do(report, "breaker-vs-wire", "feed")[0].startswith("Do not add anything")
    assert "settled first" in to_do(report, "breaker-vs-wire", "to wall 1")[0]
    assert to_do(report, "wire-size", "to wall 1") == ()
    assert to_do(report, "ampacity", "feed") == ()


def thin_new_run_on_20_a():
    text = HALLWAY.replace('breaker = "label 15 A"', 'breaker = "label 20 A"')
    head, mark, new = text.partition("# ---- what is to be added")
    return head.replace('size = "14 AWG"\nconductors', 'size = "12 AWG"\nconductors') + mark + new


def test_a_planned_wire_that_is_too_thin_is_planned_thicker_and_nothing_else():
    _circuit, report = report_of(thin_new_run_on_20_a())
    assert to_do(report, "breaker-vs-wire", "to wall 1") == ('Plan 12 AWG for cable "to wall 1".',)
    assert to_do(report, "ampacity", "to wall 1") == ()
    assert not any("Do not add anything" in line for each in report.findings for line in each.to_do)


def test_the_shopping_list_holds_no_wire_that_is_there():
    for text in (HALLWAY, HALLWAY.replace('breaker = "label 15 A"', 'breaker = "label 20 A"'), thin_new_run_on_20_a()):
        circuit, report = report_of(text)
        cuts = cut_list(circuit, BOOK)
        items = (
            *materials_of(circuit, report, BOOK, cuts, wiring_of(circuit)),
            *items_for_changes(circuit, report, BOOK),
        )
        there = {cable.id for cable in circuit.cables if cable.origin == "existing"}
        cable = [item for item in items if "AWG" in item.what and "conductors" in item.what]
        assert cable
        assert not there.intersection(name for item in cable for name in item.where.split(", "))


def test_a_planned_wire_in_hot_air_has_one_advice_and_the_size_with_it():
    """20 A, 12 AWG of 90 degC: 30 A x 0.41 at 76 to 80 degC (Table 310.15(B)(1)) = 12.3 A, next rating 15 A."""
    text = thin_new_run_on_20_a()
    head, mark, new = text.partition("# ---- what is to be added")
    new = new.replace('size = "14 AWG"', 'size = "12 AWG"').replace(
        'place = "attic"', 'place = "attic"\nambient = "78 degC"'
    )
    new = new.replace('place = "inside"', 'place = "attic"\nambient = "78 degC"')
    _circuit, report = report_of(head + mark + new)
    failing = [
        each for each in report.findings if each.outcome is Outcome.FAIL and each.check in ("ampacity", "wire-size")
    ]
    hot = {each.subject for each in failing if each.check == "ampacity"} & {
        each.subject for each in failing if each.check == "wire-size"
    }
    assert hot
    for cable in hot:
        told = to_do(report, "ampacity", cable)
        assert any("cooler space" in line for line in told)
        assert to_do(report, "wire-size", cable) == ()
        assert len({each.cause for each in failing if each.subject == cable}) == 1


def test_while_the_breaker_carries_too_much_nobody_is_told_to_plan_thicker_cable():
    """40 A of lights on 15 A: the drop that follows is no reason for thicker cable."""
    _circuit, report = report_of(
        HALLWAY.replace('power = "label 9 W"', 'power = "label 900 W"').replace("9 W", "900 W")
    )
    assert any(each.check == "load-share" and each.outcome is Outcome.FAIL for each in report.findings)
    for each in report.findings:
        if each.cause == "more load than the breaker may carry" and each.check in ("ampacity", "voltage-drop"):
            assert each.to_do == ()
