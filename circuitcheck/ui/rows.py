"""Rows of lists, made where the time is, shown by ``widgets.line_list``."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import overload

from rich.cells import cell_len

from circuitcheck.errors import Problem
from circuitcheck.findings import Finding, Outcome
from circuitcheck.ui.drawing import DrawnPart
from circuitcheck.ui.finding_text import finding_heading, finding_row, group_row
from circuitcheck.ui.spans import Line, user_span, wrapped_lines
from circuitcheck.ui.starting.choice import Choice


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


#: What the row stands for that holds all that passes, folded.
PASSES = "passes"


def grouped_findings(findings: Sequence[Finding]) -> tuple[list[list[Finding]], list[list[Finding]]]:
    """The findings with one cause together (one check, the same answer and remedy), and those that pass, by check."""
    groups: dict[tuple[object, ...], list[Finding]] = {}
    passing: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        if finding.outcome is Outcome.PASS:
            passing.setdefault((finding.check,), []).append(finding)
        else:
            same = (finding.check, finding.outcome, finding.stop, finding.to_do, finding.ask)
            groups.setdefault(same, []).append(finding)
    return [*groups.values()], [*passing.values()]


class FindingRows(Sequence[Row]):
    """A row for each cause, made when it comes into view; what passes is one row, or a row for each check.

    Findings of one check with the same answer and the same remedy stand together, as on the command line. A row's item
    is check and subject of its first finding. The row one stands on shows whole sentences.
    """

    def __init__(self, findings: Sequence[Finding], *, passes: bool = False) -> None:
        """Takes the findings worst first, and whether what passes is unfolded."""
        groups, passing = grouped_findings(findings)
        self._groups = [*groups, *(passing if passes else ())]
        self._passing = sum(map(len, passing))
        self._passes = passes
        self._made: dict[int, Row] = {}

    def __len__(self) -> int:
        """How many rows there are."""
        return len(self._groups) + bool(self._passing)

    @overload
    def __getitem__(self, place: int) -> Row: ...

    @overload
    def __getitem__(self, place: slice) -> Sequence[Row]: ...

    def __getitem__(self, place: int | slice) -> Row | Sequence[Row]:
        """The row at a place."""
        if isinstance(place, slice):
            return [self[index] for index in range(*place.indices(len(self)))]
        if place < 0:
            place += len(self)
        if not 0 <= place < len(self):
            raise IndexError(place)
        row = self._made.get(place)
        if row is None:
            row = self._made[place] = self._row(place)
        return row

    def item_of(self, finding: Finding) -> object:
        """The item of the row that shows this finding."""
        for group in self._groups:
            if any(one is finding for one in group):
                return (group[0].check, group[0].subject)
        return PASSES

    def _row(self, place: int) -> Row:
        if place == len(self._groups):
            one = self._passing == 1
            says = "Enter or p folds what passes" if self._passes else "Enter or p shows it" if one else "p shows them"
            counted = "1 check" if one else f"{self._passing} checks"
            return Row(PASSES, (("✓ ", "pass"), (f"{counted} found nothing wrong", "plain"), (f"  {says}", "dim")))
        group = self._groups[place]
        first = group[0]
        item = (first.check, first.subject)
        if len(group) == 1:
            return Row(item, finding_row(first), _wrapping(first.says, "value"), opened=finding_heading(first))
        subjects = list(dict.fromkeys(finding.subject for finding in group))
        line = group_row(first, len(group), ", ".join(subjects[:_MOST_NAMED]))
        return Row(item, line, _group_wrapping(group), opened=group_row(first, len(group), ""))


#: Parts that the row of a group names, and sentences that it shows while one stands on it.
_MOST_NAMED, _MOST_TOLD = 20, 5


def _group_wrapping(group: Sequence[Finding]) -> Callable[[int], Sequence[Line]]:
    def lines(width: int) -> Sequence[Line]:
        shown: list[Line] = []
        for finding in group[:_MOST_TOLD]:
            shown += wrapped_lines(user_span(f"{finding.subject}: {finding.says}")[0], width, "value", "  ")
        if len(group) > _MOST_TOLD:
            more = f"and {len(group) - _MOST_TOLD} more; Enter opens them one by one"
            shown += wrapped_lines(more, width, "dim", "  ")
        return shown

    return lines


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


def nothing_row(says: str) -> Row:
    """The row of a list in which nothing stands."""
    return Row("nothing", ((says, "dim"),))


def fault_row(says: str) -> Row:
    """The row for a fault of the program itself."""
    heading: Line = (("✗ PROGRAM FAULT", "fail"),)
    text = f"{says}. Your file is not touched. Please report this with the circuit file to the project's issue list."
    return Row("fault", heading, _wrapping(text, "fail"), opened=heading)


#: Cells that the key of a choice takes, with the blanks behind it.
KEY_WIDTH = 3


def choice_row(choice: Choice) -> Row:
    """A choice on a line; where it is too long for that, the whole of it below while it is stood on."""

    def whole(width: int) -> Sequence[Line]:
        fits = cell_len(choice.text) + KEY_WIDTH <= width
        return [] if fits else wrapped_lines(user_span(choice.text)[0], width, "dim", " " * KEY_WIDTH)

    key = f"{choice.key or ' '}".ljust(KEY_WIDTH)
    return Row(choice.value, ((key, "added"), user_span(choice.text, "value")), whole)
