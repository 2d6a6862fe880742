"""``circuitcheck tables [NAME]``: what the rulebooks hold, where each value stands and how sure it is."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from math import isnan

from circuitcheck.cli import statuses
from circuitcheck.cli.finding_page import source_text
from circuitcheck.cli.lines import cells
from circuitcheck.cli.page import safety_page
from circuitcheck.cli.streams import page_style, put
from circuitcheck.errors import CommandError, nearest
from circuitcheck.findings import Source
from circuitcheck.paper.columns import padded
from circuitcheck.quantities import in_unit
from circuitcheck.tables.cells import Cell
from circuitcheck.tables.rulebook import Rulebook, edition_details, editions, load_rulebook, newest_edition
from circuitcheck.tables.table import Table, Value
from circuitcheck.text import shown_number, shown_text


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the table and the rulebook."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="print this table or single value; none lists them all")
    parser.add_argument("--rulebook", metavar="NAME", help="as this rulebook has it (default: the newest)")


def run(arguments: argparse.Namespace) -> int:
    """List or print. Raises: CommandError for a name that no rulebook has."""
    name = arguments.rulebook or newest_edition()
    if name not in editions():
        raise CommandError(f'there is no rulebook "{name}"; the rulebooks are {", ".join(editions())}')
    book = load_rulebook(name)
    lines = _listing(book) if arguments.name is None else _one(book, arguments.name)
    put("\n".join(lines) + "\n")
    put(safety_page(page_style()))
    return statuses.FITS


def _listing(book: Rulebook) -> Iterator[str]:
    yield "Rulebooks"
    for edition in edition_details():
        mark = "*" if edition.name == book.edition else " "
        yield f"{mark} {edition.name}: {edition.title}"
    yield ""
    yield f"Tables as {book.edition} has them (circuitcheck tables NAME prints one)"
    for name in sorted(book.tables):
        table = book.tables[name]
        yield f"  {name}: {table.title} ({len(table.rows)} rows)"
        yield from dict.fromkeys(f"      {source_text(row.source)}" for row in table.rows)
    yield ""
    yield f"Single values as {book.edition} has them"
    for name in sorted(book.values):
        value = book.values[name]
        yield f"  {name} = {_shown_value(value)}"
        yield f"      {source_text(value.source)}"


def _one(book: Rulebook, name: str) -> Iterable[str]:
    if name in book.tables:
        return _table_lines(book, book.tables[name])
    if name in book.values:
        return _value_lines(book, book.values[name])
    near = nearest(name, [*book.tables, *book.values])
    raise CommandError(
        f'{book.edition} has no table or value "{shown_text(name)}"' + (f'; did you mean "{near}"?' if near else "")
    )


def _value_lines(book: Rulebook, value: Value) -> Iterator[str]:
    yield f"{value.name} ({book.edition}) = {_shown_value(value)}"
    yield f"  {source_text(value.source)}"
    if value.source.checked:
        yield f"  checked{_how_read(value.source)}: {value.source.checked}"
    if value.note:
        yield f"  {value.note}"


def _how_read(source: Source) -> str:
    return f" ({source.read})" if source.read else ""


def _table_lines(book: Rulebook, table: Table) -> Iterator[str]:
    yield f"{table.name} ({book.edition}): {table.title}"
    columns = list(table.rows[0].cells)
    heads = [f"{name} [{table.units[name]}]" if table.units.get(name) else name for name in columns]
    main = table.rows[0].source
    numbers = [index for index, name in enumerate(columns) if name in table.units]
    grid = [heads]
    for row in table.rows:
        texts = [_shown_cell(row.cells[name], table.units.get(name)) for name in columns]
        grid.append([*texts, "" if row.source == main else f"({row.source.status})"])
    yield from _aligned(grid, numbers)
    yield ""
    for source in dict.fromkeys(row.source for row in table.rows):
        yield f"  {source_text(source)}"
        if source.checked:
            yield f"    checked{_how_read(source)}: {source.checked}"


def _aligned(grid: Sequence[Sequence[str]], numbers: Sequence[int]) -> Iterator[str]:
    count = max(len(line) for line in grid)
    widths = [max((cells(line[i]) for line in grid if i < len(line)), default=0) for i in range(count)]
    for line in grid:
        shown = (padded(cell, widths[index], right=index in numbers) for index, cell in enumerate(line))
        yield "  ".join(shown).rstrip()


def _shown_cell(cell: Cell, unit: str | None) -> str:
    if cell is None:
        return "-"
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return shown_number(in_unit(cell, unit) if unit else cell, 6)
    return ", ".join(cell) if isinstance(cell, tuple) else cell


def _shown_value(value: Value) -> str:
    if value.items:
        return ", ".join(value.items)
    if value.text:
        return value.text
    if isnan(value.number):
        return "none of them"
    number = in_unit(value.number, value.unit) if value.unit else value.number
    return f"{shown_number(number, 6)} {value.unit}".rstrip()
