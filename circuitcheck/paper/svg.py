"""A drawing as one SVG element with title and description, for a page that a screen reader may read."""

from __future__ import annotations

from xml.sax.saxutils import escape, quoteattr

from circuitcheck.paper.drawing import Drawing, Ring, Shape, Stroke, Words
from circuitcheck.text import shown_text

DASHES = "5 3"


def svg_text(drawing: Drawing, title: str, description: str, name: str) -> str:
    """The SVG. ``name`` makes its ids unique on the page."""
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="{name}-title {name}-desc" '
        f'viewBox="0 0 {_number(drawing.width)} {_number(drawing.height)}" width="{_number(drawing.width)}" '
        f'height="{_number(drawing.height)}">',
        f'<title id="{name}-title">{_words(title)}</title>',
        f'<desc id="{name}-desc">{_words(description)}</desc>',
        '<g fill="none" stroke="currentColor" stroke-linejoin="round">',
    ]
    top = 0.0
    for strip in drawing.strips:
        parts.extend(_shape(shape, top) for shape in strip.shapes)
        top += strip.height
    parts.append("</g></svg>")
    return "\n".join(parts)


def _shape(shape: Shape, top: float) -> str:
    if isinstance(shape, Words):
        weight = ' font-weight="bold"' if shape.strong else ""
        anchor = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
        return (
            f'<text x="{_number(shape.x)}" y="{_number(top + shape.y)}" font-size="{_number(shape.size)}"'
            f'{weight}{anchor} fill="currentColor" stroke="none">{_words(shape.text)}</text>'
        )
    dashes = f" stroke-dasharray={quoteattr(DASHES)}" if shape.dashed else ""
    weight = f'stroke-width="{_number(shape.weight)}"{dashes}'
    if isinstance(shape, Ring):
        return (
            f'<circle cx="{_number(shape.x)}" cy="{_number(top + shape.y)}" r="{_number(shape.radius)}" '
            f'fill="var(--paper, #fff)" {weight}/>'
        )
    return _stroke(shape, top, weight)


def _stroke(stroke: Stroke, top: float, weight: str) -> str:
    points = " ".join(f"{_number(x)},{_number(top + y)}" for x, y in stroke.points)
    fill = ' fill="var(--paper, #fff)"' if stroke.filled else ""
    return f'<{"polygon" if stroke.closed else "polyline"} points="{points}"{fill} {weight}/>'


def _words(text: str) -> str:
    return escape(shown_text(text))


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
