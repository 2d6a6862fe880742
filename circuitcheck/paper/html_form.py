"""A sheet as one HTML file: no scripts, nothing fetched, every text escaped, fit for phone, screen and printer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from circuitcheck.paper.outline import Block, Outline, Picture
from circuitcheck.paper.svg import svg_text
from circuitcheck.text import shown_text

#: The drawing is made twice, for a wide and for a narrow window, so that its words never shrink: width, type size.
WIDE = (800.0, 14.0)
NARROW = (328.0, 13.5)

#: The page takes whatever typeface the reader has; some run wide.
SPREAD = 1.08

PAGE_SIZE = {"letter": "letter", "a4": "A4"}


@dataclass(frozen=True, slots=True)
class _Placed:
    """A block with its kind for the template and a name for ids."""

    kind: str
    name: str
    block: Block


def html_text(outline: Outline, *, paper: str) -> str:
    """The whole sheet."""
    sections = [
        (section, f"section-{number}", [_placed(block, number, index) for index, block in enumerate(section.blocks, 1)])
        for number, section in enumerate(outline.sections, 1)
    ]
    return _template().render(outline=outline, sections=sections, page_size=PAGE_SIZE[paper])


def _placed(block: Block, number: int, index: int) -> _Placed:
    return _Placed(type(block).__name__.lower(), f"part-{number}-{index}", block)


@cache
def _template() -> Template:
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["svg"] = _svg
    return environment.get_template("sheet.html.jinja")


def _shown(value: Any) -> Any:
    """Spell out what is invisible in every text that the template puts on the page."""
    return shown_text(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def _svg(picture: Picture, name: str, form: str) -> Markup:
    width, size = WIDE if form == "wide" else NARROW
    drawing = picture.draw(width, size, SPREAD)
    return Markup(svg_text(drawing, picture.title, picture.description, f"{name}-{form}"))  # noqa: S704 - escaped there
