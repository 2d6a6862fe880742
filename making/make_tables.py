"""Writes docs/tables.md: every table and single value with its editions, place, status and what it was compared with.

Run: python making/make_tables.py (or: make docs)
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from circuitcheck.findings import Source, Status
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import (
    Row,
    Value,
    all_table_names,
    all_value_names,
    edition_details,
    load_rulebook,
    read_table,
)

PAGE = Path(__file__).parents[1] / "docs" / "tables.md"
HEAD = """<!-- Made by making/make_tables.py from tables/*.toml; edit those instead. -->
# The tables

Every number that a check compares with stands in [`tables/`](../tables), with the document, the edition and the place
it comes from and how sure it is. `circuitcheck tables NAME` prints one with its cells.

- `published`: really compared with the source that is named: **first-hand**, the text itself, or **second-hand**,
  somebody's word for it
- `derived`: by the formula that is named
- `common practice`: in no code
- `from memory`: not compared with anything yet; a caution in every report that uses it

First-hand is the text of an edition, of a law that reprints it or of an official publication, in whatever copy.
Second-hand is what somebody quotes or keys in anew, and what was read in a neighboring edition only. A printed
code book goes before all of it.
"""


def page() -> str:
    """The whole page."""
    return "\n".join([HEAD, *rulebooks(), *tables(), *values()]) + "\n"


def rulebooks() -> Iterator[str]:
    """The rulebooks, and how sure each is as a whole."""
    yield from (
        "## Rulebooks",
        "",
        "| name | title | country | about | rows and values by status | published: how read |",
        "|---|---|---|---|---|---|",
    )
    for edition in edition_details():
        book = load_rulebook(edition.name)
        sources = [row.source for table in book.tables.values() for row in table.rows]
        sources += [value.source for value in book.values.values()]
        by_status = shown_counts(str(source.status) for source in sources)
        by_reading = shown_counts(str(source.read) for source in sources if source.status is Status.PUBLISHED)
        about = f"{edition.title} | {edition.country} | {cell(edition.about)}"
        yield f"| {edition.name} | {about} | {by_status} | {by_reading} |"
    yield ""


def shown_counts(names: Iterable[str]) -> str:
    """How often each name comes, the most frequent first."""
    return ", ".join(f"{count} {name}" for name, count in Counter(names).most_common())


def tables() -> Iterator[str]:
    """A section for each table: columns, and a line for each source with the rows that it stands for."""
    yield from ("## Tables", "")
    for name in all_table_names():
        file = read_table(name)
        yield from (f"### {name}", "", f"{file.title}.", "")
        if file.note:
            yield from (file.note, "")
        shown = [f"{column.name} [{column.unit}]" if column.unit else column.name for column in file.columns]
        yield from (f"Columns: {', '.join(shown)}.", "")
        yield from ("| rulebooks | rows | where it stands | status | compared with |", "|---|---|---|---|---|")
        yield from table_lines(name)
        yield ""
        for key, note in file.row_notes.items():
            yield f"- {key}: {note}"
        if file.row_notes:
            yield ""


def table_lines(name: str) -> Iterator[str]:
    """One line for each source of a table, editions that share it together."""
    held: dict[tuple[Source, tuple[str, ...]], list[str]] = {}
    for edition, table in read_table(name).tables.items():
        by_source: dict[Source, list[Row]] = {}
        for row in table.rows:
            by_source.setdefault(row.source, []).append(row)
        for source, rows in by_source.items():
            keys = ("all",) if len(rows) == len(table.rows) else tuple(" ".join(row.key) or "first" for row in rows)
            held.setdefault((without_edition(source), keys), []).append(edition)
    for (source, keys), editions in held.items():
        yield f"| {', '.join(editions)} | {cell(', '.join(keys))} | {source_cells(source)} |"


def values() -> Iterator[str]:
    """All single values, editions that agree together."""
    yield from ("## Single values", "")
    yield from (
        "| name | rulebooks | value | where it stands | status | compared with | remark |",
        "|---|---|---|---|---|---|---|",
    )
    for name in all_value_names():
        held: dict[tuple[str, Source, str], list[str]] = {}
        for edition in edition_details():
            value = load_rulebook(edition.name).find_value(name)
            if value is not None:
                key = (shown_value(value), without_edition(value.source), value.note)
                held.setdefault(key, []).append(edition.name)
        for (shown, source, note), editions in held.items():
            yield f"| {name} | {', '.join(editions)} | {cell(shown)} | {source_cells(source)} | {cell(note)} |"


def shown_value(value: Value) -> str:
    """A value as its book states it."""
    if value.items:
        return ", ".join(value.items)
    if value.text:
        return value.text
    number = in_unit(value.number, value.unit) if value.unit else value.number
    return f"{number:.6g} {value.unit}".strip()


def source_cells(source: Source) -> str:
    """Document and place, status, and what it was compared with, as three cells."""
    status = f"{source.status}, {source.read}" if source.read else str(source.status)
    return f"{cell(f'{source.document} {source.place}'.strip())} | {status} | {cell(source.checked)}"


def without_edition(source: Source) -> Source:
    """The source with the year left out, so that equal lines of several editions can share one."""
    return replace(source, edition="")


def cell(text: str) -> str:
    """Text that cannot break a Markdown table or hide in it."""
    return text.replace("\\", "\\\\").replace("|", "\\|").replace("<", "&lt;").replace("\n", " ")


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
