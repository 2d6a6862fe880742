"""Regular expressions for values as people write them, for schemas that an editor holds a file to.

They use only what the expressions of ECMAScript, Rust and Python have in common: no flags, no looking ahead. Each takes
everything that our grammar takes and somewhat more; the grammar alone decides.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.quantities.kinds import Kind
from circuitcheck.quantities.units import SPELLINGS

#: Dashes as they are typed; the plain one comes first, so that it means itself in a class of characters.
_DASHES = "-–—−‐‑"
_FRACTIONS = "½¼¾⅛⅜⅝⅞⅓⅔"
_SINGLE_QUOTES = "'′’‘"
_DOUBLE_QUOTES = '"″”“'

#: Letters of the alphabets in which units are written, as they may stand before the last unit of a value.
_LETTERS = "A-Za-zΩω°\u2126"
_BETWEEN = rf"{_DASHES}0-9./⁄^²³%~{_FRACTIONS}{_SINGLE_QUOTES}{_DOUBLE_QUOTES}\s"
#: Units of what several equal lamps take together: ``3 x 40 W``.
_OF_EQUAL_LAMPS = frozenset({"W", "VA", "A"})
_KNOWN_BY = ("about", "approximately", "approx.", "approx", "measured", "label")


def any_case(text: str) -> str:
    """A pattern for the text whatever the case of its letters, and whatever the width of its spaces."""
    return "".join(_letter(letter) for letter in text)


def _letter(letter: str) -> str:
    if letter == " ":
        return r"\s+"
    if letter == "-":
        return f"[{_DASHES}]"
    if letter == "'":
        return f"[{_SINGLE_QUOTES}]"
    if letter == '"':
        return f"[{_DOUBLE_QUOTES}]"
    if letter == "ω":
        return "[ωΩ\u2126]"
    if letter.isalpha():
        return f"[{letter.upper()}{letter.lower()}]" if letter.upper() != letter.lower() else letter
    return f"\\{letter}" if letter in r".^$*+?()[]{}|\/" else letter


def word_pattern(words: Iterable[str]) -> str:
    """Any of the words, in any case, with ``x`` or the multiplication sign between numbers."""
    choices = "|".join(any_case(word).replace("[Xx]", "[Xx×]") for word in words)
    return rf"^\s*(?:{choices})\s*$"


def physical_pattern(kind: Kind) -> str:
    """A number, a range or a guess of this kind, whose last unit is one of the kind's own."""
    known_by = "|".join(any_case(word) for word in _KNOWN_BY)
    units = "|".join(_unit_pattern(spelling) for spelling, unit in SPELLINGS.items() if unit in kind.units)
    if "K" in kind.units:
        units += "|K"
    unit = rf"(?:{units})?" if kind.bare else rf"(?:{units})"
    sign = f"[{_DASHES}]?" if kind.least < 0 else ""
    several = r"(?:[1-9][0-9]?\s*[xX×]\s*)?" if kind.unit in _OF_EQUAL_LAMPS else ""
    start = rf"^\s*(?:(?:{known_by})\s+|~\s*)?{several}{sign}[0-9.{_FRACTIONS}]"
    return rf"{start}(?:[{_BETWEEN}{_LETTERS}]*[{_BETWEEN}])?{unit}\.?\s*$"


def _unit_pattern(spelling: str) -> str:
    pattern = any_case(spelling)
    pattern = pattern.replace(r"\^3", r"(?:\^?3|³)").replace(r"\/", r"\.?\s*[/⁄]\s*").replace(r"\s+", r"\.?\s+")
    return pattern if spelling.endswith("^3") or spelling[-1:] != "3" else pattern[:-1] + "[3³]"


def size_pattern() -> str:
    """A conductor size: ``14 AWG``, ``#14``, ``250 kcmil``, ``2.5 mm^2``."""
    prefix = rf"(?:{any_case('awg')}\s*)?(?:#|{any_case('no')}\.?\s*)"
    suffix = "|".join([any_case(word) for word in ("awg", "gauge", "ga", "kcmil", "mcm", "square mm", "mm2", "sq mm")])
    suffix += rf"|{any_case('mm')}(?:\^?2|²)|{any_case('sq')}\.?\s*{any_case('mm')}"
    numbered = rf"{prefix}[0-9][0-9/]*"
    leading = rf"{any_case('awg')}\s*#?[0-9][0-9/]*"
    united = rf"(?:#|{any_case('no')}\.?\s*)?[0-9][0-9/⁄.,]*\s*(?:{suffix})\.?"
    return rf"^\s*(?:{numbered}|{leading}|{united})\s*$"


def designation_pattern() -> str:
    """A conductor size, or a cable's designation: ``14/2``, ``12-3 G``."""
    pair = rf"#?[0-9][0-9/⁄]*(?:\s*{any_case('awg')})?\s*[{_DASHES}/⁄]\s*[0-9]+[A-Za-z/\s]*"
    return rf"{size_pattern()}|^\s*{pair}\s*$"


def cable_print_pattern() -> str:
    """What a cable's sheath says: a size and its conductors somewhere in it, as in ``14/2 NM-B with ground``."""
    return rf"[0-9]\s*(?:{any_case('awg')}|{any_case('gauge')}|/0)?\s*[{_DASHES}/⁄]\s*[1-9]"
