"""A sheet as PDF, tagged for screen readers: typst sets it, and gets every text as JSON data, never as markup."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

from circuitcheck.errors import CommandError
from circuitcheck.paper.outline import Outline
from circuitcheck.paper.sheet_data import sheet_data, texts_in
from circuitcheck.text import has_plain_spelling

#: What the reader of the PDF is promised: tags, language, title, and that no glyph is missing.
STANDARD = "ua-1"

_MISSING = re.compile(r'the text `"(.+?)"` could not be displayed', re.DOTALL)
_ESCAPE = re.compile(r"\\u\{([0-9a-fA-F]+)\}|\\(.)")

_JOINER = "\u200d"
_JOINERS = frozenset("\u200c\u200d")
_SKIN_TONES = frozenset(map(chr, range(0x1F3FB, 0x1F400)))

#: So many characters that are lacking are named at the foot.
MOST_NAMED = 40

#: After so many rounds of taking out what is missing, all that is unusual is taken out at once.
MOST_ROUNDS = 8

#: Nothing but the texts, each a paragraph of its own, in the sheet's typefaces.
_PROBE = b"""
#set document(title: "probe")
#set text(lang: "en", font: ("Libertinus Serif", "DejaVu Sans Mono"))
#for one in json(bytes(sys.inputs.texts)) { par(one) }
"""


def pdf_bytes(outline: Outline, *, paper: str) -> bytes:
    """The whole sheet.

    Characters that the typefaces inside typst lack are set in a typeface of this machine; those that this one lacks
    too stand as their number, and the sheet names them. What a typeface sets as one (an emoji with its skin tone) is
    taken out as one.

    Raises: CommandError when typst is not installed.
    """
    typst = _typst()
    data = sheet_data(outline, paper)
    missing, alone = _missing_clusters(typst, texts_in(data))
    for _ in range(MOST_ROUNDS):
        spelled = _spelled(data, missing)
        try:
            return _compiled(typst, _template(), "sheet", spelled, alone=alone)
        except typst.TypstError as error:  # only the bold or the italic face lacks it
            lacked = _lacked(error)
            if not lacked:
                raise
        if alone:
            alone = False
            continue
        lacking = _clusters_of(lacked, texts_in(spelled))
        if not lacking:
            break
        missing += lacking
    return _compiled(typst, _template(), "sheet", _spelled(data, _unusual_clusters(texts_in(data))), alone=alone)


def characters_without_letters(texts: Iterable[str]) -> set[str]:
    """The characters in these texts that would stand as their number, since no typeface here has them.

    Raises: CommandError when typst is not installed.
    """
    missing, _ = _missing_clusters(_typst(), texts)
    return set("".join(missing))


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
            "a PDF needs the extra pdf: in the project's folder, python -m pip install '.[pdf]'; "
            "or write .html and print that from a browser"
        ) from error
    return typst


@cache
def _template() -> bytes:
    return (Path(__file__).parent / "sheet.typ").read_bytes()


def _missing_clusters(typst: ModuleType, texts: Iterable[str]) -> tuple[list[str], bool]:
    """The clusters that no typeface has, and whether the typefaces inside typst alone are enough for the rest."""
    unusual = sorted({text for text in texts if not text.isascii()})
    if not unusual or not _first_missing(typst, unusual, alone=True):
        return [], True
    missing: list[str] = []
    for _ in range(MOST_ROUNDS):
        lacked = _first_missing(typst, unusual, alone=False)
        lacking = _clusters_of(lacked, unusual)
        if not lacking:
            break  # nothing is missing, or what is has no place in these texts
        missing += lacking
        unusual = _replaced(unusual, dict.fromkeys(lacking, "-"))
    return missing, False


def _first_missing(typst: ModuleType, texts: list[str], *, alone: bool) -> set[str]:
    """The characters that the typefaces lack, as far as one attempt tells, or nothing."""
    try:
        _compiled(typst, _PROBE, "texts", texts, alone=alone)
    except typst.TypstError as error:
        lacked = _lacked(error)
        if not lacked:
            raise
        return lacked
    return set()


def _lacked(error: Exception) -> set[str]:
    """The characters that the error names as not to be displayed; empty for another error.

    Of a cluster (a letter with its marks, an emoji with its skin tone) only the first character is named.
    """
    told = getattr(error, "diagnostic", "") or str(error)
    return {_ESCAPE.sub(_character, named) for named in _MISSING.findall(told)}


def _character(escape: re.Match[str]) -> str:
    return chr(int(escape[1], 16)) if escape[1] else escape[2]


def _clusters(text: str) -> Iterator[str]:
    """The text in pieces that a typeface sets as one: a character with its marks and whatever is joined to it."""
    start = 0
    for place in range(1, len(text)):
        if not (_continues(text[place]) or text[place - 1] == _JOINER):
            yield text[start:place]
            start = place
    if text:
        yield text[start:]


def _continues(character: str) -> bool:
    if character.isascii():
        return False
    return character in _SKIN_TONES or character in _JOINERS or unicodedata.category(character).startswith("M")


def _clusters_of(lacked: set[str], texts: Iterable[str]) -> list[str]:
    """The clusters in these texts that begin as the typefaces' complaint does; a plain ASCII character is never one."""
    begins = {named[0] for named in lacked if named}
    if not begins:
        return []
    clusters = {cluster for text in texts if not text.isascii() for cluster in _clusters(text)}
    return sorted(cluster for cluster in clusters if cluster[0] in begins and not cluster.isascii())


def _unusual_clusters(texts: Iterable[str]) -> list[str]:
    """Every cluster but those of letters of western Europe and of signs that the sheet itself uses."""
    clusters = {cluster for text in texts if not text.isascii() for cluster in _clusters(text)}
    return sorted(cluster for cluster in clusters if len(cluster) > 1 or not _is_usual(cluster))


def _is_usual(character: str) -> bool:
    return ord(character) < 0x180 or has_plain_spelling(character)


def _spelled(data: dict[str, Any], missing: list[str]) -> dict[str, Any]:
    """The data with each missing cluster as its numbers, and a line that names them."""
    if not missing:
        return data
    return {**_replaced(data, {cluster: _number(cluster) for cluster in missing}), "lacking": _lacking(missing)}


def _number(cluster: str) -> str:
    """``[U+1F44D U+1F3FD]``; a plain letter or digit that only carries marks stays: ``1[U+FE0F U+20E3]``."""
    base = cluster[0] if cluster[0].isascii() else ""
    return f"{base}[{' '.join(f'U+{ord(character):04X}' for character in cluster[len(base) :])}]"


def _replaced(data: Any, spelled: dict[str, str]) -> Any:
    """The data with each of these clusters replaced, the longest first."""
    longest_first = sorted(spelled, key=len, reverse=True)
    pattern = re.compile("|".join(map(re.escape, longest_first)))

    def inside(value: Any) -> Any:
        if isinstance(value, str):
            return value if value.isascii() else pattern.sub(lambda match: spelled[match[0]], value)
        if isinstance(value, dict):
            return {key: inside(entry) for key, entry in value.items()}
        return [inside(entry) for entry in value] if isinstance(value, list | tuple) else value

    return inside(data)


def _lacking(missing: list[str]) -> str:
    named = "; ".join(f"{_number(cluster)} is {_name(cluster)}" for cluster in missing[:MOST_NAMED])
    more = f"; and {len(missing) - MOST_NAMED} more" if len(missing) > MOST_NAMED else ""
    return (
        f"The typefaces here lack some characters, which stand as their numbers: {named}{more}. "
        "The .html form shows them."
    )


def _name(cluster: str) -> str:
    return ", ".join(unicodedata.name(character, "a character without a name").lower() for character in cluster)
