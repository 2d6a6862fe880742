"""A new circuit from a few questions, one a page, in the order in which one finds things out. Returns the answers."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Footer, Input, Static

from circuitcheck.ui.entry import Typed, value_text
from circuitcheck.ui.guide_text import full_help, guide_for
from circuitcheck.ui.pasting import ManyLines
from circuitcheck.ui.rows import Row
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.spans import Line, user_span
from circuitcheck.ui.starting.loads import load_text
from circuitcheck.ui.starting.questions import Question, questions
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.shown import shown

Answers = dict[str, Any]


class Options(LineList):
    """The answers to pick from."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "choose", "Take it, go on", key_display="Enter")]


class Answer(ManyLines):
    """The answer to type; where several are asked for, several pasted lines are several answers."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "submit", "Take it, go on", key_display="Enter")]

    class Pasted(Message):
        """Several lines were pasted."""

        def __init__(self, lines: list[str]) -> None:
            """Takes the lines."""
            super().__init__()
            self.lines = lines

    def _on_paste(self, event: events.Paste) -> None:
        lines = [line for line in event.text.splitlines() if line.strip()]
        if len(lines) > 1:
            event.prevent_default()
            event.stop()
            self.post_message(self.Pasted(lines))


class GuidedScreen(Screen[Answers | None]):
    """Enter goes on, Escape goes back, Ctrl+U leaves a question unknown, Ctrl+E ends early with the rest unknown."""

    CSS_PATH = "guided.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back"),
        Binding("ctrl+u", "unknown", "I do not know", priority=True),
        Binding("ctrl+e", "enough", "Enough", priority=True),
        Binding("pagedown", "scroll(1)", "More", priority=True, key_display="PgDn"),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
    ]

    def __init__(self) -> None:
        """Begins with the first question."""
        super().__init__()
        self._questions = questions()
        self._place = 0
        self._answers: Answers = {}
        self._suggested: str | None = None

    def compose(self) -> ComposeResult:
        """Place, question, answer, explanation."""
        yield Static(id="progress", markup=False)
        with Vertical(id="question-page"):
            yield Static(id="ask", markup=False)
            yield Static(id="about", markup=False)
            yield LineList(id="loads", opens=False)
            yield Options(id="options", opens=False)
            yield Answer(id="answer", select_on_focus=False, compact=True)
            yield Static(id="wrong", markup=False)
            yield PageText(self._help, id="explanation")
        yield CautionLine()
        yield Footer(compact=True, show_command_palette=False)

    def on_mount(self) -> None:
        """Shows the first question."""
        self._show()

    @property
    def question(self) -> Question:
        """The question that is asked."""
        return self._questions[self._place]

    def _help(self, width: int) -> list[Line]:
        guide = guide_for(self.question.section, self.question.key)
        return full_help(guide, width) if guide else []

    def _show(self) -> None:
        question = self.question
        self._suggested = None
        count = len(self._questions)
        self.query_one("#progress", Static).update(
            f"A new circuit   question {self._place + 1} of {count}   whatever you do not know stays unknown"
        )
        self.query_one("#ask", Static).update(shown(question.ask, "strong"))
        self.query_one("#about", Static).update(shown(question.about, "dim"))
        self.query_one("#about").display = bool(question.about)
        self.query_one("#wrong", Static).update("")
        options, answer, loads = (
            self.query_one("#options", LineList),
            self.query_one("#answer", Input),
            self.query_one("#loads", LineList),
        )
        options.display = bool(question.choices)
        answer.display = not question.choices
        loads.display = question.many
        given = self._answers.get(question.name, question.first)
        if question.choices:
            rows = [Row(value, (user_span(text, "value"),)) for value, text in question.choices]
            options.show_rows(
                rows, str(given) if question.name in self._answers or question.first else question.choices[0][0]
            )
            options.focus()
        else:
            answer.value = "" if question.many else value_text(given)
            answer.placeholder = "empty: no more" if question.many else "empty: I do not know"
            answer.cursor_position = len(answer.value)
            answer.focus()
        if question.many:
            self._show_loads()
        self.query_one(PageText).show(self._help)

    def _show_loads(self) -> None:
        told = self._answers.get(self.question.name, [])
        rows = [Row(i, (("✓ ", "pass"), user_span(load_text(load), "value"))) for i, load in enumerate(told)]
        loads = self.query_one("#loads", LineList)
        loads.show_rows(rows or [Row(-1, (("nothing yet", "dim"),))])
        loads.action_last()

    @on(LineList.Chosen, "#options")
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self._take(Typed(event.item))

    @on(LineList.Chosen, "#loads")
    def _take_load_back(self, event: LineList.Chosen) -> None:
        event.stop()
        told = self._answers.get(self.question.name, [])
        if isinstance(event.item, int) and 0 <= event.item < len(told):
            load = told.pop(event.item)
            answer = self.query_one("#answer", Input)
            answer.value = f"{load.get('quantity', '')} {load['id']} {load.get('power', '')}".strip()
            self._show_loads()
            answer.focus()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        text = event.value
        if self._suggested is not None and text.strip() == self._suggested:
            text = self._suggested
        typed = self.question.read(text)
        if typed.problem:
            meant = f" Did you mean {typed.suggestion}?" if typed.suggestion else ""
            self.query_one("#wrong", Static).update(shown(typed.problem + meant, "fail"))
            return
        if self.question.many and text.strip():
            self._answers.setdefault(self.question.name, []).append(typed.value)
            event.input.value = ""
            self.query_one("#wrong", Static).update("")
            self._show_loads()
            return
        self._take(Typed(self._answers.get(self.question.name, [])) if self.question.many else typed)

    @on(Answer.Pasted)
    def _pasted(self, event: Answer.Pasted) -> None:
        """Takes each line in turn; the first that is no answer stays in the field, the rest is told as not taken."""
        event.stop()
        answer, wrong = self.query_one("#answer", Input), self.query_one("#wrong", Static)
        if not self.question.many:
            wrong.update(shown(f"Nothing was pasted: {len(event.lines)} lines, and one line answers this.", "fail"))
            return
        for place, line in enumerate(event.lines):
            typed = self.question.read(line)
            if typed.problem:
                left = len(event.lines) - place - 1
                more = f" The {left} after it {'was' if left == 1 else 'were'} not taken." if left else ""
                answer.value = line.strip()
                wrong.update(shown(f"{typed.problem}{more}", "fail"))
                break
            self._answers.setdefault(self.question.name, []).append(typed.value)
        else:
            wrong.update("")
        self._show_loads()

    def _take(self, typed: Typed) -> None:
        self._answers[self.question.name] = typed.value
        if self._place + 1 == len(self._questions):
            self.dismiss(self._answers)
            return
        self._place += 1
        self._show()

    def action_back(self) -> None:
        """Goes back a question; from the first one, to the start page."""
        if self._place == 0:
            self.dismiss(None)
        else:
            self._place -= 1
            self._show()

    def action_scroll(self, step: int) -> None:
        """Scrolls the explanation."""
        self.query_one(PageText).scroll_relative(y=step * 6, animate=False)

    def action_unknown(self) -> None:
        """Leaves the question unknown and goes on."""
        if self.question.required:
            self.query_one("#wrong", Static).update(shown("This one is needed: take the nearest answer.", "fail"))
        else:
            self._take(Typed([] if self.question.many else ""))

    def action_enough(self) -> None:
        """Ends with the answers so far; what is needed takes what is offered first."""
        for question in self._questions[self._place :]:
            if question.required and question.name not in self._answers:
                first = question.first or question.choices[0][0]
                self._answers[question.name] = question.read(first).value
        self.dismiss(self._answers)
