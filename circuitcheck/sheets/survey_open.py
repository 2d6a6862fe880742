"""What a file leaves open, with room for each answer: what decides first, then worst cases, then guesses."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.circuit.guide import entry_guide, key_of
from circuitcheck.findings import Guess, Report, Unknown
from circuitcheck.note.part_words import entry_words
from circuitcheck.paper import Cell, Column, Paragraph, Row, Section, Table
from circuitcheck.sheets.survey_parts import ASKED

COLUMNS = (Column("What", 2.6), Column("How to find out, the cheapest way first", 4.6), Column("Found", 2.2))
GUESS_COLUMNS = (Column("Guessed", 3), Column("Written", 2), Column("It stands for", 2.4), Column("Found", 2.2))

#: So many entries have a line of their own; the rest is counted, for a second sheet.
MOST = 60


def open_sections(report: Report) -> Iterator[Section]:
    """Up to three sections; none where the file leaves nothing open."""
    deciding = [unknown for unknown in report.unknowns if unknown.decides]
    besides = [unknown for unknown in report.unknowns if not unknown.decides]
    if deciding:
        yield _unknowns("Find out first: these decide an open answer", deciding)
    if besides:
        yield _unknowns("Find out besides: so far the worst case is assumed", besides)
    if report.guesses:
        rows = tuple(_guess_row(guess) for guess in report.guesses[:MOST])
        table = Table("", GUESS_COLUMNS, rows)
        yield Section("Guesses to verify", (table, *_more(len(report.guesses))), together=False)


def _unknowns(title: str, unknowns: Sequence[Unknown]) -> Section:
    rows: list[Row] = []
    told: set[str] = set()
    for unknown in unknowns[:MOST]:
        found = key_of(unknown.key)
        name = entry_guide(*found).title if found is not None else unknown.key
        part = entry_words(unknown.key).partition(":")[0]
        how = "as above" if unknown.how_to_find in told else unknown.how_to_find
        told.add(unknown.how_to_find)
        rows.append(Row((Cell(name, more=(part,)), Cell(how), ASKED)))
    return Section(title, (Table("", COLUMNS, tuple(rows)), *_more(len(unknowns))), together=False)


def _guess_row(guess: Guess) -> Row:
    return Row((Cell(entry_words(guess.key)), Cell(guess.written), Cell(guess.stands_for), ASKED))


def _more(count: int) -> tuple[Paragraph, ...]:
    if count <= MOST:
        return ()
    return (
        Paragraph(f"And {count - MOST} more of the kind: write the first ones into the file and make the sheet again."),
    )
