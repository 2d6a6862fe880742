"""Findings as rows of a table, and what the new work still has to keep."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from circuitcheck.findings import Finding, Report
from circuitcheck.note.causes import about, quoted
from circuitcheck.note.part_words import entry_words
from circuitcheck.note.typeset import typeset
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, check_words, heading_word
from circuitcheck.paper import Cell, Row

#: More findings of one check with one answer than this are told by the first of them.
MANY = 8

#: Names that are listed; the rest is counted.
MOST_NAMED = 20

_NAME = re.compile(r'"[^"]*"')


def checklist(report: Report) -> tuple[str, ...]:
    """What the new work still has to keep; it counts for nothing beside the verdict."""
    by_check: dict[str, dict[str, None]] = {}
    for one in report.findings:
        if one.to_come:
            by_check.setdefault(one.check, {})[one.says] = None
    sentences: list[str] = []
    for says in map(list, by_check.values()):
        told = list(_told_together(says))
        shown = told if len(told) <= MANY else [f"{told[0]} So for {len(told) - 1} more."]
        sentences += map(typeset, shown)
    return tuple(sentences)


def _told_together(sentences: Sequence[str]) -> Iterable[str]:
    """The sentences; those that differ in one name alone as the first of them, with the other names behind it."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for sentence in sentences:
        groups.setdefault(tuple(_NAME.split(sentence)), []).append(sentence)
    for alike in groups.values():
        by_place = list(zip(*map(_NAME.findall, alike), strict=True))
        differing = [names for names in by_place if len(set(names)) > 1]
        if len(differing) != 1:
            yield from alike
            continue
        others = list(dict.fromkeys(name[1:-1] for name in differing[0][1:]))
        yield f"{alike[0]} The same for {quoted(others, MOST_NAMED)}."


def finding_rows(findings: Iterable[Finding], *, to_do: bool = True) -> Iterable[Row]:
    """One row for each check, answer and thing to do: parts that share all three stand together.

    ``to_do``: whether the row says what to do; of very many alike, what the first of them says stands for all.
    """
    told = list(findings)
    counts = Counter((finding.check, finding.outcome, finding.stop) for finding in told)
    groups: dict[tuple[object, ...], dict[tuple[str, str], Finding]] = {}
    for finding in told:
        kind = (finding.check, finding.outcome, finding.stop)
        same = (*kind, () if counts[kind] > 2 * MANY else finding.to_do)
        groups.setdefault(same, {}).setdefault((finding.subject, finding.says), finding)
    for group in groups.values():
        yield _row(list(group.values()), to_do)


_STILL_UNKNOWN = "; still unknown: "


def _row(group: Sequence[Finding], with_to_do: bool) -> Row:
    first = group[0]
    subjects = list(dict.fromkeys(finding.subject for finding in group))
    if len(group) > MANY:
        subject = f", “{first.subject}” and {len(subjects) - 1} more"
        says = [first.says, f"The same for {quoted(subjects[1:], MOST_NAMED)}."]
    else:
        subject, says = about(subjects), [finding.says for finding in group]
    needs = list(dict.fromkeys(key for finding in group for key in finding.needs))
    told = all(_STILL_UNKNOWN in finding.says for finding in group)  # then its sentence names them
    find_out = (f"Find out: {_listed([entry_words(key) for key in needs])}.",) if needs and not told else ()
    to_do = tuple(f"To do: {typeset(line)}" for line in first.to_do) if with_to_do else ()
    return Row(
        (
            Cell(heading_word(first), strong=True),
            Cell(f"{check_words(first.check)}{subject}"),
            Cell(typeset(says[0]), more=(*map(typeset, says[1:]), *find_out, *to_do)),
        )
    )


def _listed(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(names[:MOST_NAMED]) + more


def outcome_word(finding: Finding) -> str:
    """Mark and word, for a table."""
    return f"{OUTCOME_MARK[finding.outcome]} {OUTCOME_WORD[finding.outcome].lower()}"
