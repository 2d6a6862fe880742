"""Where an answer turns: the values of one entry at which something holds, each end found by bisection.

The entry is changed in the circuit and the rules are asked again; nothing here knows any rule.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from circuitcheck.checking.open_values import OpenValues
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.model import Device, FixtureWires, OtherCable, Unbroken
from circuitcheck.quantities import in_unit, rounded_down, rounded_up, to_si

#: At how many values of a span it is looked first.
LOOKS = 9
#: How often the gap in which an answer turns is halved.
HALVINGS = 12
#: Beyond this ratio of its ends a span is looked at evenly in its logarithm.
_WIDE = 20.0
#: How many words a text names.
_MOST_WORDS = 5

Holds = Callable[[Any], bool]


class Region(NamedTuple):
    """Values from ``low`` to ``high`` [SI] at which something holds; None: to that end of the span."""

    low: float | None
    high: float | None


def looks(values: OpenValues) -> tuple[Any, ...]:
    """The values at which an entry is tried first: every word, or points of a span with its ends."""
    if values.span is None:
        return values.words
    low, high = values.span
    if low == high:
        return (low,)
    steps = [place / (LOOKS - 1) for place in range(LOOKS)]
    inside = [_between(low, high, step) for step in steps[1:-1]]
    return (low, *inside, high)


def regions(values: OpenValues, holds: Holds) -> tuple[Region, ...]:
    """The parts of a span in which something holds, their ends inside by less than a thousandth."""
    points = looks(values)
    found: list[Region] = []
    start: float | None = None
    inside = False
    for place, point in enumerate(points):
        now = holds(point)
        if now and not inside:
            start = None if place == 0 else _turn(values.key, points[place - 1], point, holds)
        if inside and not now:
            found.append(Region(start, _turn(values.key, point, points[place - 1], holds)))
        inside = now
    if inside:
        found.append(Region(start, None))
    return tuple(found)


def where_it_holds(values: OpenValues, holds: Holds) -> str | None:
    """The values as a text for people: "at most 71 ft", "yes", "wall or ceiling"; None where it holds nowhere."""
    if values.span is None:
        held = [value for value in values.words if holds(value)]
        if values.key.form is Form.WHOLE:
            return _counts_text(values.words, held)
        if len(held) == len(values.words) > 1:
            return "any answer"
        return _listed([value_text(values.key, value) for value in held]) if held else None
    texts = [region_text(values.key, region) for region in regions(values, holds)]
    return " or ".join(texts) if texts else None


def _counts_text(counts: Sequence[int], held: Sequence[int]) -> str | None:
    """Whole numbers in a row, as "at least 4" where they reach the end."""
    if not held:
        return None
    if list(held) == list(counts):
        return "any number"
    if list(held) == list(counts[len(counts) - len(held) :]):
        return f"at least {held[0]}"
    if list(held) == list(counts[: len(held)]):
        return f"at most {held[-1]}"
    return _listed([str(count) for count in held])


def region_text(key: Key, region: Region) -> str:
    """A region in the key's unit, its ends rounded so that every value that is named is inside."""
    if region.low is None and region.high is None:
        return "any value"
    low = _number(key, region.low, rounded_up) if region.low is not None else ""
    high = _number(key, region.high, rounded_down) if region.high is not None else ""
    if not low or not high:
        return f"at most {high}" if high else f"at least {low}"
    return low if low == high else f"{low} to {high}"


def value_text(key: Key, value: Any) -> str:
    """One value of a key, for people."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return " and ".join(map(_thing, value)) or "none"
    if key.form is Form.PHYSICAL and isinstance(value, float):
        return _number(key, value, lambda number, digits=3: f"{number:.{digits}g}")
    return str(value)


def _thing(value: Any) -> str:
    if isinstance(value, FixtureWires | Unbroken):
        return f"{value.count} x {value.size}"
    if isinstance(value, OtherCable):
        return f"a cable of {value.conductors} x {value.size}"
    return value.kind if isinstance(value, Device) else str(value)


def _number(key: Key, value_si: float, rounded: Callable[..., str]) -> str:
    unit = key.kind.unit if key.kind is not None else ""
    if unit == "degC":
        return f"{rounded(in_unit(value_si, 'degF'))} °F ({rounded(value_si)} °C)"
    shown = {"percent": "%", "in^3": "in³"}.get(unit, unit)
    return f"{rounded(in_unit(value_si, unit))} {shown}".rstrip()


def _between(low: float, high: float, share: float) -> float:
    if low > 0 and high / low > _WIDE:
        return math.exp(math.log(low) + share * (math.log(high) - math.log(low)))
    return low + share * (high - low)


def _turn(key: Key, outside: float, inside: float, holds: Holds) -> float:
    """The value nearest to ``outside`` at which it holds, found from inside; a plain number of the unit where it is."""
    for _ in range(HALVINGS):
        middle = _between(min(outside, inside), max(outside, inside), 0.5)
        if holds(middle):
            inside = middle
        else:
            outside = middle
    unit = key.kind.unit if key.kind is not None else ""
    towards = rounded_down if outside < inside else rounded_up
    plain = to_si(float(towards(in_unit(inside, unit))), unit)
    return plain if holds(plain) else inside


def _listed(words: Sequence[str]) -> str:
    told = list(dict.fromkeys(words))
    more = f" or {len(told) - _MOST_WORDS} more" if len(told) > _MOST_WORDS else ""
    shown = told[:_MOST_WORDS]
    return (", ".join(shown) if more else " or ".join(shown)) + more
