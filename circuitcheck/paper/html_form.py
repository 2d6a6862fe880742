"""A sheet as one HTML file: no scripts, nothing fetched, every text escaped, fit for phone, screen and printer."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from jinja2 import Template
from markupsafe import Markup

from circuitcheck.paper.outline import Abreast, Block, Outline, Picture
from circuitcheck.paper.svg import svg_text
from circuitcheck.paper.templates import template
from circuitcheck.text import shown_text

#: The drawing is made twice, for a wide and for a narrow window, so that its words never shrink: width, type size.
WIDE = (832.0, 13.0)
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
    inside: tuple[_Placed, ...] = ()


def html_text(outline: Outline, *, paper: str) -> str:
    """The whole sheet."""
    sections = [
        (section, f"section-{number}", [_placed(block, number, index) for index, block in enumerate(section.blocks, 1)])
        for number, section in enumerate(outline.sections, 1)
    ]
    size = f"{PAGE_SIZE[paper]} landscape" if outline.landscape else PAGE_SIZE[paper]
    return _template().render(outline=outline, sections=sections, page_size=size)


def _placed(block: Block, number: int, index: int) -> _Placed:
    inside = block.blocks if isinstance(block, Abreast) else ()
    return _Placed(
        type(block).__name__.lower(),
        f"part-{number}-{index}",
        block,
        tuple(_placed(one, number, 100 * index + place) for place, one in enumerate(inside, 1)),
    )


@cache
def _template() -> Template:
    return template("sheet.html.jinja", {"svg": _svg, "css": css_string})


def css_string(text: str) -> Markup:
    """The text as a string of a style sheet: all but plain letters and digits by number, so that none can end it."""
    spelled = "".join(
        character if character.isascii() and (character.isalnum() or character == " ") else f"\\{ord(character):x} "
        for character in shown_text(text)
    )
    return Markup(f'"{spelled}"')  # noqa: S704 - nothing but letters, digits, blanks and numbers of characters


def _svg(picture: Picture, name: str, form: str) -> Markup:
    width, size = WIDE if form == "wide" else NARROW
    drawing = picture.draw(width, size, SPREAD)
    return Markup(svg_text(drawing, picture.title, picture.description, f"{name}-{form}"))  # noqa: S704 - escaped there
