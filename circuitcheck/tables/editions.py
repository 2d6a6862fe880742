"""The rulebooks that the tables serve, and where the table files are: beside the package, or in the checkout."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from circuitcheck.errors import TableError


@dataclass(frozen=True, slots=True)
class Edition:
    """One rulebook that ``rulebooks.toml`` lists. ``book`` groups the editions of one document."""

    name: str
    title: str
    country: str
    book: str
    document: str
    year: str
    about: str
    lacks: frozenset[str] = frozenset()


@cache
def tables_folder() -> Path:
    """The folder with the table files: inside the package when installed from a wheel, else the checkout's own."""
    packed = Path(__file__).parent / "data"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "tables"


def parse(text: str, where: str) -> dict[str, Any]:
    """The TOML in ``text``. Raises: TableError naming the file."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise TableError(f"{where}: {error}") from error


@cache
def editions_listed() -> Mapping[str, Edition]:
    """The rulebooks in the order of ``rulebooks.toml``. Raises: TableError for a doubled name or a missing field."""
    file = tables_folder() / "rulebooks.toml"
    listed: dict[str, Edition] = {}
    for entry in parse(file.read_text("utf-8"), file.name)["rulebook"]:
        try:
            edition = Edition(**{**entry, "lacks": frozenset(entry.get("lacks", ()))})
        except TypeError as error:
            raise TableError(f"{file.name}: {entry.get('name', '?')}: {error}") from None
        if edition.name in listed:
            raise TableError(f"{file.name}: {edition.name} is listed twice")
        listed[edition.name] = edition
    return listed


def check_editions(lists: list[list[str]], name: str, where: str, *, gaps: bool) -> None:
    """Refuse a doubled, unknown or (unless ``gaps``) missing edition. Raises: TableError.

    A book that no version mentions has no such table; one that is mentioned must be there with every edition, except
    those whose ``lacks`` names the table.
    """
    known = editions_listed()
    seen: set[str] = set()
    for names in lists:
        for served in names:
            if served not in known:
                raise TableError(f"{where}: unknown edition {served!r}")
            if served in seen:
                raise TableError(f"{where}: edition {served} is served twice")
            seen.add(served)
    if gaps:
        return
    books = {known[served].book for served in seen}
    for edition in known.values():
        if edition.book in books and edition.name not in seen and name not in edition.lacks:
            raise TableError(f"{where}: edition {edition.name} is missing")
