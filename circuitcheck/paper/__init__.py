"""What goes on paper: one outline of a sheet, and the four forms it can take (text, Markdown, HTML, PDF)."""

from __future__ import annotations

from circuitcheck.paper.outline import (
    Abreast,
    Blank,
    Cell,
    Column,
    Facts,
    Known,
    Listing,
    Outline,
    Paragraph,
    Picture,
    Row,
    RowKind,
    Section,
    Squares,
    Table,
    Tone,
)
from circuitcheck.paper.writing import write_outline

__all__ = [
    "Abreast",
    "Blank",
    "Cell",
    "Column",
    "Facts",
    "Known",
    "Listing",
    "Outline",
    "Paragraph",
    "Picture",
    "Row",
    "RowKind",
    "Section",
    "Squares",
    "Table",
    "Tone",
    "write_outline",
]
