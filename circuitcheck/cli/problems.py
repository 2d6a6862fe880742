"""What is wrong with a circuit file, for standard error: each problem with its line and a mark under the place."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from circuitcheck.cli.colors import Color, painted
from circuitcheck.cli.lines import PageStyle, cells, wrapped
from circuitcheck.errors import Problem, told_problems
from circuitcheck.text import shown_text

_INDENT = "    "
_PLAIN = PageStyle()


def problem_entries(problems: Sequence[Problem]) -> list[dict[str, object]]:
    """The problems for scripts: what the promised document of a wrong file holds of each."""
    return [
        {
            "line": problem.line,
            "key": problem.key,
            "says": problem.says,
            "given": problem.given,
            "allowed": problem.allowed,
            "nearest": problem.nearest,
        }
        for problem in problems
    ]


def problem_lines(problems: Sequence[Problem], style: PageStyle = _PLAIN) -> Iterator[str]:
    """Of each problem: file, line, key and what is wrong; the line as written with a mark; what is allowed or meant.

    Of very many the first are told, and how many more there are. The last line counts them.
    """
    told, _ = told_problems(problems)
    for problem in told:
        where = problem.file + (f":{problem.line}" if problem.line is not None else "")
        head = shown_text(f"{where}: {problem.key}" if problem.key else where)
        says = shown_text(problem.says)
        if cells(head) + 2 + cells(says) <= style.width:
            yield f"{_painted(head, Color.TITLE, style)}: {says}"
        else:  # the place stays in one piece, for whoever searches for it
            yield f"{_painted(head, Color.TITLE, style)}:"
            yield from wrapped(says, style, indent=_INDENT)
        if problem.source.strip():
            yield from _source_lines(problem, style)
        elif problem.given:
            yield from wrapped(f"given: {problem.given}", style, indent=_INDENT)
        if problem.allowed:
            yield from wrapped(f"allowed: {problem.allowed}", style, indent=_INDENT)
        if problem.nearest:
            meant = "did you mean: "
            yield from wrapped(problem.nearest, style, indent=_INDENT, bullet=meant, color=Color.PASS)
    if len(problems) > 1 or problems[0].source:
        yield _count(problems, len(told))


def _source_lines(problem: Problem, style: PageStyle) -> Iterator[str]:
    """The line as it is in the file and a mark under the place; a long line is cut around the place."""
    gutter = f"{problem.line:>6} | "
    room = max(20, style.width - len(gutter))
    source = problem.source.replace("\t", " ")
    start = (problem.column or 1) - 1
    width = max(1, min(problem.width, len(source) - start))
    cut = max(0, min(start - 8, start + width - room + 4)) if len(source) > room else 0
    before = shown_text(("…" if cut else "") + source[cut + (1 if cut else 0) : start])
    marked = shown_text(source[start : start + width])
    shown = shown_text(before + marked + shown_text(source[start + width :]))
    yield gutter + (shown if cells(shown) <= room else _cut(shown, room))
    if problem.column is not None:
        length = max(1, min(cells(marked), room - cells(before)))
        yield " " * (len(gutter) - 2) + "| " + " " * cells(before) + _painted("^" * length, Color.FAIL, style)


def _cut(text: str, room: int) -> str:
    while cells(text) > room - 1:
        text = text[:-1]
    return f"{text}…"


def _painted(text: str, color: Color, style: PageStyle) -> str:
    return painted(text, color) if style.color else text


def _count(problems: Sequence[Problem], told: int) -> str:
    files = ", ".join(Counter(problem.file for problem in problems))
    many = "1 problem" if len(problems) == 1 else f"{len(problems):,} problems"
    first = f"the first {told} are shown, and " if told < len(problems) else ""
    return shown_text(f"{many} in {files}; {first}nothing was checked.")
