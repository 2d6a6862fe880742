"""The templates of pages: every text escaped, nothing left out unnoticed, what is invisible in a text spelled out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from circuitcheck.text import shown_text


def template(name: str, filters: Mapping[str, Callable[..., Any]] | None = None) -> Template:
    """The template of that name beside this file; ``filters``: what it may call besides those of every template."""
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_shown,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters.update(filters or {})
    return environment.get_template(name)


def _shown(value: Any) -> Any:
    """Spell out what is invisible in every text that the template puts on the page."""
    return shown_text(value) if isinstance(value, str) and not isinstance(value, Markup) else value
