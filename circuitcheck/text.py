"""Text made fit to be shown: control and direction marks made visible, numbers short, a plain spelling at hand."""

from __future__ import annotations

import codecs
import math
import unicodedata
from functools import lru_cache

#: Joiners and variation selectors, without which several scripts and many emoji cannot be written. They neither hide
#: nor reorder anything, but show nothing themselves: behind a plain ASCII character they only make two names alike.
_JOINING = frozenset(
    "\u200c\u200d"
    + "\u180b\u180c\u180d\u180f"
    + "".join(map(chr, range(0xFE00, 0xFE10)))
    + "".join(map(chr, range(0xE0100, 0xE01F0)))
)

#: Letters, marks and signs that show nothing or an empty cell: fillers of Hangul, vowels without a shape, the grapheme
#: joiner, the braille pattern without dots.
_BLANK = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0")

_KEYCAP = "\u20e3"

#: Categories that move the cursor, reorder the line or show nothing: control, format, surrogate, line, paragraph.
_HIDDEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})

#: What to write where an output cannot carry the character itself.
_NEAREST = {
    "✓": "+",
    "✗": "X",
    "×": "x",
    "·": "*",
    "☐": "[ ]",
    "□": "[]",
    "⊗": "(x)",
    "⊖": "(=)",
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
    if character in _BLANK or unicodedata.category(character) in _HIDDEN:
        return True
    return (ord(character) & 0xFFFE) == 0xFFFE


def _joins(before: str, text: str, place: int) -> bool:
    """Whether the joiner or selector at ``place`` has something to act on; ``before`` is what is shown before it."""
    if not before or before.isspace():
        return False
    return not before.isascii() or (before in "0123456789#*" and text[place + 1 : place + 2] == _KEYCAP)


def _spelled_out(text: str) -> str:
    shown: list[str] = []
    for place, character in enumerate(text):
        before = shown[-1][-1] if shown else ""
        visible = _joins(before, text, place) if character in _JOINING else not _hides(character)
        shown.append(character if visible else _escaped(character))
    return "".join(shown)


def shown_text(text: str, *, keep_lines: bool = False) -> str:
    r"""The text with everything invisible spelled out, so that it can neither hide nor reorder what is shown.

    Control characters, marks that change writing direction, zero-width marks, half characters and blank look-alikes
    become ``\x1b``, ``\u202e``, ``\u3164`` and so on. ``keep_lines`` keeps line ends (as ``\n``); otherwise they are
    spelled out as well. Letters of every language, joiners and emoji stay as they are.
    """
    if text.isascii() and text.isprintable():
        return text
    if keep_lines:
        return "\n".join(shown_text(line) for line in text.replace("\r\n", "\n").split("\n"))
    return _spelled_out(text)


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


def has_plain_spelling(character: str) -> bool:
    """Whether this is a sign that the program's own texts use, with a plain spelling at hand."""
    return character in _NEAREST


def _nearest_spelling(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    unencodable = error.object[error.start : error.end]
    return "".join(_NEAREST.get(character, _escaped(character)) for character in unencodable), error.end


codecs.register_error("circuitcheck-nearest", _nearest_spelling)
