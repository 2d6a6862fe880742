"""Reading a physical value: text to an interval in SI, by the units and the plausible ends of its kind."""

from __future__ import annotations

import math
from functools import lru_cache

from circuitcheck.quantities.grammar import Amount, QuantityError, Written, read_written
from circuitcheck.quantities.interval import How, Interval
from circuitcheck.quantities.kinds import KINDS, Kind
from circuitcheck.quantities.registry import to_si
from circuitcheck.text import shown_number

#: "about 60 ft" stands for a quarter less to a quarter more.
_GUESS_SHARE = 0.25

_APPARENT_FOR_REAL = "VA is apparent power and W is real power; a load's VA can be more than its W"


def _wrong_unit(unit: str, kind: Kind) -> QuantityError:
    if {unit[-2:], kind.unit[-2:]} == {"VA", "W"}:
        return QuantityError(f"{_APPARENT_FOR_REAL}, so {kind.name} is not given in {unit}", kind.allowed)
    other = next((known.name for known in KINDS.values() if unit in known.units), "another kind of value")
    return QuantityError(f"{unit} is a unit for {other}, and this key takes {kind.name}", kind.allowed)


def _bare(amount: Amount, kind: Kind) -> QuantityError:
    number = shown_number(amount.number, 6)
    says = f"the number {number} stands without a unit"
    return QuantityError(says, kind.allowed, f"{number} {kind.unit}")


def _checked_unit(amount: Amount, kind: Kind) -> str:
    if amount.unit is None:
        if kind.bare:
            return ""
        raise _bare(amount, kind)
    if amount.unit not in kind.units:
        raise _wrong_unit(amount.unit, kind)
    return amount.unit


def _in_first_unit(amount: Amount) -> float:
    if amount.small_unit is None:
        return amount.number
    return amount.number + to_si(amount.small_number, amount.small_unit) / to_si(1.0, amount.unit or "")


def _plausible(value_si: float, kind: Kind, written: str) -> float:
    if not math.isfinite(value_si):
        raise QuantityError("this is not a number that can be measured", kind.allowed)
    if value_si < 0 <= kind.least:
        raise QuantityError(f"{kind.name} cannot be negative", kind.allowed)
    slack = 1e-9 * max(abs(kind.least_si), abs(kind.greatest_si))
    if value_si < kind.least_si - slack:
        raise QuantityError(f"{written} is too little here: at least {kind.least:g} {kind.unit}".rstrip(), kind.allowed)
    if value_si > kind.greatest_si + slack:
        raise QuantityError(f"{written} is too much here: at most {kind.greatest:g} {kind.unit}".rstrip(), kind.allowed)
    return value_si


def shown_amount(amount: Amount) -> str:
    """The amount in plain spelling: number, space, unit."""
    unit = "" if amount.unit is None else amount.unit
    large = f"{_plain_number(amount.number)} {unit}".rstrip()
    if unit == "percent":
        large = f"{_plain_number(amount.number)} %"
    if amount.small_unit is None:
        return large
    return f"{large} {_plain_number(amount.small_number)} {amount.small_unit}"


def _plain_number(number: float) -> str:
    return f"{number:.10f}".rstrip("0").rstrip(".")


def _interval(written: Written, kind: Kind, text: str) -> Interval:
    amounts = (written.low,) if written.high is None else (written.low, written.high)
    ends: list[float] = []
    if written.pieces > 1 and not kind.adds_up:
        raise QuantityError("this is not a number with a unit", kind.allowed)
    for amount in amounts:
        unit = _checked_unit(amount, kind)
        one = _plausible(to_si(_in_first_unit(amount), unit), kind, shown_amount(amount))
        whole = f"{written.pieces} x {shown_amount(amount)}"
        ends.append(one if written.pieces == 1 else _plausible(written.pieces * one, kind, whole))
    low, high = ends[0], ends[-1]
    if low > high:
        low_text, high_text = shown_amount(amounts[-1]), shown_amount(amounts[0])
        raise QuantityError(
            f"the range is written from more to less: {low_text} to {high_text}?",
            kind.allowed,
            f"{low_text} to {high_text}",
        )
    if written.how is How.GUESS:
        first, last = _in_first_unit(amounts[0]), _in_first_unit(amounts[-1])
        low = written.pieces * to_si(first - _GUESS_SHARE * abs(first), _checked_unit(amounts[0], kind))
        high = written.pieces * to_si(last + _GUESS_SHARE * abs(last), _checked_unit(amounts[-1], kind))
        # A guess near the end of what is possible at all (a power factor of 1) does not reach past it.
        low, high = max(low, min(kind.least_si, ends[0])), min(high, max(kind.greatest_si, ends[-1]))
    return Interval(low, high, written.how, text)


@lru_cache(maxsize=4096)
def _read(text: str, kind: Kind) -> Interval:
    try:
        written = read_written(text)
    except QuantityError as error:
        raise QuantityError(error.says, error.allowed or kind.allowed, _fitting(error.nearest, kind)) from None
    return _interval(written, kind, text.strip())


def _fitting(guess: str | None, kind: Kind) -> str | None:
    if guess is None or " " in guess or guess[0].isdigit():
        return guess
    return guess if guess in kind.units else None


def read_interval(text: str, kind: Kind) -> Interval:
    """The interval that the text stands for, in the SI unit of its kind (temperatures in degC).

    Raises: QuantityError with the reason, what is allowed and the nearest right spelling.
    """
    return _read(text, kind)


def normal_text(text: str, kind: Kind) -> str:
    """The text respelled plainly, for showing back what was understood: ``35-60ft`` gives ``35 ft to 60 ft``.

    Raises: QuantityError as read_interval does.
    """
    read_interval(text, kind)
    written = read_written(text)
    word = {How.STATED: "", How.MEASURED: "measured ", How.LABEL: "label ", How.GUESS: "about "}[written.how]
    word += f"{written.pieces} x " if written.pieces > 1 else ""
    if written.high is None:
        return word + shown_amount(written.low)
    return f"{word}{shown_amount(written.low)} to {shown_amount(written.high)}"
