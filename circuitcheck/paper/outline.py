"""The outline of a sheet: what stands on it and in which order, whatever form it takes.

Texts are plain words and never markup; each form shows them as they are, what is invisible in them spelled out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from circuitcheck.paper.drawing import Drawing


class Known(StrEnum):
    """How a value is known, told apart on paper by mark and word."""

    STATED = ""
    MEASURED = "measured"
    LABEL = "label"
    GUESS = "guess"
    UNKNOWN = "not known"


#: A mark beside each word, so that the five can be told apart at a glance and without colour.
KNOWN_MARK: dict[Known, str] = {
    Known.STATED: "",
    Known.MEASURED: "●",
    Known.LABEL: "◆",
    Known.GUESS: "≈",
    Known.UNKNOWN: "?",
}


class Tone(StrEnum):
    """How much a paragraph stands out."""

    PLAIN = "plain"
    SMALL = "small"
    CAUTION = "caution"
    ANSWER = "answer"


class RowKind(StrEnum):
    """What a table row is: ``GROUP`` heads the rows below it, ``TOTAL`` sums those above."""

    PLAIN = "plain"
    GROUP = "group"
    TOTAL = "total"


@dataclass(frozen=True, slots=True)
class Cell:
    """A value as shown: its text, how it is known, whether it stands out, and further lines under it.

    An unknown value may have no text. ``blank``: nothing is known yet and the sheet leaves a line to write on, with the
    text small beside it.
    """

    text: str
    known: Known = Known.STATED
    strong: bool = False
    more: tuple[str, ...] = ()
    blank: bool = False

    @property
    def how(self) -> str:
        """Mark and word of how it is known, not to be parted at the end of a line; empty for a plain statement."""
        return f"{KNOWN_MARK[self.known]}\u00a0{self.known}" if self.known is not Known.STATED else ""

    @property
    def first_line(self) -> str:
        """The value with mark and word, in one line of plain text."""
        if not self.how:
            return self.text
        return f"{self.text} ({self.how})" if self.text else self.how


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph. ``more``: further lines under it, in the same box but plainer."""

    text: str
    tone: Tone = Tone.PLAIN
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Listing:
    """A list. ``boxes``: each item has a box to tick. ``numbered``: each has a number; both may stand together."""

    items: tuple[str, ...]
    boxes: bool = False
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with their values, two pairs abreast where there is room. A blank value is a line to write on."""

    pairs: tuple[tuple[str, Cell], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column. ``share``: how much of the width it takes beside the others. ``numeric``: set to the right."""

    title: str
    share: float = 1.0
    numeric: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A table row. A ``GROUP`` row has one cell, which spans the table."""

    cells: tuple[Cell, ...]
    kind: RowKind = RowKind.PLAIN


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption; its header is repeated on each page. ``note`` stands under it."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing that each form has drawn for its own width and type, and the same as lines of text.

    ``draw(width, size, spread)``: width and type size in points of the form; ``spread``: how wide its typeface runs
    beside a usual one.
    """

    title: str
    description: str
    draw: Callable[[float, float, float], Drawing]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Blank:
    """Lines to write on: one under the other, each with its label in front (which may be empty)."""

    labels: tuple[str, ...]
    abreast: bool = False


@dataclass(frozen=True, slots=True)
class Squares:
    """Squared paper to sketch on, a quarter of an inch each: so many ``rows`` at least, more where there is room."""

    rows: int


@dataclass(frozen=True, slots=True)
class Abreast:
    """Blocks beside one another where there is room. ``shares``: how much of the width each takes."""

    blocks: tuple[Paragraph | Listing | Facts | Table | Blank, ...]
    shares: tuple[float, ...]


Block = Paragraph | Listing | Facts | Table | Picture | Blank | Squares | Abreast


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with what stands under it; without a title, what stands above all headings.

    ``together``: kept on one page where that is possible. ``joined``: and with the section before it.
    ``new_page``: begins a page, unless what stands before it runs over its own page.
    """

    title: str
    blocks: tuple[Block, ...]
    together: bool = True
    new_page: bool = False
    joined: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A whole sheet. ``banner`` and ``foot`` stand on every page. ``landscape``: the pages lie on their side.

    ``made`` is the date on the sheet (year, month, day); forms that carry a date take this one, so that the same input
    gives the same bytes.
    """

    kind: str
    banner: str
    title: str
    subtitle: str
    foot: str
    made: tuple[int, int, int]
    landscape: bool = False
    sections: tuple[Section, ...]
