"""The first answer about a new circuit: one sentence, the two or three things to do next, and what is still open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from circuitcheck.checking import worst_first
from circuitcheck.findings import Finding, Outcome, Report, Verdict
from circuitcheck.outcomes import OUTCOME_MARK, VERDICT_WORD
from circuitcheck.text import shown_text
from circuitcheck.ui.open_questions import OpenQuestion, open_questions
from circuitcheck.ui.spans import OUTCOME_ROLE, Line, wrapped_lines

_NOTHING: Line = (("", "plain"),)
_MOST_STEPS = 3
#: How the caution begins that stays with a way to find something out.
_OPENING = "It means opening"
_OUTCOME_OF = {
    Verdict.DOES_NOT_FIT: Outcome.FAIL,
    Verdict.UNDETERMINED: Outcome.UNDETERMINED,
    Verdict.FITS: Outcome.PASS,
}


@dataclass(frozen=True, slots=True)
class FirstAnswer:
    """Word and sentence of the answer, what to do next, and the questions left; ``faults``: checks that are missing."""

    outcome: Outcome
    word: str
    sentence: str
    steps: tuple[str, ...]
    questions: tuple[OpenQuestion, ...]
    faults: tuple[str, ...] = ()


def first_answer(report: Report) -> FirstAnswer:
    """The answer as it stands right after the questions."""
    questions = open_questions(report)
    lost = tuple(fault.line for fault in report.faults)
    if report.stop:
        stop = report.stop[0]
        steps = stop.to_do or ("Leave everything as it is and call a licensed electrician.",)
        return FirstAnswer(Outcome.FAIL, "STOP HERE FIRST", stop.says, steps[:_MOST_STEPS], (), lost)
    fails = [finding for finding in worst_first(report.findings) if finding.outcome is Outcome.FAIL]
    outcome = _OUTCOME_OF[report.verdict]
    said = _sentence(fails, len(lost), questions, outcome)
    return FirstAnswer(outcome, VERDICT_WORD[report.verdict], said, _steps(fails, questions), questions, lost)


def _sentence(fails: Sequence[Finding], faults: int, questions: Sequence[OpenQuestion], outcome: Outcome) -> str:
    if fails:
        more = f" ({len(fails) - 1} more problems below.)" if len(fails) > 1 else ""
        return f"{fails[0].says}{more}"
    if faults:
        return "The other answers are valid, but a check is missing, so there is no answer yet."
    if outcome is Outcome.UNDETERMINED:
        count = len(questions)
        things = "1 thing has" if count == 1 else f"{count} things have"
        return f"Nothing that you told speaks against it, but {things} to be found out before there is an answer."
    return "On paper every check passes with what you entered."


def _steps(fails: Sequence[Finding], questions: Sequence[OpenQuestion]) -> tuple[str, ...]:
    steps = list(dict.fromkeys(finding.to_do[0] for finding in fails if finding.to_do))[:_MOST_STEPS]
    for question in questions[: _MOST_STEPS - len(steps)]:
        named = question.line.replace(":", ",", 1)
        cheapest, _, others = question.how.partition(" Or: ")
        if _OPENING in others:
            cheapest += f" {_OPENING}{others.partition(_OPENING)[2]}"
        steps.append(f"Find out: {named[:1].lower()}{named[1:]}. {cheapest}".strip())
    return tuple(steps) or ("Show the note to the permit office or an electrician before anything is bought.",)


def answer_lines(answer: FirstAnswer, width: int) -> list[Line]:
    """The page, but the ways to go on."""
    role = OUTCOME_ROLE[answer.outcome]
    lines: list[Line] = [((f"{OUTCOME_MARK[answer.outcome]} {answer.word}", role),)]
    for fault in answer.faults:
        lines += wrapped_lines(shown_text(f"{fault}."), width, "fail")
    lines += [*wrapped_lines(shown_text(answer.sentence), width, "value"), _NOTHING, (("Do next", "strong"),)]
    for number, step in enumerate(answer.steps, start=1):
        first, *rest = wrapped_lines(shown_text(step), width - 3, "value")
        lines += [((f"{number}. ", "added"), *first), *(((" " * 3, "plain"), *line) for line in rest)]
    if answer.questions:
        count = len(answer.questions)
        title = "1 question is" if count == 1 else f"{count} questions are"
        lines += [_NOTHING, ((f"{title} left; what settles most stands first", "strong"),)]
        for question in answer.questions:
            lines += wrapped_lines(shown_text(question.line), width, "plain", "  ")
    return lines
