"""Findings put together by what causes them: one row a cause, whichever checks see it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from circuitcheck.checking import worst_first
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.note.typeset import typeset
from circuitcheck.outcomes import check_words, heading_word
from circuitcheck.paper import Cell, Row
from circuitcheck.refs import SINGLE_SECTIONS, Ref

#: Names that a row lists; the rest is counted.
MOST_NAMED = 8


@dataclass(frozen=True, slots=True)
class Cause:
    """Findings of one outcome that one thing causes, the first of them the one that is told."""

    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The finding whose sentence stands for all."""
        return self.findings[0]

    @property
    def outcome(self) -> Outcome:
        """How they all came out."""
        return self.first.outcome


def causes_of(report: Report) -> tuple[Cause, ...]:
    """What does not pass, worst first, without what only work still to come decides."""
    return grouped(
        finding
        for finding in worst_first(report.findings)
        if finding.outcome is not Outcome.PASS and not finding.to_come
    )


def grouped(findings: Iterable[Finding]) -> tuple[Cause, ...]:
    """The findings by cause, in the order of the first of each.

    Findings of one outcome belong together where they name one cause, where one unknown entry keeps them all open,
    where the same entry decides them, or where one check asks for the same thing to be done about several parts or
    sees the same entry of the panel or the place behind them.
    """
    told = list(findings)
    leader = list(range(len(told)))

    def first(place: int) -> int:
        while leader[place] != place:
            place = leader[place]
        return place

    seen: dict[object, int] = {}
    for place, finding in enumerate(told):
        for mark in _marks(finding):
            other = first(seen.setdefault(mark, place))
            mine = first(place)
            leader[max(other, mine)] = min(other, mine)
    groups: dict[int, list[Finding]] = {}
    for place, finding in enumerate(told):
        groups.setdefault(first(place), []).append(finding)
    return tuple(Cause(tuple(group)) for group in groups.values())


def _marks(finding: Finding) -> Iterable[object]:
    """What the finding shares with others of the same cause."""
    kind = (finding.outcome, finding.stop)
    cause = getattr(finding, "cause", "")
    if cause:
        yield (*kind, "cause", cause)
    if finding.to_do:
        yield (*kind, finding.check, finding.to_do)
    yield from ((*kind, finding.check, key) for key in finding.keys if Ref.of_part(key).section in SINGLE_SECTIONS)
    if finding.needs:
        yield from ((*kind, "needs", key) for key in finding.needs)
    elif finding.keys:
        yield (*kind, "key", finding.keys[0])


def cause_rows(causes: Iterable[Cause]) -> Iterable[Row]:
    """A row for each cause: mark and word, what it is about, the worst of it, and what to do."""
    return (_row(cause) for cause in causes)


def _row(cause: Cause) -> Row:
    first = cause.first
    alike = [finding.subject for finding in cause.findings if finding.check == first.check]
    others: dict[str, list[str]] = {}
    for finding in cause.findings:
        if finding.check != first.check:
            others.setdefault(finding.check, []).append(finding.subject)
    more: list[str] = []
    if len(set(alike)) > 1:
        more.append(f"The same for {quoted(alike[1:])}.")
    if others:
        told = (f"{check_words(check)}{about(subjects)}" for check, subjects in others.items())
        more.append(f"Seen too by: {'; '.join(told)}.")
    more += [f"To do: {typeset(line)}" for line in first.to_do]
    return Row(
        (
            Cell(heading_word(first), strong=True),
            Cell(f"{check_words(first.check)}{about([first.subject])}"),
            Cell(typeset(first.says), more=tuple(more)),
        )
    )


def about(subjects: Sequence[str]) -> str:
    """What a check is about, in quotes behind its name; nothing for the circuit as a whole."""
    parts = [subject for subject in subjects if subject != "circuit"]
    return f", {quoted(parts)}" if parts else ""


def quoted(names: Sequence[str], most: int = MOST_NAMED) -> str:
    """Names that the owner gave, in quotes; of very many the first ones, and how many there are besides."""
    each = [f"“{name}”" for name in dict.fromkeys(names)]
    more = f" and {len(each) - most} more" if len(each) > most else ""
    return ", ".join(each[:most]) + more
