"""The start page in lines, the questions for a new circuit, and opening a file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from circuitcheck.errors import CircuitFileError, told_problems
from circuitcheck.safety import ONE_LINE
from circuitcheck.ui.document.disk import left_behind, others_at
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.examining import examine
from circuitcheck.ui.examples import example_text
from circuitcheck.ui.guide_text import guide_for, question_help
from circuitcheck.ui.plain.box import count_box
from circuitcheck.ui.plain.session import Session
from circuitcheck.ui.plain.talk import Talk
from circuitcheck.ui.settings import read_settings, write_settings
from circuitcheck.ui.start_text import ABOUT, copy_told, other_told, start_items
from circuitcheck.ui.starting.file import starting_text, suggested_path
from circuitcheck.ui.starting.first_answer import answer_lines, first_answer
from circuitcheck.ui.starting.loads import load_text
from circuitcheck.ui.starting.question import Answers, Question
from circuitcheck.ui.starting.questions import questions_for
from circuitcheck.ui.workbench import Workbench


def begin(talk: Talk, path: Path | None) -> None:
    """The start page again and again, or one file when one is named."""
    talk.say(ONE_LINE)
    if path is not None:
        open_file(talk, path)
        return
    while True:
        talk.heading("circuitcheck, start page")
        talk.say(ABOUT)
        items = [item for item in start_items(read_settings().recent, Path.cwd()) if item.way]
        for number, item in enumerate(items, start=1):
            unsaved = "work that was not saved, " if item.unsaved else ""
            talk.say(f"{number}. {unsaved}{item.text}: {item.about}")
        picked = talk.ask_number("Which? An empty line leaves the program.", [item.text for item in items])
        if picked is None:
            return
        item = items[picked - 1]
        if item.way == "new":
            new_circuit(talk, None)
        elif item.way == "open":
            name = talk.ask("Which file?")
            if name:
                open_file(talk, Path(name).expanduser())
        elif item.way == "box":
            count_box(talk)
        elif item.way == "example":
            target = suggested_path({"room": "example hallway"}, Path.cwd())
            Session(talk, Workbench(Document(target, example_text("hallway.circuit.toml"), on_disk=None))).run()
        elif item.path is not None:
            open_file(talk, item.path)


def open_file(talk: Talk, path: Path) -> None:
    """Opens a file; offers work on it that was not saved, and a new circuit where there is no file."""
    document: Document | None = None
    try:
        for other in others_at(path):
            talk.say(other_told(path, other))
        for recovery in left_behind(path):
            talk.say(f"A copy of work on {path.name} that was not saved was kept, {copy_told(recovery)}.")
            if talk.ask_yes("Go on with that copy?"):
                on_disk = Document.opened(path).text if path.exists() else None
                document = Document(path, recovery.text, on_disk=on_disk, taken_from=recovery.copy)
                break
            if talk.ask_yes("Drop that copy for good?"):
                recovery.copy.unlink(missing_ok=True)
        if document is None and not path.exists():
            talk.say(f"There is no file {path}.")
            if talk.ask_yes("Begin a new circuit under this name?"):
                new_circuit(talk, path)
            return
        document = document or Document.opened(path)
    except CircuitFileError as wrong:
        talk.say(f"{path} cannot be read:")
        told, more = told_problems(wrong.problems)
        for problem in told:
            where = f"line {problem.line}: " if problem.line else ""
            talk.say(f"{where}{problem.says}", "  ")
        if more:
            talk.say(more, "  ")
        return
    write_settings(read_settings().with_recent(path))
    Session(talk, Workbench(document)).run()


def new_circuit(talk: Talk, path: Path | None) -> None:
    """Asks the questions one by one, says the first answer, and goes on with the circuit that they make."""
    answers: dict[str, Any] = {}
    talk.heading("A new circuit")
    talk.say("An empty answer means: I do not know. A question mark explains. The word enough ends the questions.")
    place = 0
    while place < len(asked := questions_for(answers)):
        question = asked[place]
        talk.heading(f"Question {place + 1} of {len(asked)}. {question.ask}")
        if question.about:
            talk.say(question.about)
        answer = _answer(talk, question, answers)
        if answer is None:
            break
        answers[question.name] = answer
        place += 1
    target = path or suggested_path(answers, Path.cwd())
    bench = Workbench(Document(target, starting_text(answers), on_disk=None))
    report = examine(bench.document.blocks, str(target)).report
    if report is not None:
        talk.heading("The first answer")
        talk.say_lines(answer_lines(first_answer(report), talk.width))
    Session(talk, bench).run()


def _answer(talk: Talk, question: Question, answers: Answers) -> object | None:
    """The answer to one question; None ends the questions."""
    told: list[object] = []
    choices = question.choices(answers)
    for choice in choices:
        talk.say(f"{choice.key or '-'}. {choice.text}", "  ")
    while True:
        text = talk.ask("Letter or words:" if choices else "Answer:")
        if text == "?":
            guide = guide_for(question.section, question.key)
            talk.say_lines(question_help(guide, talk.width, planned=question.planned) if guide else [])
            continue
        if text.casefold() == "enough":
            return None
        typed = question.read(text, answers)
        if typed.problem:
            meant = f" Did you mean {typed.suggestion}?" if typed.suggestion else ""
            talk.say(typed.problem + meant)
        elif question.many and isinstance(typed.value, list):
            told += typed.value
            for load in typed.value:
                talk.say(f"Understood: {load_text(load)}.")
            talk.say("What else? An empty line ends the list.")
        else:
            return told if question.many else typed.value
