"""The most resistance that the cable to a light may have, and from it the longest cable and the thinnest conductor."""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.circuit.model import Cable
from circuitcheck.findings import exceeds
from circuitcheck.quantities import KINDS
from circuitcheck.rules.cable_impedance import Impedances
from circuitcheck.rules.low_voltage.driver_tree import Run
from circuitcheck.rules.low_voltage.run_state import Lead
from circuitcheck.tables.rulebook import Rulebook

#: How far above its limit the voltage may stay when the search ends, as a share of the limit.
NEAR = 1e-4
MOST_TRIES = 40

#: The longest cable that a circuit file may name [m]: nobody needs to know of a longer one that would do.
LONGEST_M = KINDS["length"].greatest_si
#: Thinner conductors than the one given are looked for up to this many times its resistance at that length.
THINNER = 1000.0


@dataclass(frozen=True, slots=True)
class LeadAdvice:
    """For the cable to one light: longest length of this conductor [m], thinnest size at this length.

    ``longest_m`` None: no cable of a house would be too long. ``thinnest`` None: no size of the table would do. Both
    hold with everything else at its worst.
    """

    cable: Cable
    longest_m: float | None
    thinnest: str | None


def greatest_lead_ohm(run: Run, lead: Lead, light_id: str, limit_v: float, far_ohm: float) -> float | None:
    """The most that both conductors of ``lead`` together may have [ohm]; None where even none would be too much.

    The voltage at the light falls as the resistance rises, so the answer is narrowed from both sides; what comes out
    always still does. Nothing above ``far_ohm`` is looked for: a light whose current falls with its voltage may keep a
    low limit however much it loses.
    """

    def above(ohm: float) -> float:
        state = run.state(worst=True, lead_ohm={lead.cable.id: ohm})
        return -limit_v if state is None or not state.served else state.lowest_v[light_id] - limit_v

    low, low_v = 0.0, above(0.0)
    if low_v < 0.0:
        return None
    state = run.state(worst=True)
    drawn = state.cable_a.get(lead.cable.id, 0.0) if state is not None and state.served else 0.0
    high = lead.high_ohm if drawn * far_ohm <= low_v else max(lead.high_ohm, low_v / drawn)
    high = min(high, far_ohm)
    high_v = above(high)
    while high_v >= 0.0:
        if high >= far_ohm:
            return far_ohm
        low, low_v = high, high_v
        high = min(2.0 * high, far_ohm)
        high_v = above(high)
    for _ in range(MOST_TRIES):
        if low_v <= NEAR * limit_v:
            break
        straight = low + (high - low) * low_v / (low_v - high_v)
        # A touch short of the straight line, so that the side that still does closes in as well.
        tried = low + 0.999 * (straight - low) if high_v > -limit_v else (low + high) / 2.0
        tried_v = above(tried)
        if tried_v >= 0.0:
            low, low_v = tried, tried_v
        else:
            high, high_v = tried, tried_v
    return low


def lead_advice(
    run: Run, lead: Lead, light_id: str, limit_v: float, impedances: Impedances, book: Rulebook
) -> LeadAdvice | None:
    """Longest cable and thinnest conductor that would keep the light at ``limit_v`` [V]; None where no cable would."""
    cable = lead.cable
    if cable.length_m is None or cable.size is None or lead.high_ohm <= 0.0:
        return None
    per_length = lead.high_ohm / cable.length_m.high
    most = greatest_lead_ohm(run, lead, light_id, limit_v, max(per_length * LONGEST_M, THINNER * lead.high_ohm))
    if most is None:
        return None
    longest = most / per_length
    thinnest = _thinnest(cable, most, impedances, book)
    return LeadAdvice(cable, longest if longest < LONGEST_M else None, thinnest)


def _thinnest(cable: Cable, most_ohm: float, impedances: Impedances, book: Rulebook) -> str | None:
    """The first size of the cable's own table, thinnest first, whose two conductors stay within ``most_ohm``."""
    if cable.length_m is None or cable.size is None:
        return None
    metric = book.table("metric-conductors")
    table = metric if metric.find(cable.size) is not None else book.table("conductors")
    for row in table.rows:
        conductor = impedances.conductor(cable, row.key[0])
        if conductor is not None and not exceeds(2.0 * cable.length_m.high * conductor.high.real, most_ohm):
            return row.key[0]
    return None
