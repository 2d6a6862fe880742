"""What is open: unknown entries and how to find them out, guesses, worst cases, values from memory, questions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.circuit.guide import entry_guide, entry_ref, key_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Guess, Report, Source, Status, Unknown, merge_sources
from circuitcheck.note.causes import quoted
from circuitcheck.note.part_words import entry_words
from circuitcheck.note.taken_over import taken_over
from circuitcheck.note.typeset import typeset
from circuitcheck.outcomes import check_words
from circuitcheck.paper import Cell, Column, Paragraph, Row, RowKind, Section, Table, Tone

UNKNOWN_COLUMNS = (Column("Unknown", 2.1), Column("Part", 2.1), Column("Cheapest way to find out", 6))
GUESS_COLUMNS = (Column("Guessed", 3), Column("Written", 2), Column("What it stands for", 4))

#: Parts of one kind that a row names; the rest is counted.
MOST_PARTS = 4

#: Unknown entries that decide nothing have a row each up to this number; more of them are named in one paragraph.
MOST_IDLE = 8

#: Names or sentences of one kind that are listed; the rest is counted.
MOST = 12


def unknowns_section(report: Report) -> Section | None:
    """What nobody knows yet; None where everything that was asked is known."""
    if not report.unknowns:
        return None
    blocks: list[Paragraph | Table] = []
    rows: list[Row] = []
    deciding = [unknown for unknown in report.unknowns if unknown.decides]
    idle = [unknown for unknown in report.unknowns if not unknown.decides]
    folded = len(_by_kind(idle)) > MOST_IDLE
    for title, group in (("Decides an open answer", deciding), ("Worst case assumed so far", [] if folded else idle)):
        if group:
            rows += [Row((Cell(title),), RowKind.GROUP), *_unknown_rows(group)]
    if rows:
        blocks.append(Table("", UNKNOWN_COLUMNS, tuple(rows)))
    if folded:
        told = " · ".join(
            f"{_title(section, key)}: {_parts(section, key, paths)}" for section, key, paths in _by_kind(idle)
        )
        blocks.append(
            Paragraph(f"Worst case assumed so far (the survey sheet says how to find it out): {told}", Tone.SMALL)
        )
    blocks.append(
        Paragraph(
            "Before any box is opened: breaker off and locked or tagged, then every wire tested dead. The panel's own "
            "cover stays on; what is behind it is for a licensed electrician.",
            Tone.SMALL,
        )
    )
    return Section("Unknowns, and the cheapest way to find out", tuple(blocks), together=False)


def _unknown_rows(unknowns: Iterable[Unknown]) -> Iterable[Row]:
    """One row for each kind of entry: the same question about several parts is asked once."""
    for section, key, paths in _by_kind(unknowns):
        guide = entry_guide(section, key) if section else None
        read = guide.read[0] if guide is not None and guide.read else ""
        yield Row((Cell(_title(section, key)), Cell(_parts(section, key, paths)), Cell(read)))


def _by_kind(unknowns: Iterable[Unknown]) -> list[tuple[str, str, list[str]]]:
    """Section and key of each kind of entry, with the paths of all that are unknown."""
    groups: dict[tuple[str, str], list[str]] = {}
    for unknown in unknowns:
        groups.setdefault(key_of(unknown.key) or ("", unknown.key), []).append(unknown.key)
    return [(section, key, paths) for (section, key), paths in groups.items()]


def _title(section: str, key: str) -> str:
    return entry_guide(section, key).title if section else key


def _parts(section: str, key: str, paths: Sequence[str]) -> str:
    names = [entry_ref(path).id for path in paths]
    kind = section.replace("_", "-")
    named = [name for name in names if name]
    return f"{kind} {quoted(named, MOST_PARTS)}" if named else kind


def assumptions_section(report: Report, circuit: Circuit) -> Section | None:
    """Guesses, worst cases, common practice and values that nobody compared with a source yet; None where none."""
    blocks: list[Paragraph | Table] = []
    sources = merge_sources(*(finding.sources for finding in report.findings))
    used = _used(sources, report.findings, Status.FROM_MEMORY)
    if used:
        blocks.append(Paragraph(f"From memory, not yet compared with a source: {used}.", Tone.CAUTION))
    if report.guesses:
        blocks.append(Table("", GUESS_COLUMNS, tuple(_guess_row(guess) for guess in report.guesses)))
    worst = _told_together(sentence for finding in report.findings for sentence in finding.assumed)
    if worst:
        told = " · ".join((*(typeset(one) for one in worst[:MOST]), *_and_more(len(worst))))
        blocks.append(Paragraph(f"Assumed where something is unknown: {told}", Tone.SMALL))
    alike = taken_over(circuit)
    if alike:
        told = " · ".join((*(typeset(line) for line in alike[:MOST]), *_and_more(len(alike))))
        blocks.append(Paragraph(f"Taken over from another part: {told}", Tone.SMALL))
    return Section("Guesses and assumptions", tuple(blocks), together=False) if blocks else None


def _told_together(sentences: Iterable[str]) -> list[str]:
    """The sentences, each once; those that say the same of several parts (``feed: …``) as one about all of them."""
    groups: dict[str, dict[str, None]] = {}
    for sentence in sentences:
        part, colon, says = sentence.partition(": ")
        groups.setdefault(says if colon else sentence, {})[part if colon else ""] = None
    told = []
    for says, named in groups.items():
        parts = [part for part in named if part]
        more = f" and {len(parts) - MOST} more" if len(parts) > MOST else ""
        told.append(f"{', '.join(parts[:MOST])}{more}: {says}" if parts else says)
    return told


def _and_more(count: int) -> tuple[str, ...]:
    return (f"and {count - MOST} more like these",) if count > MOST else ()


def _used(sources: Iterable[Source], findings: Sequence[Finding], status: Status) -> str:
    """Places of this status, each with the checks that rest on it."""
    named: dict[str, None] = {}
    for source in sources:
        if source.status is status:
            checks = dict.fromkeys(finding.check for finding in findings if source in finding.sources)
            where = ", ".join(part for part in (source.document, source.place) if part and part != str(status))
            named[
                f"{where} (for {', '.join(map(check_words, checks))})"
                if where
                else f"for {', '.join(map(check_words, checks))}"
            ] = None
    return "; ".join(named)


def _guess_row(guess: Guess) -> Row:
    return Row((Cell(entry_words(guess.key)), Cell(guess.written), Cell(guess.stands_for)))
