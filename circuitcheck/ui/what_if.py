"""What-ifs: changes made to see what comes of them, kept as one step or dropped; two at hand at most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.advice.comparing import compared
from circuitcheck.circuit.written.block import Block
from circuitcheck.findings import Finding
from circuitcheck.outcomes import VERDICT_WORD, heading_word
from circuitcheck.text import shown_text
from circuitcheck.ui.differences import difference, finding_name, number_shown, short_difference, unit_shown
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.document.history import Change
from circuitcheck.ui.examining import Checked
from circuitcheck.ui.spans import Line, cut, role_of, user_span, wrapped_lines

#: Narrower than this [cells], what stands side by side is told one below the other.
_SIDE_BY_SIDE = 56


@dataclass(frozen=True, slots=True)
class Aside:
    """A what-if that is set aside: its number, what it changes, and what was found with it."""

    number: int
    changes: tuple[Change, ...]
    checked: Checked | None


class WhatIf:
    """The what-if that is on, where one is, and another that is set aside."""

    def __init__(self, document: Document) -> None:
        """None is on."""
        self._document = document
        self._mark: Change | None = None
        self.number = 0
        self.before: Checked | None = None
        self.blocks_before: tuple[Block, ...] = ()
        self.changed_before = False
        self.aside: Aside | None = None

    @property
    def on(self) -> bool:
        """Whether one is on."""
        return self.number > 0

    @property
    def at_its_start(self) -> bool:
        """Whether one is on and nothing is changed in it."""
        return self.on and self._document.history.latest is self._mark

    @property
    def changes(self) -> tuple[Change, ...]:
        """What is changed in it."""
        return self._document.history.since(self._mark) if self.on else ()

    def begin(self, before: Checked | None) -> None:
        """Begins one on the file as it stands; ``before``: what was found of that."""
        self.number = 1
        self.before = before
        self._mark = self._document.history.latest
        self.blocks_before = self._document.blocks
        self.changed_before = self._document.changed

    def keep(self) -> str:
        """Ends it and keeps what it changed as one step of undo; what that was."""
        named = "; ".join(change.says for change in self.changes)
        self._document.join(self._mark, f"what-if: {named}")
        self._end()
        return named

    def drop(self) -> None:
        """Takes back what it changed for good; the one that was set aside is on again, where there is one."""
        self._document.take_back(self._mark)
        if self.aside is None:
            self._end()
        else:
            self._go_on_with(self.aside)
            self.aside = None

    def drop_all(self) -> None:
        """Takes back what is on, and forgets what was set aside."""
        self.aside = None
        if self.on:
            self.drop()

    def other(self, checked: Checked | None) -> None:
        """Sets the one that is on aside, and goes on with the other: that which was aside, or a new one."""
        now = self.number
        held = Aside(now, self._document.take_back(self._mark), checked)
        if self.aside is not None:
            self._go_on_with(self.aside)
        else:
            self.number = 3 - now
        self.aside = held

    def _go_on_with(self, aside: Aside) -> None:
        for change in aside.changes:
            self._document.apply(change)
        self.number = aside.number

    def _end(self) -> None:
        self.number, self._mark, self.before, self.aside = 0, None, None, None
        self.blocks_before = ()


def mark_lines(what_if: WhatIf, checked: Checked | None, width: int) -> list[Line]:
    """The mark that stands on screen as long as one is on: which, its keys, and what comes of it."""
    count = len(what_if.changes)
    changes = "nothing changed yet" if not count else "1 change" if count == 1 else f"{count} changes"
    head = f"WHAT IF {what_if.number}: {changes}.  K keeps, X drops, W side by side"
    lines: list[Line] = [((cut(head, width), "caution"),)]
    before = what_if.before.report if what_if.before else None
    now = checked.report if checked is not None and checked.blocks is what_if._document.blocks else None
    if not count or before is None:
        return lines
    if now is None:
        return [*lines, (("no answer with this", "fail"),)]
    return [*lines, short_difference(difference(before, now))]


def side_by_side(what_if: WhatIf, checked: Checked | None, width: int, *, stacked: bool = False) -> list[Line]:
    """As it was, the what-if that is on, and the one that is set aside, beside each other: only what differs.

    stacked: one below the other, as where there is no room.
    """
    states: list[tuple[str, Checked | None, tuple[Change, ...]]] = [
        ("as it was", what_if.before, ()),
        (f"what if {what_if.number}", checked, what_if.changes),
    ]
    if what_if.aside is not None:
        states.append((f"what if {what_if.aside.number}", what_if.aside.checked, what_if.aside.changes))
    states[1:] = sorted(states[1:], key=lambda state: state[0])
    lines: list[Line] = []
    for name, _, changes in states[1:]:
        named = "; ".join(change.says for change in changes) or "nothing changed"
        lines += wrapped_lines(f"{name}: {user_span(named)[0]}", width, "strong")
    reports = [(name, state.report) for name, state, _ in states if state is not None and state.report is not None]
    for name, state, _ in states:
        if state is None or state.report is None:
            lines += wrapped_lines(f"{name}: no answer; an entry has to be corrected first", width, "fail")
    if len(reports) < 2:
        return lines
    found = compared([report for _, report in reports])
    words = [VERDICT_WORD[report.verdict] for _, report in reports]
    rows: list[tuple[str, Sequence[tuple[str, str]]]] = [("Answer", [(word, "strong") for word in words])]
    rows += [
        (finding_name(_any_of(line.findings)), [_cell(*each) for each in zip(line.findings, line.lost, strict=True)])
        for line in found.lines
    ]
    lines.append((("", "plain"),))
    lines += (
        _table([name for name, _ in reports], rows, width)
        if width >= _SIDE_BY_SIDE and not stacked
        else _list([name for name, _ in reports], rows, width)
    )
    lines.append((("", "plain"),))
    lines += wrapped_lines(f"The other {found.same + found.only_passing} answers are the same.", width, "dim")
    return lines


def _any_of(findings: Sequence[Finding | None]) -> Finding:
    """One of the findings of a line: all have the same check and part."""
    return next(finding for finding in findings if finding is not None)


def _cell(finding: Finding | None, lost: bool) -> tuple[str, str]:
    if finding is None:
        return ("missing: fault of the program", "fail") if lost else ("not asked", "dim")
    number = number_shown(finding)
    value = f" {number} {unit_shown(finding)}".rstrip() if number else ""
    return shown_text(f"{heading_word(finding)}{value}"), role_of(finding)


def _table(names: Sequence[str], rows: Sequence[tuple[str, Sequence[tuple[str, str]]]], width: int) -> Iterator[Line]:
    cell = (width * 2 // 3) // len(names)
    label = width - cell * len(names)
    yield ((" " * label, "plain"), *((name.ljust(cell), "strong") for name in names))
    for title, cells in rows:
        first, *rest = wrapped_lines(title, label - 2, "value")
        padding = label - sum(len(text) for text, _ in first)
        yield (*first, (" " * padding, "plain"), *((cut(text, cell - 1).ljust(cell), role) for text, role in cells))
        yield from rest


def _list(names: Sequence[str], rows: Sequence[tuple[str, Sequence[tuple[str, str]]]], width: int) -> Iterator[Line]:
    for title, cells in rows:
        yield from wrapped_lines(title, width, "strong")
        for name, (text, role) in zip(names, cells, strict=True):
            yield (f"  {name}: ", "dim"), (text, role)
