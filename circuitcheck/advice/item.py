"""One line of a list of materials, and small words that the lists share."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from circuitcheck.findings import Source
from circuitcheck.quantities import in_unit, shown

#: More names than this are counted and not named: a line of a list is short.
MOST_NAMED = 6

INCHES_PER_FOOT = 12

#: A hair less than a whole inch is no inch more: lengths in inches are not whole in meters.
NOISE = 1e-6


class Group(StrEnum):
    """The headings of a list of materials, in the order in which a job needs them."""

    CABLE = "Cable"
    BOXES = "Boxes"
    FITTINGS = "Cable clamps and fittings"
    SUPPORTS = "Supports and protection of cable"
    CONNECTORS = "Splices and pigtails"
    GROUNDING = "Grounding"
    DEVICES = "Switches and devices"
    LUMINAIRES = "Luminaires and drivers"
    COVERS = "Covers and plates"
    PROTECTION = "Protection of the circuit"


@dataclass(frozen=True, slots=True)
class Item:
    """A line: how many, of what, where it goes, and why so many; ``sources`` are where the rule or practice stands."""

    group: Group
    amount: str
    what: str
    where: str
    why: str
    sources: tuple[Source, ...] = ()


def named(ids: Iterable[str]) -> str:
    """Names, the first few only where there are many."""
    names = list(dict.fromkeys(ids))
    if len(names) <= MOST_NAMED:
        return ", ".join(names)
    return f"{', '.join(names[:MOST_NAMED])} and {len(names) - MOST_NAMED} more"


def boxes_named(ids: Iterable[str]) -> str:
    """Boxes by name: ``box "attic"``, ``boxes "wall 1", "wall 2"``."""
    names = [f'"{name}"' for name in dict.fromkeys(ids)]
    return f"{'box' if len(names) == 1 else 'boxes'} {named(names)}"


def counted(low: int, high: int | None) -> str:
    """A number of pieces: ``8``, ``8 to 10``, ``at least 8``."""
    if high is None:
        return f"at least {low}"
    return str(low) if low == high else f"{low} to {high}"


def span_words(low: float, high: float, unit: str, digits: int = 3) -> str:
    """A value between two ends [SI], with its unit: ``26 ft``, ``24 to 26 ft``."""
    first, last = shown(low, unit, digits), shown(high, unit, digits)
    if first == last:
        return last
    return f"{first.removesuffix(unit).rstrip()} to {last}"


def piece_words(low_m: float, high_m: float, *, metric: bool) -> str:
    """A length to cut, no shorter than it was worked out: ``27 ft 5 in``, or ``8.35 m``."""
    first, last = _piece(low_m, metric), _piece(high_m, metric)
    return last if first == last else f"{first} to {last}"


def _piece(length_m: float, metric: bool) -> str:
    if metric:
        return f"{math.ceil(100 * length_m - NOISE) / 100:.2f} m"
    inches = math.ceil(in_unit(length_m, "in") - NOISE)
    feet, rest = divmod(inches, INCHES_PER_FOOT)
    return f"{feet} ft {rest} in" if feet and rest else f"{feet} ft" if feet else f"{rest} in"


def bought_words(low_m: float, high_m: float, *, metric: bool) -> str:
    """A length to buy, rounded up to whole feet or meters: ``87 ft``, ``80 to 87 ft``."""
    unit = "m" if metric else "ft"
    first, last = (math.ceil(in_unit(length, unit) - NOISE) for length in (low_m, high_m))
    return f"{last} {unit}" if first == last else f"{first} to {last} {unit}"


def listed(texts: Sequence[str]) -> str:
    """Texts in a row: ``a, b and c``."""
    return ", ".join(texts[:-1]) + f" and {texts[-1]}" if len(texts) > 1 else "".join(texts)
