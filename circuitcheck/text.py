"""Text made fit to be shown: control and direction marks made visible, numbers short, a plain spelling at hand."""

from __future__ import annotations

import codecs
import math
import unicodedata
from functools import lru_cache

#: Joiners without which several scripts and many emoji cannot be written; they neither hide nor reorder anything.
_HARMLESS_FORMAT = frozenset("\u200c\u200d")

#: Categories that move the cursor, reorder the line or show nothing: control, format, surrogate, line, paragraph.
_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})

#: What to write where an output cannot carry the character itself.
_NEAREST = {
    "✓": "+",
    "✗": "X",
    "×": "x",
    "·": "*",
    "•": "*",
    "–": "-",
    "—": "-",
    "−": "-",
    "…": "...",
    "→": "->",
    "≤": "<=",
    "≥": ">=",
    "±": "+/-",
    "°": "deg",
    "Ω": "ohm",
    "\u2126": "ohm",
    "µ": "u",
    "²": "^2",
    "³": "^3",
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "\u00a0": " ",
}


def _escaped(character: str) -> str:
    point = ord(character)
    if point <= 0xFF:
        return f"\\x{point:02x}"
    return f"\\u{point:04x}" if point <= 0xFFFF else f"\\U{point:08x}"


def _hides(character: str) -> bool:
    if unicodedata.category(character) in _HIDDEN:
        return character not in _HARMLESS_FORMAT
    return (ord(character) & 0xFFFE) == 0xFFFE


def shown_text(text: str, *, keep_lines: bool = False) -> str:
    r"""The text with everything invisible spelled out, so that it can neither hide nor reorder what is shown.

    Control characters, marks that change writing direction, zero-width marks and half characters become ``\x1b``,
    ``\u202e`` and so on. ``keep_lines`` keeps line ends (as ``\n``); otherwise they are spelled out as well.
    Letters of every language, joiners and emoji stay as they are.
    """
    if text.isascii() and text.isprintable():
        return text
    if keep_lines:
        return "\n".join(shown_text(line) for line in text.replace("\r\n", "\n").split("\n"))
    return "".join(_escaped(character) if _hides(character) else character for character in text)


@lru_cache(maxsize=8192)
def shown_number(value: float, digits: int = 3) -> str:
    """The number with ``digits`` significant digits, never fewer than its whole part, without trailing zeros."""
    if value == 0:
        return "0"
    whole = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    if whole >= digits:
        return f"{value:.0f}"
    decimals = digits - 1 - math.floor(math.log10(abs(value)))
    return f"{value:.{decimals}f}".rstrip("0").rstrip(".")


def plain_text(text: str, encoding: str) -> str:
    """The text as an output with this encoding can carry it: a nearby plain spelling, else the character's number."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.encode(encoding, errors="circuitcheck-nearest").decode(encoding)
    return text


def _nearest_spelling(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    unencodable = error.object[error.start : error.end]
    return "".join(_NEAREST.get(character, _escaped(character)) for character in unencodable), error.end


codecs.register_error("circuitcheck-nearest", _nearest_spelling)
