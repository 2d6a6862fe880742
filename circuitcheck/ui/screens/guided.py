"""A new circuit from a few questions, one a page, in the order in which one finds things out. Returns the answers."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Input, Static

from circuitcheck.ui.entry import Typed, value_text
from circuitcheck.ui.guide_text import guide_for, question_help
from circuitcheck.ui.pasting import ManyLines
from circuitcheck.ui.rows import Row, choice_row
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.spans import Line, user_span
from circuitcheck.ui.starting.choice import UNKNOWN, Choice
from circuitcheck.ui.starting.loads import load_line, load_text
from circuitcheck.ui.starting.question import Question
from circuitcheck.ui.starting.questions import questions_for
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.shown import shown

Answers = dict[str, Any]


class Options(LineList):
    """The answers to pick from. A row's own key picks it; digits stand on the row that begins with them."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "choose", "Take it", key_display="Enter")]

    def __init__(self, *, id: str | None = None) -> None:
        """An empty list."""
        super().__init__(id=id)
        self._choices: tuple[Choice, ...] = ()
        self._digits = ""

    def show_choices(self, choices: tuple[Choice, ...], given: str) -> None:
        """Shows these, standing on the one given before, else on the first: "I do not know"."""
        self._choices = choices
        self._digits = ""
        self.show_rows([choice_row(choice) for choice in choices], given)

    def on_key(self, event: events.Key) -> None:
        """A choice's key picks it."""
        picked = next((choice for choice in self._choices if choice.key and choice.key == event.character), None)
        if picked is not None:
            event.stop()
            event.prevent_default()
            self.stand_on(picked.value)
            self.action_choose()
        elif event.character and event.character.isdigit():
            event.stop()
            for digits in (self._digits + event.character, event.character):
                near = next((choice for choice in self._choices if choice.text.startswith(digits)), None)
                if near is not None:
                    self._digits = digits
                    self.stand_on(near.value)
                    return


class Answer(ManyLines):
    """The answer to type; where several are asked for, several pasted lines are several answers."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "submit", "Take it", key_display="Enter")]

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
    VERTICAL_BREAKPOINTS = [(0, "-low"), (30, "-tall")]  # noqa: RUF012  (declared so by its base)

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", key_display="Esc"),
        Binding("ctrl+u", "unknown", "I do not know", priority=True, key_display="Ctrl+U"),
        Binding("ctrl+e", "enough", "Enough", priority=True, key_display="Ctrl+E"),
        Binding("pagedown", "scroll(1)", "More", priority=True, key_display="PgDn"),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
    ]

    def __init__(self) -> None:
        """Begins with the first question."""
        super().__init__()
        self._place = 0
        self._answers: Answers = {}
        self._taken = ""

    def compose(self) -> ComposeResult:
        """Place, question, answer, explanation."""
        yield Static(id="progress", markup=False)
        with Vertical(id="question-page"):
            yield Static(id="ask", markup=False)
            yield Static(id="about", markup=False)
            yield LineList(id="loads", opens=False)
            yield Options(id="options")
            yield Answer(id="answer", compact=True)
            yield Static(id="wrong", markup=False)
            yield PageText(self._help, id="explanation")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Shows the first question."""
        self._show()

    @property
    def question(self) -> Question:
        """The question that is asked."""
        return questions_for(self._answers)[self._place]

    def _help(self, width: int) -> list[Line]:
        question = self.question
        guide = guide_for(question.section, question.key)
        return question_help(guide, width, planned=question.planned) if guide else []

    def _show(self) -> None:
        question = self.question
        count = len(questions_for(self._answers))
        self.query_one("#progress", Static).update(
            shown(f"A new circuit, question {self._place + 1} of {count}.   {self._taken}".rstrip())
        )
        self.query_one("#ask", Static).update(shown(question.ask, "strong"))
        self.query_one("#about", Static).update(shown(question.about, "dim"))
        self.query_one("#about").display = bool(question.about)
        self.query_one("#wrong", Static).update("")
        options, answer, loads = (
            self.query_one("#options", Options),
            self.query_one("#answer", Input),
            self.query_one("#loads", LineList),
        )
        choices = question.choices(self._answers)
        options.display = bool(choices)
        answer.display = not choices
        loads.display = question.many
        given = self._answers.get(question.name, UNKNOWN)
        if choices:
            options.show_choices(choices, str(given))
            options.focus()
        else:
            answer.value = "" if question.many else _typed_text(given)
            answer.placeholder = "empty: no more" if question.many else "" if question.required else "empty: unknown"
            answer.focus()
            answer.select_all()
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
            answer.value = load_line(load)
            self._show_loads()
            answer.focus()

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        text = event.value
        typed = self.question.read(text, self._answers)
        if typed.problem:
            self._refuse(typed)
        elif self.question.many and text.strip():
            self._answers.setdefault(self.question.name, []).extend(_loads_of(typed))
            event.input.value = ""
            self.query_one("#wrong", Static).update("")
            self._show_loads()
        else:
            self._take(Typed(self._answers.get(self.question.name, [])) if self.question.many else typed)

    def _refuse(self, typed: Typed, more: str = "") -> None:
        meant = f" Did you mean {typed.suggestion}?" if typed.suggestion else ""
        self.query_one("#wrong", Static).update(shown(f"{typed.problem}{meant}{more}", "fail"))

    @on(Answer.Pasted)
    def _pasted(self, event: Answer.Pasted) -> None:
        """Takes each line in turn; the first that is no answer stays in the field, the rest is told as not taken."""
        event.stop()
        answer, wrong = self.query_one("#answer", Input), self.query_one("#wrong", Static)
        if not self.question.many:
            wrong.update(shown(f"Nothing was pasted: {len(event.lines)} lines, and one line answers this.", "fail"))
            return
        for place, line in enumerate(event.lines):
            typed = self.question.read(line, self._answers)
            if typed.problem:
                left = len(event.lines) - place - 1
                more = f" The {left} after it {'was' if left == 1 else 'were'} not taken." if left else ""
                answer.value = line.strip()
                self._refuse(typed, more)
                break
            self._answers.setdefault(self.question.name, []).extend(_loads_of(typed))
        else:
            wrong.update("")
        self._show_loads()

    def _take(self, typed: Typed) -> None:
        question = self.question
        self._answers[question.name] = typed.value
        self._taken = _taken_text(question, self._answers)
        if self._place + 1 >= len(questions_for(self._answers)):
            self.dismiss(self._asked_answers())
            return
        self._place += 1
        self._show()

    def _asked_answers(self) -> Answers:
        """The answers, without those to questions that other answers made void."""
        asked = {question.name for question in questions_for(self._answers)}
        return {name: answer for name, answer in self._answers.items() if name in asked}

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
            self.query_one("#wrong", Static).update(shown("This one is needed.", "fail"))
        else:
            self._take(Typed([] if self.question.many else UNKNOWN))

    def action_enough(self) -> None:
        """Ends with the answers so far; the rest is unknown, and one light is added."""
        self.dismiss(self._asked_answers())


def _loads_of(typed: Typed) -> list[Any]:
    return typed.value if isinstance(typed.value, list) else []


def _typed_text(given: object) -> str:
    return ", ".join(map(str, given)) if isinstance(given, list) else value_text(given)


def _taken_text(question: Question, answers: Answers) -> str:
    """What was understood, in short: the last answer shown back."""
    value = answers[question.name]
    if question.many:
        return f"{len(value)} loads listed."
    if value == UNKNOWN:
        return "Left unknown."
    chosen = next((choice.text for choice in question.choices(answers) if choice.value == value), "")
    return f"Taken: {chosen or _typed_text(value)}."
