"""Every command and every action of the screens while one of the real rules raises.

Each tells it in one line, the other answers stand, nothing says "fits", and a command ends with status 4.
"""

import json

import pytest

from circuitcheck.advice.fixes import fixes_for, fixes_of
from circuitcheck.advice.one_box import CountFaultError
from circuitcheck.api.found_fixes import Fixes
from circuitcheck.case import CaseRule, SizeRule
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_file
from circuitcheck.cli.commands import COMMANDS
from circuitcheck.findings import Outcome, Verdict
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from circuitcheck.ui.box_form import box_lines, counted
from circuitcheck.ui.differences import difference, difference_lines, short_difference
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import examine
from circuitcheck.ui.fixing import search_fixes
from circuitcheck.ui.note_writing import write_note_of
from circuitcheck.ui.plain.pages import answer_page
from circuitcheck.ui.plain.talk import Talk
from circuitcheck.ui.plain.trying import offer_fixes, say_room
from circuitcheck.ui.spans import line_text
from circuitcheck.ui.starting.first_answer import answer_lines, first_answer
from circuitcheck.ui.workbench import Workbench
from tests.ui.conftest import EXAMPLES

LINE = "fault of the program in check {}"
RULES = {rule.name: rule for rule in ALL_RULES}
#: A rule of each kind that has something to say about the hallway of the examples.
RAISES = ("box-fill", "load-share", "wire-size", "stop-first")
HALLWAY = EXAMPLES / "hallway.circuit.toml"


def raising(*arguments, **named):
    raise ZeroDivisionError("a slip of ours")


def made_to_raise(name, when=raising):
    """Makes the one rule, wherever it is held, answer so. Returns what undoes that."""
    rule = RULES[name]
    function = "answer" if isinstance(rule, CaseRule) else "sizes" if isinstance(rule, SizeRule) else "check"
    before = getattr(rule, function)
    object.__setattr__(rule, function, when)
    return lambda: object.__setattr__(rule, function, before)


@pytest.fixture(params=RAISES)
def broken(request):
    undo = made_to_raise(request.param)
    yield request.param
    undo()


@pytest.fixture
def no_room():
    """A rule that raises only once the box is another one than the file has."""
    rule = RULES["box-fill"]
    answer = rule.answer

    def only_of_others(box, case, book):
        if box.id == "attic" and box.trade_size != "4 x 1-1/2 octagon":
            raise ValueError("a slip of ours")
        return answer(box, case, book)

    undo = made_to_raise("box-fill", only_of_others)
    yield
    undo()


#: Of each command that asks rules one way to call it, with OUT for what it writes; the others ask none.
ASKING = {
    "check": (*(("check", way, HALLWAY) for way in ("--json", "--advice", "--brief", "--working")), ("check", HALLWAY)),
    "fixes": (("fixes", HALLWAY), ("fixes", "--json", HALLWAY)),
    "demo": (("demo", "-o", "OUT.html"),),
    "compare": (("compare", HALLWAY, EXAMPLES / "bedroom.circuit.toml"), ("compare", "--rulebooks", HALLWAY)),
    "note": (("note", HALLWAY, "-o", "OUT.txt"),),
    "survey": (("survey", HALLWAY, "-o", "OUT.txt"), ("survey", HALLWAY, "--form", "-o", "OUT.html")),
    "plan": (("plan", HALLWAY, "-o", "OUT.txt"),),
}  # fmt: skip
ASK_NONE = {"product", "tidy", "schema", "tables", "completion"}
SCREENS = {"edit", "serve"}
OF_THEIR_OWN = {"box", "self-test"}


def test_each_command_is_tried_here():
    assert set(COMMANDS) == {*ASKING, *ASK_NONE, *SCREENS, *OF_THEIR_OWN}


def name_of(words):
    return " ".join(str(word) for word in words if "/" not in str(word))


@pytest.mark.parametrize("words", [words for ways in ASKING.values() for words in ways], ids=name_of)
def test_a_command(words, broken, run, tmp_path):
    paths = [tmp_path / str(word) if str(word).startswith("OUT") else word for word in words]
    ran = run(*paths)
    written = next((path.read_text("utf-8") for path in tmp_path.iterdir()), "")
    shown = " ".join(f"{ran.out} {written}".split())
    assert ran.status == 4
    assert " ".join(ran.err.split()).count(LINE.format(broken)) == 1
    for fits in ("FITS ON PAPER", '"verdict": "fits"', "every check passes", "nothing open on paper"):
        assert fits not in shown
    if "--json" in words:
        assert json.loads(ran.out)["faults"] == [{"check": broken, "says": "ZeroDivisionError: a slip of ours"}]
    elif "--form" not in words:  # a form to type into has no answers on it
        assert shown.count(LINE.format(broken)) >= 1
    if words[0] in ("check", "note"):
        assert "arc-fault" in shown, "the other answers stand"


@pytest.mark.parametrize("form", [(), ("--json",)], ids=["page", "json"])
def test_count_one_box(form, run):
    undo = made_to_raise("box-fill")
    try:
        ran = run(
            "box", *form, "--volume", "30 in^3", "--cable", "14/2", "--ground", "--no-clamps", "--device", "switch"
        )
        screen = " ".join(map(line_text, box_lines({"rulebook": "nec-2023", "cable": "14/2"}, 200)))
        with pytest.raises(CountFaultError):
            counted({"rulebook": "nec-2023", "cable": "14/2"})
    finally:
        undo()
    assert (ran.status, ran.err.count(LINE.format("box-fill"))) == (4, 1)
    assert "FITS" not in ran.out + screen
    assert "has room" not in ran.out + screen
    assert LINE.format("box-fill") in screen
    if form:
        told = json.loads(ran.out)
        assert (told["verdict"], told["findings"], told["smallest"]) == ("undetermined", [], None)
        assert told["faults"] == [{"check": "box-fill", "says": "ZeroDivisionError: a slip of ours"}]
    else:
        assert " ".join(ran.out.split()).count(LINE.format("box-fill")) == 1


def test_self_test_says_that_something_is_wrong(broken, monkeypatch, run):
    from circuitcheck.cli import self_test

    monkeypatch.setattr(self_test, "TRIALS", {"check": self_test._check})
    ran = run("self-test")
    assert ran.status == 4
    assert LINE.format(broken) in " ".join(ran.out.split())


def test_a_rule_that_raises_only_of_a_changed_circuit_is_told_with_the_fixes(no_room, run):
    """Of the file as it is nothing raises. Its attic box is too full, and larger boxes cannot be tried."""
    ran = run("fixes", HALLWAY)
    line = f"{LINE.format('box-fill')}: ValueError: a slip of ours"
    assert (ran.status, ran.err.count(line), " ".join(ran.out.split()).count(line)) == (4, 1, 1)
    assert "Take all clamps out of box" in " ".join(ran.out.split()), "the fixes without it stand"
    assert "larger box" not in ran.out
    circuit = read_file(HALLWAY, vocabulary())
    book = load_rulebook("nec-2023")
    report = check(circuit, book)
    (full,) = (each for each in report.findings if each.check == "box-fill" and each.outcome is Outcome.FAIL)
    found = fixes_for(circuit, book, report, full)
    assert Fixes(found, circuit).to_dict()["faults"] == [{"check": "box-fill", "says": "ValueError: a slip of ours"}]
    assert found.fixes
    assert all(not fix.report.faults for fix in found.fixes)


def test_no_fix_is_looked_for_while_a_check_is_missing(broken):
    circuit = read_file(HALLWAY, vocabulary())
    book = load_rulebook("nec-2023")
    report = check(circuit, book)
    arc_fault = next(each for each in report.findings if each.check == "arc-fault")
    for found in (fixes_of(circuit, book, report), fixes_for(circuit, book, report, arc_fault)):
        assert (found.fixes, [fault.check for fault in found.faults]) == ((), [broken])
        assert found.why_none.startswith("No change was tried: ")


class Heard(Talk):
    """A talk of which only what is said is kept."""

    def __init__(self):
        self.said = []
        self.width = 80

    def say(self, text, indent=""):
        self.said.append(text)

    def heading(self, text):
        self.said.append(text)


def test_the_screens(broken, tmp_path):
    path = tmp_path / "hallway.circuit.toml"
    path.write_bytes(HALLWAY.read_bytes())
    bench = Workbench(Document.opened(path))
    bench.checked = checked = examine(bench.document.blocks, "a")
    line = LINE.format(broken)
    report = checked.report
    assert report.verdict is not Verdict.FITS
    shown = [
        line_text(checked.verdict_line()),
        " ".join(answer_page(checked)),
        " ".join(map(line_text, answer_lines(first_answer(report), 200))),
    ]
    found = search_fixes(checked.circuit, report, None, lambda _: None)
    shown.append(" ".join(fault.line for fault in found.fixes.faults))
    talk = Heard()
    offer_fixes(talk, bench, checked, None)
    shown.append(" ".join(talk.said))
    write_note_of(bench, tmp_path / "note.txt", replace=False)
    shown.append(" ".join((tmp_path / "note.txt").read_text("utf-8").split()))
    for text in shown:
        assert line in text
        assert "FITS ON PAPER" not in text
        assert "every check passes" not in text
    talk = Heard()
    say_room(talk, bench, checked)
    assert talk.said == ["No room is told while a check is missing."]


def test_an_answer_that_is_missing_is_neither_gone_nor_the_same():
    """A what-if after which box fill raises: the box that was too full is no better for it."""
    circuit = read_file(HALLWAY, vocabulary())
    book = load_rulebook("nec-2023")
    before = check(circuit, book)
    undo = made_to_raise("box-fill")
    try:
        after = check(circuit, book)
    finally:
        undo()
    told = difference(before, after)
    assert (told.gone, told.come, told.numbers, told.none) == ((), (), (), False)
    for text in (line_text(short_difference(told)), " ".join(map(line_text, difference_lines(told, 200)))):
        assert LINE.format("box-fill") in text
        assert 'box fill, box "attic"' not in text
