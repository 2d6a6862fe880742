"""The drawing of the circuit and the four gauges, as text."""

import tomllib
from collections.abc import Sequence
from pathlib import Path

import pytest

from circuitcheck.checking import check
from circuitcheck.circuit.written.block import blocks_of
from circuitcheck.cli.finding_page import finding_lines
from circuitcheck.cli.lines import PageStyle
from circuitcheck.findings import Finding, Outcome
from circuitcheck.ui.differences import number_shown
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.drawing import circuit_drawing, part_and_entry, straight_runs
from circuitcheck.ui.examining import examine
from circuitcheck.ui.finding_text import finding_page
from circuitcheck.ui.gauges import Gauge, box_gauge, breaker_gauge, lamp_gauge
from circuitcheck.ui.spans import line_text, wrapped
from circuitcheck.ui.starting.choice import Choice
from circuitcheck.ui.starting.file import REST, starting_text, suggested_path
from circuitcheck.ui.starting.questions import QUESTIONS
from tests.rules import build
from tests.rules.build import circuit, load

HEAD = 'format = 1\n[job]\ntitle = "t"\nrulebook = "nec-2023"\n[supply]\nvoltage = "120 V"\nbreaker = "15 A"\n'


def box(name: str, origin: str = "existing") -> str:
    return f'[[box]]\nid = "{name}"\norigin = "{origin}"\n'


def cable(name: str, start: str, end: str, origin: str = "existing") -> str:
    return f'[[cable]]\nid = "{name}"\nfrom = "{start}"\nto = "{end}"\norigin = "{origin}"\n'


def drawn(text: str, findings=()) -> list[str]:
    blocks = blocks_of(text, tomllib.loads(text))
    return [line_text(part.line()).rstrip() for part in circuit_drawing(blocks, findings)]


def test_a_chain_stays_in_one_column_and_side_runs_are_indented() -> None:
    text = HEAD + box("a") + box("b") + box("c", "added") + box("side")
    text += cable("1", "panel", "a") + cable("s", "a", "side") + cable("2", "a", "b") + cable("3", "b", "c", "added")
    text += '[[load]]\nid = "lamp"\nbox = "b"\nkind = "light"\npower = "label 60 W"\n'
    assert drawn(text)[1:] == [
        "  ■ panel  15 A breaker, 120 V",
        "  │ cable 1  wire not known, length not known",
        "  ■ box a  size not known",
        "  ├─cable s  wire not known, length not known",
        "  │ ■ box side  size not known",
        "  │ cable 2  wire not known, length not known",
        "  ■ box b  size not known",
        "  ├ + light lamp  60 W (added)",
        "  │ + cable 3  wire not known, length not known (added)",
        "  ■ + box c  size not known (added)",
    ]


def test_a_chain_of_thousands_needs_no_recursion_and_no_width() -> None:
    count = 3000
    text = HEAD + "".join(box(f"b{i}") for i in range(count))
    text += cable("c0", "panel", "b0") + "".join(cable(f"c{i}", f"b{i - 1}", f"b{i}") for i in range(1, count))
    lines = drawn(text)
    assert len(lines) == 2 + 2 * count
    assert max(map(len, lines)) < 60


def test_drivers_hang_their_own_runs_and_loose_parts_come_last() -> None:
    text = HEAD + box("a") + box("lost") + cable("1", "panel", "a")
    text += '[[driver]]\nid = "d"\nbox = "a"\n[[low_voltage_load]]\nid = "strip"\n' + cable("lv", "d", "strip", "added")
    lines = drawn(text)
    assert lines[4:] == [
        "  ├ + driver d (added)",
        "  │ │ + cable lv  wire not known, length not known (added)",
        "  │ ├ + low-voltage light strip  watts not known (added)",
        "  Not joined to the panel yet:",
        "  ■ box lost  size not known",
    ]


def test_what_goes_straight_on_stays_straight_when_a_part_is_added() -> None:
    def drawing(text: str):
        blocks = blocks_of(text, tomllib.loads(text))
        straight = straight_runs(blocks)
        names = [part.name for part in circuit_drawing(blocks, (), straight)]
        return names, straight, {block.number: block.id for block in blocks}

    def numbered(straight, ids, blocks):
        """The same choice for blocks that were made anew."""
        return {node: next(b.number for b in blocks if b.id == ids[number]) for node, number in straight.items()}

    text = HEAD + "".join(box(name) for name in "abcd")
    text += cable("1", "panel", "a") + cable("2", "a", "b") + cable("3", "b", "c") + cable("4", "a", "d")
    before, straight, ids = drawing(text)
    longer = text + box("e") + box("f") + cable("5", "d", "e") + cable("6", "e", "f")
    blocks = blocks_of(longer, tomllib.loads(longer))
    kept = numbered(straight, ids, blocks)
    assert straight_runs(blocks)["a"] != kept["a"], "the other run is the longer one now"
    after = [part.name for part in circuit_drawing(blocks, (), straight_runs(blocks, kept))]
    assert [name for name in after if name in before] == before
    assert [name for name in after if name not in before] == ["cable 5", "box e", "cable 6", "box f"]


@pytest.mark.parametrize("origin", ["", 'origin = "added"\n', 'origin = "existing"\n'])
def test_a_part_without_origin_looks_as_in_the_note(origin: str) -> None:
    from circuitcheck.circuit.reader import read_circuit
    from circuitcheck.tables.rulebook import vocabulary
    from tests.note.build import noted

    text = HEAD + box("a") + cable("1", "panel", "a")
    text += f'[[load]]\nid = "x"\nbox = "a"\nkind = "light"\n{origin}'
    on_paper = "NEW" in noted(read_circuit(text, "x", vocabulary())).text(".txt")
    (line,) = [line for line in drawn(text) if "light x" in line]
    assert ("+ light x" in line and "(added)" in line) is on_paper


def test_a_loop_in_a_wrong_file_is_drawn_once() -> None:
    text = HEAD + box("a") + box("b") + cable("1", "panel", "a") + cable("2", "a", "b") + cable("3", "b", "a")
    assert len(drawn(text)) == 2 + 5


def test_the_worst_answer_about_a_part_stands_before_it() -> None:
    text = HEAD + box("a") + cable("1", "panel", "a")
    findings = [
        Finding(check="x", subject="a", outcome=Outcome.CAUTION, says="", keys=("box.a.volume",)),
        Finding(check="y", subject="a", outcome=Outcome.FAIL, says="", needs=("box.a.trade_size",)),
        Finding(check="z", subject="circuit", outcome=Outcome.UNDETERMINED, says=""),
        Finding(check="p", subject="1", outcome=Outcome.PASS, says=""),
    ]
    assert [line[0] for line in drawn(text, findings)] == [" ", "?", " ", "✗"]


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("cable.feed.length", ("cable.feed", "length")),
        ("supply.breaker", ("supply", "breaker")),
        ("box.a.b.c.volume", ("box.a.b.c", "volume")),
        ("box.hall.devices.#1.size", ("box.hall", "devices")),
        ("box.hall.extensions.#2", ("box.hall", "extensions")),
    ],
)
def test_what_a_key_path_names(path: str, expected: tuple[str, str]) -> None:
    assert part_and_entry(path) == expected


def test_a_bar_has_numbers_and_a_word_and_gives_way_last() -> None:
    gauge = Gauge("Breaker", "9.5 to 12 of 15 A, 80 %", "12 of 15 A", 9.5 / 15, 12 / 15, Outcome.CAUTION)
    wide = line_text(gauge.line(70))
    assert wide == "Breaker [███████████████▒▒▒▒░░░░░] 9.5 to 12 of 15 A, 80 % CAUTION"
    assert line_text(gauge.line(40)) == "Breaker [███████▒▒░░] 12 of 15 A CAUTION"
    assert line_text(gauge.line(30)) == "Breaker 12 of 15 A CAUTION"
    over = Gauge("Box x", "16 of 10 in³", "", 1.6, 1.6, Outcome.FAIL)
    assert "▶" in line_text(over.line(60))
    assert "FAIL" in line_text(over.line(60))


def test_wrapping_breaks_between_words_and_never_loses_a_letter() -> None:
    text = "one two " + "W" * 50 + " 名前の長い部屋"
    lines = wrapped(text, 12)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(len(line) <= 12 for line in lines)


ANSWERS = {"breaker": "15 A", "rulebook": "nec-2023", "lights to add": 2}


def can_be_checked(answers: dict[str, object], folder: Path) -> None:
    """The answers give a file without a problem; the rest stays unknown."""
    text = starting_text(answers)
    document = Document(suggested_path(answers, folder), text, on_disk=None)
    assert document.text == text
    checked = examine(document.blocks, "x")
    assert checked.problems == (), answers
    assert checked.fault == ""
    assert checked.report is not None


def test_a_handful_of_answers_is_a_circuit_that_can_be_checked(folder: Path) -> None:
    """Every choice of every question, the first of each together, then the second of each …"""
    choices = {question.name: question.choices({}) or (Choice("", ""),) for question in QUESTIONS}
    for place in range(max(map(len, choices.values()))):
        chosen = {name: each[place].value for name, each in choices.items() if place < len(each)}
        can_be_checked(ANSWERS | chosen, folder)


@pytest.mark.long
def test_every_answer_alone_is_a_circuit_that_can_be_checked(folder: Path) -> None:
    for question in QUESTIONS:
        for choice in question.choices({}) or (Choice("", ""),):
            can_be_checked(ANSWERS | {question.name: choice.value}, folder)


def test_names_that_the_file_uses_already_are_left_free(folder: Path) -> None:
    loads = [
        {"id": name, "kind": "light"}
        for name in ("feed", "starting box", "onward", "new light", "new light cable", "panel", "feed", REST)
    ]
    text = starting_text({"breaker": "15 A", "rulebook": "nec-2023", "lights to add": 1, "goes dark": loads})
    document = Document(folder / "x.circuit.toml", text, on_disk=None)
    assert examine(document.blocks, "x").problems == ()


_UNKNOWN = Gauge(
    "Farthest lamp", "volts not known yet", "not known yet", outcome=Outcome.UNDETERMINED, short_name="Volts"
)
_KNOWN = Gauge(
    "Farthest, vacuum cleaner", "116.7 V, 2.75 % lost", "116.7 V", 0.9, 0.9, Outcome.CAUTION, None, "Farthest"
)


@pytest.mark.parametrize(
    ("gauge", "width", "line"),
    [
        (_UNKNOWN, 39, "Farthest lamp not known yet CANNOT TELL"),
        (_UNKNOWN, 38, "Volts not known yet CANNOT TELL"),
        (_KNOWN, 37, "Farthest, vacuum cle… 116.7 V CAUTION"),
        (_KNOWN, 28, "Farthest 116.7 V CAUTION"),
    ],
)
def test_no_name_is_cut_to_a_stump(gauge: Gauge, width: int, line: str) -> None:
    assert line_text(gauge.line(width)) == line


def beside_one_without_a_bound(watts: float, **entries):
    """A light of so many watts on a cable, and another one there of which nobody knows how much it draws."""
    lamp, other = load("lamp", "a", power_w=watts, min_voltage_v=110), load("other", "a", power_w=None, kind="light")
    return circuit(build.box("a"), build.cable("1", "panel", "a", **entries), lamp, other)


def found_in(findings: Sequence[Finding], check_name: str, subject: str) -> Finding:
    return next(each for each in findings if (each.check, each.subject) == (check_name, subject))


def test_what_fails_and_has_no_bound_is_never_shown_by_its_best_alone() -> None:
    # 2400 W / 120 V = 20 A, 133 % of 15 A; what the other light draws comes on top.
    findings = check(beside_one_without_a_bound(2400, length_m=5), build.book()).findings
    share = found_in(findings, "load-share", "circuit")
    assert (share.outcome, share.low, share.high, share.is_without_bound) == (Outcome.FAIL, 20.0, None, True)
    gauge = breaker_gauge(findings)
    assert (gauge.says, gauge.short) == ("at least 20 of 15 A, 133 % or more", "at least 20 of 15 A")
    assert line_text(gauge.line(60)).endswith("▶] at least 20 of 15 A, 133 % or more FAIL")
    assert any(line_text(line).endswith("at least 20 A, limit 15 A FAIL") for line in finding_page(share, "", 80))
    assert any("value at least 20 A, limit 15 A" in line for line in finding_lines(share, PageStyle(width=80)))
    assert number_shown(share) == "at least 20"


def test_the_volts_of_a_lamp_whose_loss_has_no_bound_are_the_most_that_arrives() -> None:
    # 14 AWG: 3.07 ohm for 1000 ft (NFPA 70, chapter 9, Table 8), so 2 x 100 m are 2.014 ohm. 1000 W at the end of it
    # take V (120 - V) / 2.014: V = (120 + sqrt(120² - 4 x 1000 x 2.014)) / 2 = 99.82 V, 16.8 % less. The light beside
    # it can only take more. It is not told itself, and what fails stands before what is open.
    known = beside_one_without_a_bound(1000, length_m=100)
    findings = check(known, build.book()).findings
    gauge = lamp_gauge(findings, known)
    assert (gauge.name, gauge.outcome) == ("Farthest, lamp", Outcome.FAIL)
    assert (gauge.says, gauge.short) == ("at most 99.82 V, at least 16.8 % lost", "at most 99.82 V")


def told(subject: str, outcome: Outcome, value: float | None = None, check_name: str = "box-fill") -> Finding:
    limit = 3.0 if check_name == "voltage-drop" else 15.0
    return Finding(
        check=check_name, subject=subject, outcome=outcome, says="", value=value, limit=limit, low=value, high=value
    )


def test_the_worst_answer_is_the_one_that_stands_on_top() -> None:
    full, half = told("full", Outcome.PASS, 14.0), told("half", Outcome.PASS, 7.0)
    open_, over = told("open", Outcome.UNDETERMINED), told("over", Outcome.FAIL, 16.0)
    assert box_gauge([half, full]).name == "Box full"
    assert box_gauge([half, open_, full]).name == "Box open"
    assert box_gauge([half, open_, over]).name == "Box over"
    assert box_gauge([]).says == "none counted yet"
    lamp, dark = (
        told("lamp", Outcome.CAUTION, 4.0, "voltage-drop"),
        told("dark", Outcome.FAIL, check_name="voltage-drop"),
    )
    circuit_of_120_v = circuit(build.box("a"))
    assert lamp_gauge([lamp], circuit_of_120_v).says == "115.2 V, 4 % lost"
    assert line_text(lamp_gauge([lamp, dark], circuit_of_120_v).line(60)) == "Farthest, dark no voltage works FAIL"
    unknown = told("unknown", Outcome.UNDETERMINED, check_name="voltage-drop")
    assert lamp_gauge([lamp, unknown], circuit_of_120_v).says == "volts not known yet"
