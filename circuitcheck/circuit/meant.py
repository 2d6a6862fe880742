"""What a word that is not known was meant to be, beyond slips of the pen: the trade's other names, sizes in part."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from functools import cache
from pathlib import Path

_FILE = Path(__file__).parent / "keys" / "synonyms.toml"


@cache
def _synonyms() -> Mapping[str, Mapping[str, list[str]]]:
    return tomllib.loads(_FILE.read_text(encoding="utf-8"))


def synonym(word: str, known: Collection[str], kind: str) -> str | None:
    """The known word that the trade also calls ``word``. ``kind``: words, sections or keys."""
    folded = " ".join(word.casefold().replace("_", " ").split()) if kind != "keys" else word.casefold()
    named = _synonyms()[kind]
    for spelled in (folded, folded.removesuffix("s")):
        for meant in named.get(spelled, ()):
            if meant in known:
                return meant
    return None


def sizes_meant(given: str, sizes: Collection[str]) -> list[str]:
    """The trade sizes that hold every number and word of what was given: ``4 octagon`` comes in several depths."""
    wanted = _parts(given)
    return [size for size in sizes if wanted and wanted <= _parts(size)]


def _parts(size: str) -> set[str]:
    text = size.casefold().replace("×", " x ")
    return {part for part in re.split(r"[\s,]+|(?<=[0-9])x(?=[0-9])", text) if part and part not in ("x", "in", "box")}
