"""Two cables that share the current of a strip: the better of them carries more, so neither way is always worse."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.case import EACH, Case, Direction, values_of
from circuitcheck.case.parts import Cable, Part
from circuitcheck.domain.impedance import ohm_per_m_of
from circuitcheck.domain.low_voltage_runs import low_voltage_runs


def of_a_pair(direction: Direction, *, of_known_size: bool = False, of_one_size: bool = False) -> Direction:
    """A direction of an entry of a cable, or of the strip that two feed; each value counts where there are two.

    The less the strip's own conductors resist, the more uneven they share. ``of_known_size``: where a size is open it
    makes far more than the entry does, and trying every size with every value of it would take too long.
    ``of_one_size``: the same where the size of the other cable is open.
    """

    def worse(value: Any, part: Part, case: Case) -> Any:
        pair = low_voltage_runs(case).paired.get(part.ref.id, ())
        open_sizes = [cable for cable in pair if len(values_of(cable, "size")) > 1]
        if of_known_size and open_sizes:
            return direction(value, part, case)
        if of_one_size and any(cable is not part for cable in open_sizes):
            return direction(value, part, case)
        return EACH if pair else direction(value, part, case)

    return worse


def even_lengths(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """The lengths at which a cable resists as much as the other of its pair, at the ends of what that may be [m].

    The other's length is looked up as it may be, and not in the case: there it may hang on this one.
    """
    pair = low_voltage_runs(case).paired.get(part.ref.id, ())
    for other in pair:
        if other is part or not isinstance(part, Cable):
            continue
        own, others = ohm_per_m_of(case, part), ohm_per_m_of(case, other)
        if own and others is not None:
            lengths = values_of(other, "length_m")
            yield from (turn for length in lengths if first < (turn := length * others / own) < last)
