"""What is wrong with a circuit file, as lines for standard error."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.errors import Problem, told_problems
from circuitcheck.text import shown_text


def problem_lines(problems: Sequence[Problem]) -> Iterator[str]:
    """One line a problem: file, line where known, key, what is wrong, what was given, what is allowed, nearest word.

    Of very many the first are told, and how many more there are.
    """
    told, more = told_problems(problems)
    for problem in told:
        where = shown_text(problem.file) + (f":{problem.line}" if problem.line is not None else "")
        text = f"{where}: {shown_text(problem.key)}: {shown_text(problem.says)}" if problem.key else ""
        text = text or f"{where}: {shown_text(problem.says)}"
        if problem.given:
            text += f"; given: {shown_text(problem.given)}"
        if problem.allowed:
            text += f"; allowed: {shown_text(problem.allowed)}"
        if problem.nearest:
            text += f'; did you mean "{shown_text(problem.nearest)}"?'
        yield text
    if more:
        yield f"{shown_text(problems[0].file)}: {more}"
