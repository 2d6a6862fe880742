"""The left-to-right diagram drawn: existing thin, added heavy dashed and labeled NEW, what goes out crossed out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitcheck.note.across import Across, Inside, Node
from circuitcheck.note.one_line import LineRow, RowKind
from circuitcheck.note.one_line_drawing import BOLD, NARROW, Pen, legend, load_symbol, square
from circuitcheck.paper.drawing import Drawing, Shape, Strip, Stroke, Words, text_width, wrapped
from circuitcheck.text import shown_text

LINE = 1.14

#: Type beside the drawing's own size, and half a box in that type.
SMALL, HALF = 0.92, 0.5

CONTROLS = ("S", "S3", "S4")
WAYS = {"S": "single-pole", "S3": "three-way", "S4": "four-way"}


def fits_across(width: float, size: float) -> bool:
    """Whether a form is wide enough for the diagram from left to right."""
    return width >= NARROW * size


@dataclass(frozen=True, slots=True)
class _Sheet:
    plan: Across
    pen: Pen
    em: float
    pitch: float

    def x(self, node: Node) -> float:
        return 0.8 * self.em + node.depth * self.pitch

    def room(self, node: Node) -> float:
        """How wide the words under a box may be: to the next run that comes down or to the edge."""
        return self.pitch - 1.6 * self.em if node.depth < self.plan.deepest else self.pen.width - self.words_x(node)

    def words_x(self, node: Node) -> float:
        """Where the words under a box begin: beside the line that goes down from it, where there is one."""
        down = any(child.line > node.line for child in node.children)
        return self.x(node) + (0.5 if down else -HALF) * self.em


def across_drawing(plan: Across, width: float, size: float, spread: float) -> Drawing:
    """The plan drawn ``width`` wide in type of ``size`` [points of the form]; ``spread``: how wide it runs."""
    em = SMALL * size
    pen = Pen(width, em, 0, spread)
    sheet = _Sheet(plan, pen, em, (width - 0.8 * em) / (plan.deepest + 0.85))
    strips = [_line(sheet, number) for number in range(plan.lines)]
    if any(" w/G" in line for node in plan.nodes for line in node.run):
        strips.append(_abbreviations(sheet))
    return Drawing(width, (*strips, *legend(Pen(width, size, 0, spread))))


def _abbreviations(sheet: _Sheet) -> Strip:
    """What is shortened over the runs."""
    text = "w/G: with equipment ground. role ?: not given what the cable carries."
    return Strip(1.1 * sheet.em, (Words(0, 0.8 * sheet.em, text, 0.95 * sheet.em),))


def _line(sheet: _Sheet, number: int) -> Strip:
    """One line of boxes with the runs that lead to them, and the ways that pass on down."""
    em = sheet.em
    here = [node for node in sheet.plan.nodes if node.line == number]
    above = max((len(_run_lines(sheet, node)) for node in here), default=0)
    y = (above * LINE + 0.55) * em if above else 0.9 * em
    shapes: list[Shape] = []
    below = 0.0
    for node in here:
        words, used = _under(sheet, node, y)
        below = max(below, used)
        shapes += words
    height = y + below + 0.5 * em
    lines = [*_ways(sheet, number, y, height)]
    boxes = [shape for node in here for shape in _box(sheet, node, y)]
    return Strip(height, (*lines, *boxes, *shapes))


def _run_lines(sheet: _Sheet, node: Node) -> list[str]:
    room = sheet.pitch - 1.7 * sheet.em
    return [line for text in node.run for line in wrapped(shown_text(text), sheet.em * sheet.pen.spread, room)]


def _ways(sheet: _Sheet, number: int, y: float, height: float) -> Iterator[Shape]:
    """The runs: along this line, down to it, or past it to a lower one."""
    pen = sheet.pen
    for node in sheet.plan.nodes:
        parent = node.parent
        if parent is None:
            continue
        start, end = sheet.x(parent), sheet.x(node)
        if node.line == number:
            if parent.line < number:
                yield pen.stroke((start, 0), (start, y), (end, y), added=node.run_added)
            else:
                yield pen.stroke((start, y), (end, y), added=node.run_added)
        elif parent.line <= number < node.line:
            yield pen.stroke((start, y if parent.line == number else 0), (start, height), added=node.run_added)


def _box(sheet: _Sheet, node: Node, y: float) -> Iterator[Shape]:
    """The box, the words over the run that leads to it, and a stroke across it for each conductor."""
    em, x = sheet.em, sheet.x(node)
    if node.parent is None:
        yield square(sheet.pen, x, y, 0.62, False)
        yield square(sheet.pen, x, y, 0.4, False)
        return
    yield square(sheet.pen, x, y, HALF, node.added)
    left = sheet.x(node.parent) + 0.95 * em
    lines = _run_lines(sheet, node)
    for index, line in enumerate(lines):
        base = y - 0.55 * em - (len(lines) - 1 - index) * LINE * em
        yield Words(left, base, line, em, strong=node.run_added and index == 0)
    for index in range(min(node.strokes, 6)):
        at = x - 1.1 * em - index * 0.34 * em
        yield Stroke(((at - 0.16 * em, y + 0.42 * em), (at + 0.16 * em, y - 0.42 * em)), round(0.09 * em, 2))


def _under(sheet: _Sheet, node: Node, y: float) -> tuple[list[Shape], float]:
    """The name of a box and what is in it, and how far down that goes."""
    em, left = sheet.em, sheet.words_x(node)
    face = em * sheet.pen.spread
    base = y + (HALF + 1.0) * em
    shapes: list[Shape] = []
    name = f"{'NEW ' if node.added and node.parent is not None else ''}{shown_text(node.name)}"
    for line in wrapped(name, BOLD * face, sheet.room(node)):
        shapes.append(Words(left, base, line, em, strong=True))
        base += LINE * em
    for part in node.inside:
        symbols, indent = _symbol(sheet, part, left, base - 0.32 * em)
        shapes += symbols
        room = sheet.room(node) - indent
        for line in wrapped(shown_text(part.removed), face, room) if part.removed else ():
            shapes.append(Words(left + indent, base, line, em))
            across = min(text_width(line, face), room)
            shapes.append(Stroke(((left + indent, base - 0.3 * em), (left + indent + across, base - 0.3 * em)), 0.8))
            base += LINE * em
        for line in wrapped(shown_text(part.text), face, room) if part.text else ():
            shapes.append(Words(left + indent, base, line, em, strong=part.added))
            base += LINE * em
    return shapes, base - LINE * em + 0.3 * em - y


def _symbol(sheet: _Sheet, part: Inside, left: float, y: float) -> tuple[list[Shape], float]:
    """The symbol of what is in a box, small, and how far the words stand in behind it."""
    if not part.symbol:
        return [], 0.0
    em = sheet.em
    if part.symbol in CONTROLS:
        return [Words(left, y + 0.32 * em, part.symbol, em, strong=True)], (0.75 + 0.5 * len(part.symbol)) * em
    row = LineRow(RowKind.LOAD, 0, "", symbol=part.symbol, added=part.added)
    pen = Pen(sheet.pen.width, 0.8 * em, 0, 1)
    return list(load_symbol(row, pen, left + 0.45 * em, y)), 1.25 * em
