"""What is on the circuit already: the listed loads, or the reading at the panel where it is larger."""

from __future__ import annotations

from typing import NamedTuple

from circuitcheck.case import Case, once
from circuitcheck.domain.draws import draws


class ExistingLoad(NamedTuple):
    """What the existing loads draw by the list and by the reading, without any factor [A].

    reading: None where nobody measured. A reading can only raise the load: lamps may have been off, and the next lamp
    may be bigger. What the work takes away is off it; ``taken_off``: how much, of the loads that were on.
    """

    listed: float
    reading: float | None
    taken_off: float = 0.0

    @property
    def surplus(self) -> float:
        """What was read and no listed load explains [A]."""
        return max(0.0, self.reading - self.listed) if self.reading is not None else 0.0


@once
def existing_load(case: Case) -> ExistingLoad:
    """The existing load of the circuit [A]. What is to be added was not there yet when somebody measured.

    A load that goes is taken off the reading only where it was on, and by the least that it drew.
    """
    reading = case.supply.measured_current_a
    if reading is None:
        return ExistingLoad(0.0, None)
    listed = sum(draw.amperes for draw in draws(case) if not draw.part.is_added)
    taken_off = sum(gone.least_a for gone in case.gone if gone.least_a and gone.load.on_at_reading)
    return ExistingLoad(listed, max(0.0, reading - taken_off), min(reading, taken_off))
