"""What two readings of a voltage, without and with a load, say about the loop that feeds it."""

from __future__ import annotations

from typing import NamedTuple


class LoopResistance(NamedTuple):
    """The resistance of a loop by two readings: as read, and between which ends it is, with the meter's error [ohm]."""

    read: float
    least: float
    most: float


def loop_resistance(*, unloaded: float, loaded: float, amperes: float, error: float) -> LoopResistance:
    """The loop behind an outlet: volts lost over the amperes of the load.

    unloaded, loaded: the readings [V]. amperes: what the load draws, more than none [A]. error: by how much both
    readings together may be off [V]; the ends hold as often as that does.
    """
    lost = unloaded - loaded
    return LoopResistance(lost / amperes, max(0.0, lost - error) / amperes, max(0.0, lost + error) / amperes)
