"""A sheet as PDF, tagged for screen readers: typst sets it, and gets every text as JSON data, never as markup."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

from circuitcheck.errors import CommandError
from circuitcheck.paper.outline import Outline
from circuitcheck.paper.sheet_data import sheet_data, texts_in

#: What the reader of the PDF is promised: tags, language, title, and that no glyph is missing.
STANDARD = "ua-1"

_MISSING = re.compile(r'the text `"(.+?)"` could not be displayed', re.DOTALL)
_ESCAPE = re.compile(r"\\u\{([0-9a-fA-F]+)\}|\\(.)")

#: Nothing but the texts, each a paragraph of its own, in the sheet's typefaces.
_PROBE = b"""
#set document(title: "probe")
#set text(lang: "en", font: ("Libertinus Serif", "DejaVu Sans Mono"))
#for one in json(bytes(sys.inputs.texts)) { par(one) }
"""


def pdf_bytes(outline: Outline, *, paper: str) -> bytes:
    """The whole sheet.

    Characters that the typefaces inside typst lack are set in a typeface of this machine; those that this one lacks
    too stand as their number, and the sheet names them.

    Raises: CommandError when typst is not installed.
    """
    typst = _typst()
    data = sheet_data(outline, paper)
    missing, alone = _missing_characters(typst, texts_in(data))
    while True:
        try:
            return _compiled(typst, _template(), "sheet", _spelled(data, missing), alone=alone)
        except typst.TypstError as error:  # only the bold or the italic face lacks it
            lacked = [one for one in _lacked(error) if one not in missing]
            if not lacked:
                raise
            missing += [] if alone else lacked
            alone = False


def _compiled(typst: ModuleType, source: bytes, name: str, data: Any, *, alone: bool) -> bytes:
    """``source`` set with ``data`` under that name; ``alone``: in the typefaces inside typst and no others."""
    return bytes(
        typst.compile(
            source,
            format="pdf",
            sys_inputs={name: json.dumps(data)},
            pdf_standards=STANDARD,
            ignore_system_fonts=alone,
        )
    )


def _typst() -> ModuleType:
    try:
        import typst
    except ImportError as error:
        raise CommandError(
            'a PDF needs the extra "pdf": pip install "circuitcheck[pdf]"; or write .html and print that from a browser'
        ) from error
    return typst


@cache
def _template() -> bytes:
    return (Path(__file__).parent / "sheet.typ").read_bytes()


def _missing_characters(typst: ModuleType, texts: Iterator[str]) -> tuple[list[str], bool]:
    """The characters that no typeface has, and whether the typefaces inside typst alone are enough for the rest."""
    unusual = sorted({text for text in texts if not text.isascii()})
    if not unusual or not _first_missing(typst, unusual, alone=True):
        return [], True
    missing: list[str] = []
    while lacked := _first_missing(typst, unusual, alone=False):
        missing += [character for character in lacked if character not in missing]
        unusual = [text.translate(dict.fromkeys(map(ord, lacked), "-")) for text in unusual]
    return missing, False


def _first_missing(typst: ModuleType, texts: list[str], *, alone: bool) -> str:
    """The first characters that the typefaces lack, or nothing."""
    try:
        _compiled(typst, _PROBE, "texts", texts, alone=alone)
    except typst.TypstError as error:
        lacked = _lacked(error)
        if not lacked:
            raise
        return lacked
    return ""


def _lacked(error: Exception) -> str:
    """The characters that the error names as not to be displayed; empty for another error."""
    found = _MISSING.search(str(error))
    return _ESCAPE.sub(lambda one: chr(int(one[1], 16)) if one[1] else one[2], found[1]) if found else ""


def _spelled(data: dict[str, Any], missing: list[str]) -> dict[str, Any]:
    """The data with each missing character as its number, and a line that names them."""
    if not missing:
        return data
    numbers = {ord(character): f"[U+{ord(character):04X}]" for character in missing}
    return {**_translated(data, numbers), "lacking": _lacking(missing)}


def _translated(data: Any, spelled: dict[int, str]) -> Any:
    if isinstance(data, str):
        return data.translate(spelled)
    if isinstance(data, dict):
        return {key: _translated(value, spelled) for key, value in data.items()}
    return [_translated(value, spelled) for value in data] if isinstance(data, list | tuple) else data


def _lacking(missing: list[str]) -> str:
    named = "; ".join(
        f"[U+{ord(one):04X}] is {unicodedata.name(one, 'a character without a name').lower()}" for one in missing
    )
    return f"The typefaces here lack some characters, which stand as their numbers: {named}. The .html form shows them."
