"""Rows of lists, made where the time is, shown by ``widgets.line_list``."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import overload

from circuitcheck.errors import Problem
from circuitcheck.findings import Finding
from circuitcheck.ui.drawing import DrawnPart
from circuitcheck.ui.finding_text import finding_heading, finding_row
from circuitcheck.ui.spans import Line, user_span, wrapped_lines


@dataclass(frozen=True, slots=True)
class Row:
    """A row: what it stands for, its line, and the further lines shown while the cursor is on it.

    ``more`` is called with the width only when it is needed; ``opened`` takes the line's place while it is shown.
    ``stands`` is False for a heading, which the cursor skips.
    """

    item: object
    line: Line
    more: Callable[[int], Sequence[Line]] | None = field(default=None, compare=False)
    stands: bool = True
    opened: Line | None = field(default=None, compare=False)


def circuit_rows(drawing: Iterable[DrawnPart]) -> tuple[Row, ...]:
    """A row a line of the drawing; the item is the part's number."""
    return tuple(Row(drawn.part, drawn.line(), stands=drawn.part != 0) for drawn in drawing)


class FindingRows(Sequence[Row]):
    """A row a finding, made when it comes into view. The row one stands on shows the whole sentence."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        """Takes the findings in the order of their rows."""
        self._findings = findings
        self._made: dict[int, Row] = {}

    def __len__(self) -> int:
        """How many rows there are."""
        return len(self._findings)

    @overload
    def __getitem__(self, place: int) -> Row: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[Row]: ...

    def __getitem__(self, place: int | slice) -> Row | Sequence[Row]:
        """The row at a place; its item is check and subject."""
        if isinstance(place, slice):
            return FindingRows(self._findings[place])
        row = self._made.get(place)
        if row is None:
            finding = self._findings[place]
            row = self._made[place] = Row(
                (finding.check, finding.subject),
                finding_row(finding),
                _wrapping(finding.says, "value"),
                opened=finding_heading(finding),
            )
        return row


def _wrapping(text: str, role: str) -> Callable[[int], Sequence[Line]]:
    return lambda width: wrapped_lines(user_span(text)[0], width, role, "  ")


def problem_rows(problems: Iterable[Problem], says: Callable[[Problem], str]) -> tuple[Row, ...]:
    """A row a problem of the file, before anything can be checked."""
    rows = []
    for problem in problems:
        heading: Line = (("✗ PUT RIGHT ", "fail"), user_span(problem.key or "the file", "strong"))
        text = says(problem)
        line = (*heading, user_span(f": {text}"))
        rows.append(Row(problem, line, _wrapping(text, "fail"), opened=heading))
    return tuple(rows)


def fault_row(says: str) -> Row:
    """The row for a fault of the program itself."""
    heading: Line = (("✗ PROGRAM FAULT", "fail"),)
    text = f"{says}. Your file is not touched. Please report this with the circuit file to the project's issue list."
    return Row("fault", heading, _wrapping(text, "fail"), opened=heading)
