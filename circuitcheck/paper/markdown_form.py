"""A sheet as Markdown (CommonMark with tables), every text escaped so that it shows as the text it is."""

from __future__ import annotations

import re
from collections.abc import Iterator

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

_MARKUP = re.compile(r"([\\`*\[\]<>|~&$])")
_EDGE_UNDERSCORE = re.compile(r"(?<![^\W_])_|_(?![^\W_])")
_LEADING = re.compile(r"^(\d{1,9})([.)])(?=\s|$)|^([-+#=])")
_BACKTICKS = re.compile(r"`+")
_LINK = re.compile(r"(?i)\b(https?|ftp):|\bwww\.")
LINE = "\\_" * 24


def markdown_text(outline: Outline) -> str:
    """The whole sheet."""
    lines = [f"# {escaped(outline.title)}", "", f"**{escaped(outline.banner)}**", "", escaped(outline.subtitle)]
    for section in outline.sections:
        lines += ["", f"## {escaped(section.title)}"] if section.title else []
        for block in section.blocks:
            lines += ["", *_block(block)]
    lines += ["", "---", "", escaped(outline.foot), "", f"**{escaped(outline.banner)}**"]
    return "\n".join(lines) + "\n"


def escaped(text: str) -> str:
    """The text with everything that Markdown would take for markup set off, at the start of a line too."""
    plain = " ".join(shown_text(text).split())
    plain = _EDGE_UNDERSCORE.sub(r"\\_", _MARKUP.sub(r"\\\1", plain))
    plain = _LINK.sub(lambda found: found[0][:-1] + "\\" + found[0][-1], plain)
    return _LEADING.sub(lambda found: f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}", plain)


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Paragraph):
        yield _paragraph(block)
    elif isinstance(block, Listing):
        box = "[ ] " if block.boxes else ""
        for number, item in enumerate(block.items, 1):
            yield f"{f'{number}.' if block.numbered else '-'} {box}{escaped(item)}"
    elif isinstance(block, Facts):
        yield from (f"- {escaped(name)}: {_cell(value)}" for name, value in block.pairs)
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, Picture):
        yield from _picture(block)
    elif isinstance(block, Squares):
        yield "(room for a sketch: squared paper)"
    elif isinstance(block, Abreast):
        for index, one in enumerate(block.blocks):
            yield from ("",) if index else ()
            yield from _block(one)
    else:
        yield from _blank(block)


def _paragraph(block: Paragraph) -> str:
    if block.tone is Tone.CAUTION:
        return f"> **!** {escaped(block.text)}"
    text = f"**{escaped(block.text)}**" if block.tone is Tone.ANSWER else escaped(block.text)
    return "\n\n".join((text, *(escaped(line) for line in block.more)))


def _table(block: Table) -> Iterator[str]:
    if block.title:
        yield f"**{escaped(block.title)}**"
        yield ""
    yield _row([escaped(column.title) for column in block.columns])
    yield _row(["---:" if column.numeric else ":---" for column in block.columns])
    for row in block.rows:
        yield _row(_cells(row, len(block.columns)))
    if block.note:
        yield ""
        yield escaped(block.note)


def _cells(row: Row, count: int) -> list[str]:
    if row.kind is RowKind.GROUP:
        return [f"**{_cell(row.cells[0])}**", *[""] * (count - 1)]
    cells = [_cell(cell) for cell in row.cells]
    return [f"**{cell}**" if cell else "" for cell in cells] if row.kind is RowKind.TOTAL else cells


def _cell(cell: Cell) -> str:
    if cell.blank:
        return f"{LINE} {escaped(cell.text)}".rstrip()
    first = escaped(cell.first_line)
    if cell.strong and first:
        first = f"**{first}**"
    return "<br>".join([first, *(escaped(line) for line in cell.more)])


def _row(cells: list[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def _picture(block: Picture) -> Iterator[str]:
    """The lines in a fence longer than any run of back ticks in them."""
    lines = [shown_text(line) for line in block.lines]
    longest = max((len(found[0]) for line in lines for found in _BACKTICKS.finditer(line)), default=0)
    fence = "`" * max(3, longest + 1)
    yield f"{escaped(block.title)}"
    yield ""
    yield f"{fence}text"
    yield from lines
    yield fence


def _blank(block: Blank) -> Iterator[str]:
    for label in block.labels:
        yield f"{escaped(label)} {LINE}{LINE}".strip()
        yield ""
