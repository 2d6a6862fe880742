"""The one-line diagram drawn: rows as strips, with the trade's plain symbols and the words beside them.

What is there already stands in thin solid lines, what is added in heavy dashed ones, and a word says so too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.note.one_line import LineRow, Rail, RowKind
from circuitcheck.paper.drawing import Drawing, Ring, Shape, Strip, Stroke, Words, wrapped
from circuitcheck.text import shown_text

THIN, HEAVY = 0.09, 0.17
LINE = 1.17
PITCH = 2.1

#: How much wider bold type runs.
BOLD = 1.16
MOST_STROKES = 6

#: Under this width in type sizes the words of a part stand below its name instead of beside it.
NARROW = 40

_LETTER = {"fan": "F", "heater": "H", "alarm": "A"}
_SWITCH = {"single-pole": "S", "three-way": "S3", "four-way": "S4"}


@dataclass(frozen=True, slots=True)
class Pen:
    """Measures that follow from the width and the type size of the form, and strokes in their weight."""

    width: float
    em: float
    deepest: int
    spread: float

    @property
    def narrow(self) -> bool:
        """Whether words stand below their part."""
        return self.width < NARROW * self.em

    @property
    def pitch(self) -> float:
        """From column to column; closer where the circuit is deeply branched."""
        return min(PITCH * self.em, 0.3 * self.width / max(1, self.deepest))

    def x(self, depth: int) -> float:
        """Where the column of that depth stands."""
        return 0.9 * self.em + depth * self.pitch

    def stroke(self, *points: tuple[float, float], added: bool = False, closed: bool = False) -> Stroke:
        """A line through the points, heavy and dashed for what is added."""
        weight = (HEAVY if added else THIN) * self.em
        return Stroke(points, round(weight, 2), dashed=added, closed=closed, filled=closed)

    def ring(self, x: float, y: float, radius: float, *, added: bool) -> Ring:
        """A circle, heavy and dashed for what is added."""
        return Ring(x, y, radius * self.em, round((HEAVY if added else THIN) * self.em, 2), dashed=added)


def one_line_drawing(rows: Sequence[LineRow], width: float, size: float, spread: float) -> Drawing:
    """The rows drawn ``width`` wide in type of ``size`` [points of the form]; ``spread``: how wide it runs."""
    pen = Pen(width, size, max((row.depth for row in rows), default=0), spread)
    strips = [] if pen.narrow else [_head(pen)]
    strips += [_strip(row, pen) for row in rows]
    return Drawing(width, (*strips, *legend(pen)))


def _head(pen: Pen) -> Strip:
    small, base = 0.9 * pen.em, pen.em
    name, does = _columns(0, pen)
    return Strip(
        1.5 * pen.em,
        (
            Words(name, base, "Part", small, strong=True),
            Words(does, base, "What it is", small, strong=True),
            Words(pen.width, base, "Volts there, at worst", small, strong=True, anchor="end"),
            Stroke(((0, 1.3 * pen.em), (pen.width, 1.3 * pen.em)), 0.5),
        ),
    )


def _columns(depth: int, pen: Pen) -> tuple[float, float]:
    """Where the names and where the words begin in rows of this depth."""
    name = pen.x(depth) + 2.9 * pen.em
    return name, max(0.3 * pen.width, name + 5 * pen.em)


def _strip(row: LineRow, pen: Pen) -> Strip:
    pad = 0.17 * pen.em
    middle = pad + 0.6 * pen.em
    words, lines = _row_words(row, pen, pad)
    height = max(lines * LINE * pen.em + 2 * pad, 1.5 * pen.em)
    return Strip(height, (*_rails(row, pen, middle, height), *_symbol(row, pen, middle), *words))


def _row_words(row: LineRow, pen: Pen, pad: float) -> tuple[list[Shape], int]:
    """The texts of a row and how many lines they take."""
    em = pen.em
    name_x, does_x = _columns(row.depth, pen)
    level = row.strokes - 1 if row.kind in (RowKind.LOW_RUN, RowKind.LOW_LOAD) else 0
    name_x += level * 1.2 * em
    does = _does(row)
    shapes: list[Shape] = []
    base = pad + 0.93 * em
    face = em * pen.spread

    def set_lines(lines: list[str], x: float, first: int, strong: bool) -> None:
        for index, line in enumerate(lines, first):
            shapes.append(Words(x, base + index * LINE * em, line, em, strong=strong))

    name = shown_text(row.called)
    if pen.narrow:
        names = wrapped(name, BOLD * face, pen.width - name_x - (5.5 * em if row.volts else 0))
        more = wrapped(does, face, pen.width - name_x) if does else []
        set_lines(names, name_x, 0, True)
        set_lines(more, name_x, len(names), False)
        count = len(names) + len(more)
    else:
        does_x = max(does_x, name_x + 5 * em)
        names = wrapped(name, BOLD * face, does_x - name_x - 0.6 * em)
        more = wrapped(does, face, pen.width - does_x - (6.5 * em if row.volts else 0))
        set_lines(names, name_x, 0, True)
        set_lines(more, does_x, 0, False)
        count = max(len(names), len(more))
    if row.volts:
        shapes.append(Words(pen.width, base, shown_text(row.volts), em, anchor="end"))
    return shapes, count


def _does(row: LineRow) -> str:
    if row.kind in (RowKind.PANEL, RowKind.DEVICE, RowKind.ALIKE):
        return shown_text(row.does)
    state = "NEW" if row.added else "existing"
    return shown_text(f"{state}, {row.does}" if row.does else state)


def _rails(row: LineRow, pen: Pen, middle: float, height: float) -> Iterator[Shape]:
    """The lines that pass, come in from above and go on below."""
    for column, rail in enumerate(row.rails):
        if rail is not Rail.NONE:
            yield pen.stroke((pen.x(column), 0), (pen.x(column), height), added=rail is Rail.ADDED)
    x = pen.x(row.depth)
    if row.side:
        before = pen.x(row.depth - 1)
        yield pen.stroke((before, middle), (x, middle), (x, height), added=row.below is Rail.ADDED)
        return
    if row.above is row.below and row.above is not Rail.NONE and row.kind is not RowKind.DEVICE:
        yield pen.stroke((x, 0), (x, height), added=row.above is Rail.ADDED)
        return
    gap = 0.5 * pen.em if row.kind is RowKind.DEVICE else 0.0
    if row.above is not Rail.NONE:
        yield pen.stroke((x, 0), (x, middle - gap), added=row.above is Rail.ADDED)
    if row.below is not Rail.NONE:
        yield pen.stroke((x, middle + gap), (x, height), added=row.below is Rail.ADDED)


def _symbol(row: LineRow, pen: Pen, y: float) -> Iterator[Shape]:
    x, em = pen.x(row.depth), pen.em
    if row.kind is RowKind.PANEL:
        yield square(pen, x, y, 0.6, False)
        yield square(pen, x, y, 0.4, False)
    elif row.kind is RowKind.DEVICE:
        yield from _device(row, pen, x, y)
    elif row.kind is RowKind.RUN:
        yield from _strokes(row, pen, x, y)
    elif row.kind is RowKind.BOX:
        yield square(pen, x, y, 0.45, row.added)
    elif row.kind is RowKind.ALIKE:
        for lift in (-0.18, 0.18):
            yield pen.stroke((x - 0.5 * em, y + (lift + 0.2) * em), (x + 0.5 * em, y + (lift - 0.2) * em))
    elif row.kind is RowKind.LOW_RUN:
        low = x + (1.8 + 1.2 * (row.strokes - 1)) * em
        yield pen.stroke((low, y - 0.9 * em), (low, y + 1.1 * em), added=row.added)
    elif row.kind is RowKind.LOW_LOAD:
        yield from load_symbol(row, pen, x + (1.8 + 1.2 * (row.strokes - 1)) * em, y)
    else:
        yield pen.stroke((x, y), (x + 1.3 * em, y), added=row.added)
        yield from load_symbol(row, pen, x + 1.8 * em, y)


def square(pen: Pen, x: float, y: float, half: float, added: bool) -> Stroke:
    """A box ``half`` a type size to each side."""
    reach = half * pen.em
    corners = ((x - reach, y - reach), (x + reach, y - reach), (x + reach, y + reach), (x - reach, y + reach))
    return pen.stroke(*corners, added=added, closed=True)


def _device(row: LineRow, pen: Pen, x: float, y: float) -> Iterator[Shape]:
    """A breaker is a gap under an arc, a fuse a box with the line through it."""
    reach = 0.5 * pen.em
    if row.symbol == "fuse":
        yield pen.stroke(
            (x - 0.5 * reach, y - reach), (x + 0.5 * reach, y - reach), (x + 0.5 * reach, y + reach),
            (x - 0.5 * reach, y + reach), closed=True,
        )  # fmt: skip
        yield pen.stroke((x, y - reach), (x, y + reach))
        return
    turns = [math.pi * step / 12 for step in range(13)]
    arc = tuple((x + 0.75 * reach * math.sin(turn), y - reach * math.cos(turn)) for turn in turns)
    yield Stroke(arc, round(1.3 * THIN * pen.em, 2))


def _strokes(row: LineRow, pen: Pen, x: float, y: float) -> Iterator[Shape]:
    """One slanting stroke for each insulated conductor, across the run."""
    count = min(row.strokes, MOST_STROKES)
    if row.side:
        middle = (pen.x(row.depth - 1) + x) / 2
        for index in range(count):
            at = middle + (index - (count - 1) / 2) * 0.32 * pen.em
            yield pen.stroke((at - 0.16 * pen.em, y + 0.4 * pen.em), (at + 0.16 * pen.em, y - 0.4 * pen.em))
        return
    for index in range(count):
        at = y + (index - (count - 1) / 2) * 0.32 * pen.em
        yield pen.stroke((x - 0.4 * pen.em, at + 0.16 * pen.em), (x + 0.4 * pen.em, at - 0.16 * pen.em))


def load_symbol(row: LineRow, pen: Pen, x: float, y: float) -> Iterator[Shape]:
    """The symbol of a load, a switch or a driver."""
    em, added, symbol = pen.em, row.added, row.symbol
    if row.kind is RowKind.CONTROL:
        yield Ring(x, y, 0.62 * em, 0.0)
        yield Words(x, y + 0.36 * em, _SWITCH.get(symbol, "S"), em, strong=True, anchor="middle")
        return
    if symbol in ("driver", "splice"):
        yield square(pen, x, y, 0.5, added)
        if symbol == "driver":
            yield pen.stroke((x - 0.5 * em, y + 0.5 * em), (x + 0.5 * em, y - 0.5 * em))
        return
    yield pen.ring(x, y, 0.52, added=added)
    if symbol == "receptacle":
        for shift in (-0.16, 0.16):
            yield pen.stroke((x + shift * em, y - 0.3 * em), (x + shift * em, y + 0.3 * em))
    elif symbol in _LETTER:
        yield Words(x, y + 0.3 * em, _LETTER[symbol], 0.8 * em, strong=True, anchor="middle")
    elif symbol == "light":
        reach = 0.52 * em * math.sqrt(0.5)
        yield pen.stroke((x - reach, y - reach), (x + reach, y + reach))
        yield pen.stroke((x - reach, y + reach), (x + reach, y - reach))


def legend(pen: Pen) -> Iterator[Strip]:
    """What the lines and symbols mean."""
    em = pen.em
    y, size = 0.9 * em, 0.9 * em
    samples: list[tuple[str, list[Shape]]] = [
        ("existing", [pen.stroke((0, y), (1.6 * em, y))]),
        ("NEW", [pen.stroke((0, y), (1.6 * em, y), added=True)]),
        ("one tick a conductor", [pen.stroke((0, y), (1.6 * em, y)), *_sample(RowKind.RUN, "", pen, y, 2)]),
        ("box", [square(pen, 0.8 * em, y, 0.45, False)]),
        ("light", list(_sample(RowKind.LOAD, "light", pen, y))),
        ("outlet", list(_sample(RowKind.LOAD, "receptacle", pen, y))),
        ("switch", list(_sample(RowKind.CONTROL, "single-pole", pen, y))),
    ]
    across = 2 if pen.narrow else len(samples)
    shares = [1 + 0.1 * len(word) for word, _ in samples]
    for start in range(0, len(samples), across):
        here = samples[start : start + across]
        whole = sum(shares[start : start + across])
        left = 0.1 * em
        shapes: list[Shape] = []
        for (word, drawn), share in zip(here, shares[start : start + across], strict=True):
            shapes += [_moved(shape, left) for shape in drawn]
            shapes.append(Words(left + 2 * em, y + 0.32 * em, word, size))
            left += pen.width * (1 / across if pen.narrow else share / whole)
        yield Strip(1.7 * em, tuple(shapes))


def _sample(kind: RowKind, symbol: str, pen: Pen, y: float, count: int = 0) -> Iterator[Shape]:
    row = LineRow(kind, 0, "", symbol=symbol, strokes=count)
    if kind is RowKind.RUN:
        for index in range(count):
            at = (0.64 + 0.32 * index) * pen.em
            yield pen.stroke((at - 0.16 * pen.em, y + 0.4 * pen.em), (at + 0.16 * pen.em, y - 0.4 * pen.em))
    else:
        yield from load_symbol(row, pen, 0.8 * pen.em, y)


def _moved(shape: Shape, by: float) -> Shape:
    from dataclasses import replace

    if isinstance(shape, Stroke):
        return replace(shape, points=tuple((x + by, y) for x, y in shape.points))
    return replace(shape, x=shape.x + by)
