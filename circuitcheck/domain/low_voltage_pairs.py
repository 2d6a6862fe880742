"""Two cables that share the current of a strip: the better of them carries more, so neither way is always worse."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from typing import Any

from circuitcheck.case import EACH, Case, Direction, values_of
from circuitcheck.case.parts import Cable, Part
from circuitcheck.domain.impedance import Wire, ohm_per_m_of
from circuitcheck.domain.low_voltage_lights import rated_w
from circuitcheck.domain.low_voltage_runs import low_voltage_runs


def of_a_pair(direction: Direction, *, of_known_size: bool = False, of_one_size: bool = False) -> Direction:
    """A direction of an entry of a cable, or of the strip that two feed; each value counts where there are two.

    The less the strip's own conductors resist, the more uneven they share. ``of_known_size``: where a size is open it
    makes far more than the entry does, and trying every size with every value of it would take too long.
    ``of_one_size``: where both sizes are open the same for the longer cable: two are most uneven where that is longest
    and thinnest.
    """

    def worse(value: Any, part: Part, case: Case) -> Any:
        pair = low_voltage_runs(case).paired.get(part.ref.id, ())
        open_sizes = [cable for cable in pair if len(values_of(cable, "size")) > 1]
        if of_known_size and open_sizes:
            return direction(value, part, case)
        if of_one_size and len(open_sizes) > 1 and part is not _shorter(pair):
            return direction(value, part, case)
        return EACH if pair else direction(value, part, case)

    return worse


def _shorter(pair: Sequence[Cable]) -> Cable:
    """The cable that may not be as long as the other; of two alike the first."""
    return min(pair, key=lambda cable: max(values_of(cable, "length_m")))


def even_lengths(first: Any, last: Any, part: Part, case: Case) -> Iterator[float]:
    """The lengths at which a strip gets the same volts at both ends: where its leads resist least, and most [m].

    They resist alike there, but where further lights hang on the strip: the lead to that end carries these as well, and
    has to resist less. Lights count with their rated watts. Both leads are looked up as they may be, and not in the
    case, whose metals may be even at no length. Of the other's length its ends count: what lies between them is the
    other's to find.
    """
    pair = low_voltage_runs(case).paired.get(part.ref.id, ())
    if not isinstance(part, Cable) or not pair:
        return
    share = _share_of_near_lead(case, pair)
    lengths: dict[float, float] = {}
    for other in pair:
        if other is not part:
            even = share if part is pair[0] else 1.0 / share
            own_ohms = _ohm_per_m(case, part, pair)
            for ohm, length, own in product(_ohm_per_m(case, other, pair), values_of(other, "length_m"), own_ohms):
                turn = length * ohm * even / own
                if first < turn < last:
                    lengths.setdefault(length * ohm, turn)
    if lengths:
        yield from dict.fromkeys((lengths[min(lengths)], lengths[max(lengths)]))


def _share_of_near_lead(case: Case, pair: Sequence[Cable]) -> float:
    """How many times as much the first lead to a strip may resist as the second, at whose end further lights hang."""
    runs = low_voltage_runs(case)
    run, strip_id = runs.with_cable[pair[0].id], pair[0].to_id
    beyond = {strip_id}
    own_w = further_w = 0.0
    for step in run.steps:  # parents first
        if step.to_id == strip_id and step.light is not None:
            own_w = rated_w(step.light)
        elif step.from_id in beyond:
            beyond.add(step.to_id)
            further_w += rated_w(step.light) if step.light is not None else 0.0
    return (own_w / 2.0 + further_w) / (own_w / 2.0) if own_w > 0.0 else 1.0


def _ohm_per_m(case: Case, cable: Cable, pair: Sequence[Cable]) -> list[float]:
    """What a conductor of a cable may resist at its best, in all that is tried of it (``of_a_pair``) [ohm/m]."""
    open_sizes = [each for each in pair if len(values_of(each, "size")) > 1]
    sizes = values_of(cable, "size")
    rest = [values_of(cable, name) for name in ("material", "stranding", "conductor_temperature_c")]
    if not open_sizes:
        return _held(case, (Wire(sizes[0], *each) for each in product(*rest)))
    ohms = _held(case, (Wire(size, *(values[0] for values in rest)) for size in sizes))
    return ohms if len(open_sizes) == 1 or cable is _shorter(pair) else [min(ohms)] if ohms else []


def _held(case: Case, wires: Iterable[Wire]) -> list[float]:
    ohms = (ohm_per_m_of(case.book, wire) for wire in wires)
    return [ohm for ohm in ohms if ohm]
