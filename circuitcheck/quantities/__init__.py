"""Units at the door: text with a unit in, plain SI floats within, text with a unit out.

The one unit registry lives here, pint with our own short list of units. What it says about the units in daily use is
written down in ``conversions``, since starting it costs more time than a whole check. A raw string is never handed to
it: our grammar finds number and unit first.
"""

from __future__ import annotations

from circuitcheck.quantities.grammar import QuantityError, spelled_plainly, without_word
from circuitcheck.quantities.interval import How, Interval
from circuitcheck.quantities.kinds import KINDS, Kind
from circuitcheck.quantities.reading import normal_text, read_interval
from circuitcheck.quantities.registry import factor, in_unit, to_si
from circuitcheck.quantities.rounding import (
    beside_limit,
    down_to,
    need_and_room,
    rounded_down,
    rounded_up,
    safe_limit,
    up_to,
)
from circuitcheck.quantities.showing import normalised, shown
from circuitcheck.quantities.sizes import read_designation, read_size

__all__ = [
    "KINDS",
    "How",
    "Interval",
    "Kind",
    "QuantityError",
    "beside_limit",
    "down_to",
    "factor",
    "in_unit",
    "need_and_room",
    "normal_text",
    "normalised",
    "read_designation",
    "read_interval",
    "read_size",
    "rounded_down",
    "rounded_up",
    "safe_limit",
    "shown",
    "spelled_plainly",
    "to_si",
    "up_to",
    "without_word",
]
