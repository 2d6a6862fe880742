"""A sheet as plain text: 78 columns, no colour, nothing that a screen reader or an e-mail would spoil."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from circuitcheck.paper.columns import filled, grid_width, padded, shared_widths, side_by_side
from circuitcheck.paper.outline import (
    Abreast,
    Blank,
    Block,
    Cell,
    Facts,
    Listing,
    Outline,
    Paragraph,
    Picture,
    Row,
    RowKind,
    Squares,
    Table,
    Tone,
)
from circuitcheck.text import shown_text

WIDTH = 78
GAP = "  "


def plain_text_of(outline: Outline) -> str:
    """The whole sheet."""
    lines = [outline.banner.upper(), *_ruled(outline.title, "="), *filled(outline.subtitle, WIDTH)]
    for section in outline.sections:
        lines += ["", "", *_ruled(section.title, "-")] if section.title else [""]
        for index, block in enumerate(section.blocks):
            lines += [""] if index else []
            lines += _block(block)
    lines += ["", "", *filled(outline.foot, WIDTH), outline.banner.upper()]
    return "\n".join(lines) + "\n"


def _ruled(title: str, stroke: str) -> list[str]:
    lines = filled(title, WIDTH)
    return [*lines, stroke * max(grid_width(line) for line in lines)]


def _block(block: Block) -> Iterable[str]:
    if isinstance(block, Paragraph):
        return _paragraph(block)
    if isinstance(block, Listing):
        return _listing(block)
    if isinstance(block, Facts):
        return _facts(block)
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Picture):
        return [*filled(block.title, WIDTH), "", *(shown_text(line) for line in block.lines)]
    if isinstance(block, Squares):
        return ["(room for a sketch: squared paper)"]
    if isinstance(block, Abreast):
        return [line for index, one in enumerate(block.blocks) for line in (*([""] if index else ()), *_block(one))]
    return _blank(block)


def _paragraph(block: Paragraph) -> list[str]:
    if block.tone is Tone.CAUTION:
        return filled(block.text, WIDTH, first="! ", rest="  ")
    if block.tone is Tone.ANSWER:
        lines = filled(block.text, WIDTH, first="=> ", rest="   ")
        return [*lines, *(line for more in block.more for line in filled(more, WIDTH, first="   ", rest="   "))]
    return [line for text in (block.text, *block.more) for line in filled(text, WIDTH)]


def _listing(block: Listing) -> Iterator[str]:
    for number, item in enumerate(block.items, 1):
        mark = f"{number}. " if block.numbered else "" if block.boxes else "* "
        mark += "[ ] " if block.boxes else ""
        yield from filled(item, WIDTH, first=mark, rest=" " * len(mark))


def _facts(block: Facts) -> Iterator[str]:
    names = min(34, max((grid_width(shown_text(name)) for name, _ in block.pairs), default=0)) + 1
    for name, value in block.pairs:
        label = padded(shown_text(name) + ":", names) + " "
        text = f"{'_' * 30} {value.text}".rstrip() if value.blank else value.first_line
        yield from filled(text, WIDTH, first=label, rest=" " * (names + 1))
        for line in value.more:
            yield from filled(line, WIDTH, first=" " * (names + 1), rest=" " * (names + 1))


def _table(block: Table) -> Iterator[str]:
    """Columns side by side; where even the narrowest do not fit, each row as a small list."""
    if block.title:
        yield from filled(block.title, WIDTH)
        yield ""
    natural = [
        max(_widest([column.title]), *(_widest(_lines(row.cells[index])) for row in block.rows if _is_full(row)), 1)
        for index, column in enumerate(block.columns)
    ]
    least = [
        min(width, 14, max(6, *(_longest_word(text) for text in (column.title, *_texts(block, index)))))
        for index, (width, column) in enumerate(zip(natural, block.columns, strict=True))
    ]
    room = WIDTH - len(GAP) * (len(block.columns) - 1)
    if sum(least) > room:
        yield from _as_lists(block)
    else:
        yield from _as_columns(block, shared_widths(natural, least, [column.share for column in block.columns], room))
    if block.note:
        yield ""
        yield from filled(block.note, WIDTH)


def _as_columns(block: Table, widths: list[int]) -> Iterator[str]:
    right = [column.numeric for column in block.columns]
    titles = [filled(column.title, width) for column, width in zip(block.columns, widths, strict=True)]
    yield from side_by_side(titles, widths, right, GAP)
    yield GAP.join("-" * width for width in widths)
    for row in block.rows:
        if not _is_full(row):
            yield from filled(row.cells[0].first_line, WIDTH)
            continue
        if row.kind is RowKind.TOTAL:
            yield GAP.join("-" * width for width in widths)
        cells = [
            [part for line in _lines(cell) for part in filled(line, width)]
            for cell, width in zip(row.cells, widths, strict=True)
        ]
        yield from side_by_side(cells, widths, right, GAP)


def _as_lists(block: Table) -> Iterator[str]:
    for row in block.rows:
        if not _is_full(row):
            yield from filled(row.cells[0].first_line, WIDTH)
            continue
        yield from filled(", ".join(_lines(row.cells[0])), WIDTH)
        told = [
            f"{column.title} {', '.join(_lines(cell))}"
            for column, cell in zip(block.columns[1:], row.cells[1:], strict=True)
            if cell.first_line or cell.more or cell.blank
        ]
        yield from filled("; ".join(told), WIDTH, first="    ", rest="    ")


def _texts(block: Table, index: int) -> Iterator[str]:
    return (line for row in block.rows if _is_full(row) for line in _lines(row.cells[index]))


def _lines(cell: Cell) -> list[str]:
    if cell.blank:
        return [f"________ {shown_text(cell.text)}".rstrip()]
    return [shown_text(cell.first_line), *(shown_text(line) for line in cell.more)]


def _is_full(row: Row) -> bool:
    return row.kind is not RowKind.GROUP


def _widest(lines: Iterable[str]) -> int:
    return max((grid_width(line) for line in lines), default=0)


def _longest_word(text: str) -> int:
    return max((grid_width(word) for word in text.split()), default=0)


def _blank(block: Blank) -> Iterator[str]:
    if block.abreast:
        line = "   ".join(f"{shown_text(label)} {'_' * 14}" for label in block.labels)
        if grid_width(line) <= WIDTH:
            yield line
            return
    for label in block.labels:
        start = f"{shown_text(label)} " if label else ""
        yield start + "_" * max(8, WIDTH - grid_width(start))
