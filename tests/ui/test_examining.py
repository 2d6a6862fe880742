"""The thread that examines the file: what a change concerns at once, everything once nobody types."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.checking import check_again as check_again_module
from circuitcheck.checking import out_of_reach
from circuitcheck.checking.check_again import check_again
from circuitcheck.refs import Ref
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import AskedAnewError, Checked, Examiner, examine
from circuitcheck.ui.note_writing import write_note_of
from circuitcheck.ui.workbench import Workbench


class Delivered:
    """What an examiner delivers, one after the other."""

    def __init__(self, *, whole_after_s: float) -> None:
        self._come = threading.Condition()
        self._checked: list[Checked] = []
        self.examiner = Examiner(self._take, whole_after_s=whole_after_s)

    def _take(self, checked: Checked) -> None:
        with self._come:
            self._checked.append(checked)
            self._come.notify_all()

    def of(self, document: Document, count: int = 1) -> list[Checked]:
        """Asks for the document as it stands; the next so many that are delivered."""
        self._checked.clear()
        self.examiner.ask(document.blocks, "x")
        with self._come:
            assert self._come.wait_for(lambda: len(self._checked) >= count, timeout=20)
            return list(self._checked)


@pytest.fixture
def bench(hallway: Path) -> Workbench:
    """The main example, standing on a light."""
    bench = Workbench(Document.opened(hallway))
    bench.stand_on_path("load.wall light 1.power")
    return bench


def test_of_a_number_only_the_rules_that_read_it_are_asked_and_the_answers_are_the_same(bench: Workbench) -> None:
    delivered = Delivered(whole_after_s=60)
    (first,) = delivered.of(bench.document)
    assert first.is_whole
    for watts in ("90 W", "1200 W"):
        bench.put("power", watts)
        (checked,) = delivered.of(bench.document)
        assert not checked.is_whole
        assert checked.report == examine(bench.document.blocks, "x").report
    delivered.examiner.close()


def test_a_file_that_cannot_be_read_for_a_while_changes_nothing(bench: Workbench) -> None:
    delivered = Delivered(whole_after_s=60)
    delivered.of(bench.document)
    bench.put("box", "no such box")
    (wrong,) = delivered.of(bench.document)
    assert wrong.report is None
    bench.undo()
    bench.put("power", "90 W")
    (checked,) = delivered.of(bench.document)
    assert not checked.is_whole
    assert checked.report == examine(bench.document.blocks, "x").report
    delivered.examiner.close()


def test_what_all_rules_say_otherwise_is_delivered_once_nobody_types(bench: Workbench, monkeypatch) -> None:
    """A rule that should not have stood: here one whose sentence changes behind its back."""

    def shortened(circuit, book, told=None, **more):
        again = check_again(circuit, book, told, **more)
        return again if again.is_whole else replace(again, report=replace(again.report, findings=()))

    monkeypatch.setattr("circuitcheck.ui.examining.check_again", shortened)
    delivered = Delivered(whole_after_s=0.01)
    delivered.of(bench.document)
    bench.put("power", "90 W")
    at_once, later = delivered.of(bench.document, count=2)
    assert not at_once.findings
    assert later.is_whole
    assert later.report == examine(bench.document.blocks, "x").report
    delivered.examiner.close()


def test_for_a_note_every_rule_is_asked(bench: Workbench, monkeypatch) -> None:
    asked = []
    first = examine(bench.document.blocks, "x")
    bench.put("power", "90 W")
    bench.checked = examine(bench.document.blocks, "x", told=first.told)
    assert not bench.checked.is_whole
    monkeypatch.setattr("circuitcheck.ui.note_writing.check", lambda *given: asked.append(given) or first.report)
    write_note_of(bench, bench.document.path.with_name("note.txt"), replace=False)
    assert len(asked) == 1


def test_what_is_asked_for_anew_ends_the_examination_of_the_state_before(bench: Workbench, monkeypatch) -> None:
    delivered = Delivered(whole_after_s=60)
    delivered.of(bench.document)
    begun, ended, go = threading.Event(), [], threading.Event()

    def slow(circuit, book, told=None, *, go_on):
        if not begun.is_set():
            begun.set()
            assert go.wait(20)
        try:
            return check_again(circuit, book, told, go_on=go_on)
        except AskedAnewError:
            ended.append(circuit)
            raise

    monkeypatch.setattr("circuitcheck.ui.examining.check_again", slow)
    bench.put("power", "90 W")
    delivered.examiner.ask(bench.document.blocks, "x")
    assert begun.wait(20)
    bench.put("power", "91 W")
    delivered.examiner.ask(bench.document.blocks, "x")
    go.set()
    (checked,) = delivered.of(bench.document)
    assert len(ended) == 1
    assert checked.report == examine(bench.document.blocks, "x").report
    delivered.examiner.close()


def test_for_the_entry_that_one_stands_on_the_first_key_finds_all_ready(bench: Workbench, monkeypatch) -> None:
    """The others, of which a rule does not read it, are not asked about even once."""
    ready, asked = threading.Event(), []

    def made_ready(told, entry, *, go_on):
        made = check_again_module.made_ready(told, entry, go_on=go_on)
        ready.set()
        return made

    def asking(asker, subject, *, named):
        asked.append((asker.rule.name, getattr(subject, "id", "")))
        return finding_about(asker, subject, named=named)

    finding_about = out_of_reach.finding_about
    monkeypatch.setattr("circuitcheck.ui.examining.made_ready", made_ready)
    delivered = Delivered(whole_after_s=60)
    delivered.of(bench.document)
    delivered.examiner.expect(bench.ref_of("power"))
    assert ready.wait(20)
    monkeypatch.setattr(out_of_reach, "finding_about", asking)
    bench.put("power", "90 W")
    (checked,) = delivered.of(bench.document)
    cables = {cable.id for cable in checked.circuit.cables}
    assert 0 < len([name for name, _ in asked if name == "ampacity"]) < len(cables)
    assert checked.report == examine(bench.document.blocks, "x").report
    delivered.examiner.close()


def test_who_stands_on_an_entry_that_is_none_is_examined_all_the_same(bench: Workbench) -> None:
    delivered = Delivered(whole_after_s=0.3)
    delivered.of(bench.document)
    for entry in (Ref("load", "no such light", "power"), Ref("load", "wall light 1", "id"), Ref("nothing"), None):
        delivered.examiner.expect(entry)
    bench.put("power", "90 W")
    at_once, later = delivered.of(bench.document, count=2)
    assert later.is_whole
    assert at_once.report == later.report == examine(bench.document.blocks, "x").report
    delivered.examiner.close()
