"""About how tall a block of a sheet is on a PDF page, to decide what is kept whole; having it measured costs far more.

Rather too tall than too short: a block that is kept whole must never be taller than a page.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from circuitcheck.paper.drawing import text_width
from circuitcheck.paper.outline import (
    Abreast,
    Block,
    Facts,
    Listing,
    Paragraph,
    Picture,
    Row,
    RowKind,
    Section,
    Squares,
    Table,
    Tone,
)

#: Type sizes and lines of the sheet [pt].
BODY, SMALL, FINE, LEADING = 9.5, 8.5, 8.0, 1.4
ANSWER = 24.0
HEADING = 30.0
WRITTEN_ROW, BOX_ROW, ASIDE = 26.0, 30.0, 12.0

#: Type size of a drawing [pt], and how wide the PDF's typeface runs beside a usual one.
DRAWING_SIZE, SPREAD = 8.0, 0.9

#: A quarter of an inch [pt].
SQUARE = 18.0

#: Taller ones may break between their rows: a table, and any block or section [pt].
MOST_TABLE, MOST_WHOLE = 330.0, 600.0


def is_whole(block: Block, width: float) -> bool:
    """Whether the block is kept on one page."""
    return block_height(block, width) <= (MOST_TABLE if isinstance(block, Table) else MOST_WHOLE)


def is_together(section: Section, width: float) -> bool:
    """Whether the section is kept on one page, as it asks for."""
    return section.together and HEADING + sum(block_height(block, width) for block in section.blocks) <= MOST_WHOLE


def joined_height(sections: Sequence[Section], width: float) -> float:
    """The height of sections under one another [pt]."""
    return sum(HEADING + sum(block_height(block, width) for block in section.blocks) for section in sections)


def block_height(block: Block, width: float) -> float:
    """The height of the block between margins ``width`` apart [pt]."""
    if isinstance(block, Paragraph):
        size = FINE if block.tone is Tone.SMALL else BODY
        lines = sum(_lines(text, size, width) for text in (block.text, *block.more))
        return lines * size * LEADING + (ANSWER if block.tone is Tone.ANSWER else 10)
    if isinstance(block, Listing):
        return sum(_lines(item, BODY, width - 20) * BODY * LEADING + 3 for item in block.items)
    if isinstance(block, Facts):
        told = [_lines(cell.first_line, BODY, width / 4) for _, cell in block.pairs]
        return sum(max(told[place : place + 2]) for place in range(0, len(told), 2)) * BODY * LEADING
    if isinstance(block, Table):
        return _table(block, width)
    if isinstance(block, Squares):
        return SQUARE * block.rows
    if isinstance(block, Abreast):
        whole = sum(block.shares)
        beside = zip(block.blocks, block.shares, strict=True)
        return max(block_height(one, width * share / whole) for one, share in beside)
    if isinstance(block, Picture):
        return block.draw(width, DRAWING_SIZE, SPREAD).height
    return WRITTEN_ROW * (1 if block.abreast else len(block.labels))


def _table(table: Table, width: float) -> float:
    whole = sum(column.share for column in table.columns)
    widths = [width * column.share / whole - 6 for column in table.columns]
    height = 2 * HEADING if table.title else HEADING
    height += sum(_row(row, widths) for row in table.rows)
    return height + (_lines(table.note, SMALL, width) * SMALL * LEADING if table.note else 0)


def _row(row: Row, widths: Sequence[float]) -> float:
    if row.kind is RowKind.GROUP:
        return SMALL * LEADING + 10
    if any(cell.blank for cell in row.cells):
        return BOX_ROW + (ASIDE if any(cell.blank and cell.text for cell in row.cells) else 0)
    lines = max(
        sum(_lines(text, SMALL, width) for text in (cell.first_line, *cell.more))
        for cell, width in zip(row.cells, widths, strict=True)
    )
    return lines * SMALL * LEADING + 5


def _lines(text: str, size: float, width: float) -> int:
    return max(1, math.ceil(1.1 * text_width(text, size) / max(width, size)))
