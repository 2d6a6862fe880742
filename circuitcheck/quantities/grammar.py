"""The small grammar for physical values: word, number, unit, range. It knows no dimension and no registry.

Written forms: ``38 ft``, ``9W``, ``1-1/2 in``, ``5 ft 6 in``, ``5'6"``, ``35 ft to 60 ft``, ``35-60 ft``,
``about 60 ft``, ``measured 38 ft``, ``label 60 W``, ``3 x 40 W``. Everything else is refused with a reason.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from circuitcheck.errors import nearest
from circuitcheck.quantities.interval import How
from circuitcheck.quantities.units import COMPOUNDS, SPELLINGS, spelled_unit


class QuantityError(ValueError):
    """Text that is no value of its kind."""

    def __init__(self, says: str, allowed: str = "", nearest: str | None = None) -> None:
        """``says`` what is wrong, ``allowed`` what may stand there, ``nearest`` the closest right spelling."""
        self.says = says
        self.allowed = allowed
        self.nearest = nearest
        super().__init__(says)


@dataclass(frozen=True, slots=True)
class Amount:
    """One number with its unit as written, or two for ``5 ft 6 in``. A unit of None was not written."""

    number: float
    unit: str | None
    small_number: float = 0.0
    small_unit: str | None = None


@dataclass(frozen=True, slots=True)
class Written:
    """A value as written: how it is known, its one or two ends, and for how many equal pieces it is given."""

    how: How
    low: Amount
    high: Amount | None
    pieces: int = 1


_WORDS = {
    "about": How.GUESS,
    "approximately": How.GUESS,
    "approx.": How.GUESS,
    "approx": How.GUESS,
    "~": How.GUESS,
    "measured": How.MEASURED,
    "label": How.LABEL,
}

_NUMBER = r"[0-9]+[- ][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?|\.[0-9]+"
_UNIT = (
    r"""%|''|'|"|[A-Za-z°Ω]+\.?(?:[ -][A-Za-z]+\.?){0,2}(?:\^?[23](?![0-9./]))?"""
    r"""(?:\ ?/\ ?(?:1000\ ?)?[A-Za-z]+)?"""
)
_AMOUNT = rf"(-?)({_NUMBER})\ ?({_UNIT})?"
_ONE = re.compile(_AMOUNT)
_COMPOUND = rf"({_NUMBER})\ ?({_UNIT}?)\ ?-?\ ?({_NUMBER})\ ?({_UNIT})"
_DASHED = rf"{_AMOUNT}\ ?-\ ?{_AMOUNT}"
_LEADING = r"(-?[0-9./]+)\s*(.*)"
_WORD = re.compile(r"(about|approximately|approx\.?|measured|label)\s+(.*)|(~)\s*(.*)", re.DOTALL | re.IGNORECASE)
_SEVERAL = re.compile(r"([1-9][0-9]?) ?[x×] ?(?=[.0-9])(.*)", re.DOTALL | re.IGNORECASE)
_OPEN_RANGE = re.compile(r"[0-9].*(?:\bto|-)$|^to\b.*[0-9]", re.IGNORECASE)
_TO = re.compile(r"\s+to\s+", re.IGNORECASE)

_SPELLED = str.maketrans(
    {
        "′": "'",
        "’": "'",
        "‘": "'",
        "″": '"',
        "”": '"',
        "“": '"',
        "–": "-",
        "—": "-",
        "−": "-",
        "‐": "-",
        "‑": "-",
        "²": "^2",
        "³": "^3",
        "\u2126": "Ω",
        "⁄": "/",
        "\u00a0": " ",
        "\u202f": " ",
        "\u2009": " ",
    }
)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}

#: What a tape measure is divided into, and thirds. Other fractions are far more likely a slip.
_DENOMINATORS = frozenset({2, 3, 4, 8, 16, 32, 64})
_LONGEST_TEXT = 80
_LONGEST_NUMBER = 15


def spelled_plainly(text: str) -> str:
    """The text with typographic quotes, dashes, fractions and powers replaced by plain ones, and single spaces."""
    if not text.isascii():
        for sign, fraction in _VULGAR.items():
            if sign in text:
                text = re.sub(rf"([0-9]) ?{sign}", rf"\1-{fraction}", text).replace(sign, fraction)
        text = text.translate(_SPELLED)
    return " ".join(text.split())


def _refuse_known_slips(text: str) -> None:
    if not text:
        raise QuantityError("nothing is written here")
    if len(text) > _LONGEST_TEXT:
        raise QuantityError("this is too long to be a number with a unit")
    comma = re.search(r"([0-9]+),([0-9]+)", text)
    if comma:
        whole, rest = comma.groups()
        guess = f"{whole}{rest}" if len(rest) == 3 else f"{whole}.{rest}"
        says = f"the comma in {comma[0]} can mean two things: {guess}?"
        raise QuantityError(says, nearest=text.replace(comma[0], guess))
    if re.search(r"[0-9]_|_[0-9]", text):
        raise QuantityError("an underscore inside a number is not read: write the digits only")
    if re.search(r"[0-9][eE][-+]?[0-9]", text):
        raise QuantityError("powers of ten are not read: write the number out")
    if re.match(r"[-+]?(nan|inf|infinity)\b", text, re.IGNORECASE):
        raise QuantityError("this is not a number that can be measured")
    if "*" in text or "(" in text or "=" in text or "+" in text:
        raise QuantityError("sums are not worked out here: write one number with its unit")


def _number(text: str) -> float:
    if len(text) > _LONGEST_NUMBER:
        raise QuantityError("this number has too many digits")
    if "/" not in text:
        return float(text)
    whole, _, fraction = text.rpartition("-" if "-" in text else " ")
    top, _, bottom = fraction.partition("/")
    if int(bottom) not in _DENOMINATORS or (whole and int(top) >= int(bottom)):
        raise QuantityError(f"{text} is no fraction as on a tape measure: write it as a decimal number")
    return int(whole or 0) + int(top) / int(bottom)


def _unit(word: str | None) -> str | None:
    if not word:
        return None
    unit = spelled_unit(word)
    if unit is None:
        near = nearest(word, SPELLINGS, SPELLINGS)
        raise QuantityError(f'"{word}" is not a known unit', nearest=SPELLINGS[near] if near else None)
    return unit


def _amount(sign: str, number: str, word: str | None) -> Amount:
    value = _number(number)
    return Amount(-value if sign else value, _unit(word))


def _compound(text: str) -> Amount | None:
    match = re.fullmatch(_COMPOUND, text)
    if not match:
        return None
    large, large_word, small, small_word = match.groups()
    units = (spelled_unit(large_word), spelled_unit(small_word))
    limit = COMPOUNDS.get(units)
    if limit is None:
        return None
    amount = Amount(_number(large), units[0], _number(small), units[1])
    if amount.small_number >= limit:
        raise QuantityError(f"{small} {units[1]} is not less than one {units[0]}: write one of the two units only")
    return amount


def _one(text: str) -> Amount | None:
    match = _ONE.fullmatch(text)
    return _amount(*match.groups()) if match else _compound(text)


def _ends(text: str) -> tuple[Amount, Amount | None]:
    if _OPEN_RANGE.search(text):
        raise QuantityError("the range has one end only")
    sides = _TO.split(text)
    if len(sides) == 2:
        low, high = _one(sides[0]), _one(sides[1])
        if low is not None and high is not None:
            return low, high
        _refuse_unread(sides[0] if low is None else sides[1])
    amount = _one(text)
    if amount is not None:
        return amount, None
    match = re.fullmatch(_DASHED, text)
    if match:
        parts = match.groups()
        return _amount(*parts[:3]), _amount(*parts[3:])
    for position in (index for index, character in enumerate(text) if character == "-"):
        low, high = _one(text[:position].strip()), _one(text[position + 1 :].strip())
        if low is not None and high is not None:
            return low, high
    _refuse_unread(text)
    raise AssertionError("unreachable")


def _refuse_unread(text: str) -> None:
    match = re.fullmatch(_LEADING, text, re.DOTALL)
    if match and match[2] and not any(character.isdigit() for character in match[2]):
        _unit(match[2].strip())
    raise QuantityError("this is not a number with a unit")


def without_word(text: str) -> str:
    """The text without the word that says how its value is known: ``60 ft`` for ``about 60 ft``."""
    word = _WORD.fullmatch(text.strip())
    return (word[2] or word[4] or "").strip() if word else text.strip()


def read_written(text: str) -> Written:
    """The text taken apart into word, numbers and units.

    Raises: QuantityError with the reason in plain words.
    """
    plain = spelled_plainly(text)
    _refuse_known_slips(plain)
    how = How.STATED
    word = _WORD.fullmatch(plain)
    if word:
        how = _WORDS[(word[1] or word[3]).lower()]
        plain = (word[2] or word[4] or "").strip()
        _refuse_known_slips(plain)
    several = _SEVERAL.fullmatch(plain)
    low, high = _ends(several[2] if several else plain)
    if high is not None and low.unit is None:
        low = Amount(low.number, high.unit)
    return Written(how, low, high, int(several[1]) if several else 1)
