"""A form to type into as one HTML file: real inputs, what is typed kept in the page, answers saved as a file.

Nothing is fetched and nothing sent: the page's one script is named in its policy by its digest, and every text is
escaped.
"""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from jinja2 import Template
from markupsafe import Markup

from circuitcheck.paper.templates import template


@dataclass(frozen=True, slots=True)
class Field:
    """One input. ``key``: its entry. ``choices``: words to choose from, else free text. ``many``: several of them.

    ``hint``: an example of what to write. ``value``: what the file says. ``asks_how``: whether it is asked how it is
    known, which ``how`` says so far.
    """

    key: str
    title: str
    choices: tuple[str, ...] = ()
    many: bool = False
    hint: str = ""
    value: str = ""
    asks_how: bool = False
    how: str = ""


@dataclass(frozen=True, slots=True)
class FormPart:
    """The inputs about one part. ``id`` is empty for a part that is still to be named, and where parts have no names;
    ``title`` stands instead there.
    """

    section: str
    id: str
    fields: tuple[Field, ...]
    title: str = ""


@dataclass(frozen=True, slots=True)
class FormSection:
    """Parts under a heading. ``named``: each part has a name."""

    title: str
    named: bool
    parts: tuple[FormPart, ...]
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FormPage:
    """The whole form. ``file``: name of the circuit file that it was made from, or empty; ``digest``: its SHA-256."""

    title: str
    banner: str
    intro: tuple[str, ...]
    closing: tuple[str, ...]
    sections: tuple[FormSection, ...]
    foot: str
    file: str = ""
    digest: str = ""


def form_page_text(page: FormPage) -> str:
    """The page."""
    script = _script()
    digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    return _template().render(page=page, script=Markup(script), script_digest=digest)  # noqa: S704 - our own file


@cache
def _script() -> str:
    return (Path(__file__).parent / "form_page.js").read_text("utf-8")


@cache
def _template() -> Template:
    return template("form_page.html.jinja")
