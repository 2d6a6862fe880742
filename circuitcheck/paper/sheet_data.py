"""An outline as plain data (JSON) for a program that sets type, everything invisible in its texts spelled out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from circuitcheck.paper.drawing import Drawing, Ring, Shape, Words
from circuitcheck.paper.heights import DRAWING_SIZE, MOST_WHOLE, SPREAD, is_together, is_whole, joined_height
from circuitcheck.paper.outline import (
    Abreast,
    Block,
    Cell,
    Facts,
    Listing,
    Outline,
    Paragraph,
    Picture,
    Section,
    Squares,
    Table,
)
from circuitcheck.text import shown_text

#: Width between the margins of a page [pt].
TEXT_WIDTH = {"letter": 526.0, "a4": 510.0}
LANDSCAPE_WIDTH = {"letter": 706.0, "a4": 756.0}

MOST_IN_HEAD = 60

#: Boxes to tick stand three abreast where none of their texts is longer than this.
MOST_ABREAST = 34


def sheet_data(outline: Outline, paper: str) -> dict[str, Any]:
    """The outline for paper ``letter`` or ``a4``."""
    width = (LANDSCAPE_WIDTH if outline.landscape else TEXT_WIDTH)[paper]
    return {
        "paper": paper,
        "landscape": outline.landscape,
        "kind": shown_text(outline.kind),
        "banner": shown_text(outline.banner),
        "title": shown_text(outline.title),
        "short-title": shortened(shown_text(outline.title)),
        "subtitle": shown_text(outline.subtitle),
        "foot": shown_text(outline.foot),
        "made": list(outline.made),
        "lacking": "",
        "groups": [_group(sections, width) for sections in _groups(outline.sections)],
    }


def _groups(sections: Iterable[Section]) -> list[list[Section]]:
    """The sections, those that are joined to the one before them in one group."""
    groups: list[list[Section]] = []
    for section in sections:
        if section.joined and groups:
            groups[-1].append(section)
        else:
            groups.append([section])
    return groups


def _group(sections: Sequence[Section], width: float) -> dict[str, Any]:
    together = len(sections) > 1 and joined_height(sections, width) <= MOST_WHOLE
    return {
        "new-page": sections[0].new_page,
        "together": together or (len(sections) == 1 and is_together(sections[0], width)),
        "sections": [
            {"title": shown_text(section.title), "blocks": [_placed(block, width) for block in section.blocks]}
            for section in sections
        ],
    }


def shortened(text: str) -> str:
    """The text, cut to what fits the head of a page."""
    return text if len(text) <= MOST_IN_HEAD else f"{text[: MOST_IN_HEAD - 1]}…"


def texts_in(data: Any) -> Iterator[str]:
    """Every text in the data."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from texts_in(value)
    elif isinstance(data, list | tuple):
        for value in data:
            yield from texts_in(value)


def _placed(block: Block, width: float) -> dict[str, Any]:
    data = _block(block, width)
    drawn = isinstance(block, Picture) and sum(strip["height"] for strip in data["strips"])
    data["whole"] = drawn <= MOST_WHOLE if drawn else is_whole(block, width)
    return data


def _block(block: Block, width: float) -> dict[str, Any]:
    if isinstance(block, Paragraph):
        more = [shown_text(line) for line in block.more]
        return {"kind": "paragraph", "text": shown_text(block.text), "tone": block.tone.value, "more": more}
    if isinstance(block, Listing):
        items = [shown_text(item) for item in block.items]
        return {
            "kind": "listing",
            "items": items,
            "boxes": block.boxes,
            "numbered": block.numbered,
            "short": all(len(item) <= MOST_ABREAST for item in items),
        }
    if isinstance(block, Facts):
        return {"kind": "facts", "pairs": [[shown_text(name), _cell(value)] for name, value in block.pairs]}
    if isinstance(block, Table):
        return _table(block)
    if isinstance(block, Picture):
        return {"kind": "picture", **_drawing(block.draw(width, DRAWING_SIZE, SPREAD))}
    if isinstance(block, Squares):
        return {"kind": "squares", "rows": block.rows}
    if isinstance(block, Abreast):
        whole = sum(block.shares)
        blocks = [_placed(one, width * share / whole) for one, share in zip(block.blocks, block.shares, strict=True)]
        return {"kind": "abreast", "blocks": blocks, "shares": list(block.shares)}
    return {"kind": "blank", "labels": [shown_text(label) for label in block.labels], "abreast": block.abreast}


def _table(block: Table) -> dict[str, Any]:
    return {
        "kind": "table",
        "title": shown_text(block.title),
        "note": shown_text(block.note),
        "columns": [
            {"title": shown_text(column.title), "share": column.share, "numeric": column.numeric}
            for column in block.columns
        ],
        "rows": [{"kind": row.kind.value, "cells": [_cell(cell) for cell in row.cells]} for row in block.rows],
    }


def _cell(cell: Cell) -> dict[str, Any]:
    return {
        "text": shown_text(cell.text),
        "known": cell.known.value,
        "how": cell.how,
        "strong": cell.strong,
        "more": [shown_text(line) for line in cell.more],
        "blank": cell.blank,
    }


def _drawing(drawing: Drawing) -> dict[str, Any]:
    strips = [
        {"height": round(strip.height, 2), "shapes": [_shape(shape) for shape in strip.shapes]}
        for strip in drawing.strips
    ]
    return {"width": drawing.width, "strips": strips}


def _shape(shape: Shape) -> dict[str, Any]:
    if isinstance(shape, Words):
        return {
            "kind": "words",
            "x": round(shape.x, 2),
            "y": round(shape.y, 2),
            "text": shown_text(shape.text),
            "size": shape.size,
            "strong": shape.strong,
            "anchor": shape.anchor,
        }
    if isinstance(shape, Ring):
        return {
            "kind": "ring",
            "x": round(shape.x, 2),
            "y": round(shape.y, 2),
            "radius": round(shape.radius, 2),
            "weight": shape.weight,
            "dashed": shape.dashed,
        }
    return {
        "kind": "stroke",
        "points": [[round(x, 2), round(y, 2)] for x, y in shape.points],
        "weight": shape.weight,
        "dashed": shape.dashed,
        "closed": shape.closed,
        "filled": shape.filled,
    }
