"""``cable = "14/2 NM-B with ground"``: what is printed on a sheath, read into type, size, conductors and ground."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache

from circuitcheck.quantities import QuantityError, read_size, spelled_plainly

ALLOWED = 'what the sheath says, such as "14/2 NM-B with ground" or "12-3 UF-B"'

#: The keys that a cable's print stands for. None of them stands beside it.
PRINTED_KEYS = ("type", "size", "conductors", "ground")

#: Keys that the same text may say too.
SAID_KEYS = ("material", "stranding")

_DESIGNATION = re.compile(
    r"(?<![\w/.-])#?(?P<size>[1-4]/0|[0-9]{1,2})(?: ?awg)? ?[/-] ?(?P<conductors>[0-9]{1,2})(?: ?awg)?"
    r"(?![\w/.-]*[0-9])",
    re.IGNORECASE,
)

#: Words of a sheath and what each settles, the longer spelling first. An empty key: the word settles nothing here.
_WORDS: tuple[tuple[str, str, object], ...] = (
    (r"without (?:a )?ground|no ground", "ground", False),
    (r"(?:with|and|w/) ?(?:a )?(?:ground|gr?d?)|w/?g|g", "ground", True),
    (r"copper[- ]clad aluminum", "material", "copper-clad aluminum"),
    (r"copper|cu", "material", "copper"),
    (r"aluminum|al", "material", "aluminum"),
    (r"solid", "stranding", "solid"),
    (r"stranded", "stranding", "stranded"),
    (r"type", "", None),
    (r"awg|gauge", "", None),
    (r"600 ?v(?:olts)?", "", None),
    (r"cable", "", None),
)


_HOW = re.compile(r"\s*(label|measured)\s+", re.IGNORECASE)


@lru_cache(maxsize=256)
def read_cable_print(text: str, types: tuple[str, ...]) -> Mapping[str, object]:
    """The entries that a cable's print stands for. ``types``: the cable types of the tables.

    A ground is there or not only where the print says so. The size is a name (``14 AWG``); whether the tables have it
    is for the reader of the file to say.

    A word before it (``label 14/2 NM-B``) says how it is known; ``how_known`` reads that.

    Raises: QuantityError.
    """
    text = _HOW.sub("", text)
    rest = spelled_plainly(text)
    entries: dict[str, object] = {}
    named = _longest_type(rest, types)
    if named is not None:
        entries["type"] = named
        rest = _without(rest, re.escape(named))
    designation = _DESIGNATION.search(rest)
    if designation is None or designation["conductors"] == "0":
        raise QuantityError("a cable says its size and its number of conductors", ALLOWED)
    entries["size"] = read_size(f"{designation['size']} AWG")
    entries["conductors"] = int(designation["conductors"])
    # The g of "14/2G" stands against the number.
    rest = " ".join(f"{rest[: designation.start()]} {rest[designation.end() :]}".replace(",", " ").split())
    for pattern, key, value in _WORDS:
        without = _without(rest, pattern)
        if without == rest:
            continue
        if key in entries:
            raise QuantityError(f"the {key} is given twice", ALLOWED)
        if key:
            entries[key] = value
        rest = without
    left = rest.strip(" ,;.")
    if left:
        raise QuantityError(f'"{left}" is not known as a part of a cable\'s name', ALLOWED, _near_type(left, types))
    return entries


def how_known(text: str) -> str | None:
    """How a cable's print is known, where a word before it says so: ``label`` or ``measured``."""
    word = _HOW.match(text)
    return word[1].lower() if word else None


def cable_print(entries: Mapping[str, object]) -> str:
    """The shortest text that stands for these entries, which hold at least a size in AWG and conductors."""
    size = str(entries["size"]).removesuffix(" AWG")
    words = [f"{size}/{entries['conductors']}", str(entries.get("type") or "")]
    ground = entries.get("ground")
    words.append("" if ground is None else "with ground" if ground else "without ground")
    made = " ".join(str(entries[key]) for key in ("stranding", "material") if key in entries)
    return " ".join(word for word in words if word) + (f", {made}" if made else "")


def _longest_type(text: str, types: Iterable[str]) -> str | None:
    for name in sorted(types, key=len, reverse=True):
        if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", text, re.IGNORECASE):
            return name
    return None


def _without(text: str, pattern: str) -> str:
    """The text without the first place where these words stand by themselves."""
    return " ".join(re.sub(rf"(?<![\w/-])(?:{pattern})(?![\w/-])", " ", text, count=1, flags=re.IGNORECASE).split())


def _near_type(left: str, types: Iterable[str]) -> str | None:
    """A type that differs by case, space or hyphen only: ``NMB`` is NM-B, and nothing is guessed beyond that."""
    bare = re.sub(r"[\s-]", "", left).casefold()
    near = [name for name in types if re.sub(r"[\s-]", "", name).casefold() == bare]
    return near[0] if len(near) == 1 else None
