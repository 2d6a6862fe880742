"""What each load and driver takes from the branch circuit when the voltage drop is reckoned: watts and vars.

Only the part of a current that is in step with the voltage loses volts in a wire's resistance, so watts count in full.
What the power factor leaves over counts as lagging vars, which lose volts in the wire's small reactance. The poor power
factor of electronic lamps is mostly distortion instead; as vars it is counted on the worse side.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from circuitcheck.circuit.model import Driver, Load, Supply
from circuitcheck.findings import Source
from circuitcheck.quantities import Interval
from circuitcheck.rules.driver_draw import DRIVER_DRAW_USES, driver_draw
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

#: What this module may cite; a rule that uses it adds them to its ``uses``.
DROP_DEMAND_USES = tuple(dict.fromkeys((*DRIVER_DRAW_USES, "value:receptacle-planning-load")))

#: Kinds of load that are plain resistors, whose power factor need not be asked for.
RESISTIVE_KINDS = ("heater",)


class DropDemand(NamedTuple):
    """One load's or driver's P + jQ [W, var] at both ends, or the keys that are missing for it (``needs``).

    ``loose`` names the keys that keep the ends apart. ``unknown_factor``: the key of a power factor that was not given.
    """

    subject: str
    low: complex = 0j
    high: complex = 0j
    needs: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    unknown_factor: str = ""
    sources: tuple[Source, ...] = ()


def _vars(watts: float, power_factor: float) -> float:
    return watts * math.sqrt(max(0.0, 1.0 - power_factor**2)) / power_factor


def load_demand(load: Load, supply: Supply, book: Rulebook) -> DropDemand:
    """What all pieces of ``load`` take together at their rated power."""
    key = f"load.{load.id}."
    factor, unknown_factor, sources = _power_factor(load, book, key)
    loose = [] if factor.exact else [key + "power_factor"]
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    given: Interval
    if load.power_w is not None:
        given, name = load.power_w, "power"
    elif load.apparent_va is not None:
        given, name = load.apparent_va, "apparent"
    elif load.current_a is not None:
        amperes, volts = load.current_a, supply.voltage_v
        given, name = Interval(amperes.low * volts.low, amperes.high * volts.high), "current"
    elif load.kind == "receptacle":
        planned = book.value("receptacle-planning-load")
        given, name = Interval(planned.number, planned.number), "power"
        factor, unknown_factor, loose = Interval(1.0, 1.0), "", []
        sources = (planned.source,)
        assumed = (
            f"{load.id}: what is plugged in is not known; {shown_number(planned.number)} W each is a planning figure",
        )
        assumed_keys = (key + "power",)
    else:
        return DropDemand(subject=load.id, needs=(key + "power",))
    if not given.exact:
        loose.insert(0, key + name)
    if load.power_w is not None and load.apparent_va is not None and load.power_factor is None:
        apparent, unknown_factor, sources = load.apparent_va, "", ()
        loose = [key + one for one, known in (("power", given), ("apparent", apparent)) if not known.exact]
        low = complex(given.low, math.sqrt(max(0.0, apparent.low**2 - given.high**2)))
        high = complex(given.high, math.sqrt(max(0.0, apparent.high**2 - given.low**2)))
    elif name == "power":
        low = complex(given.low, _vars(given.low, factor.high))
        high = complex(given.high, _vars(given.high, factor.low))
    else:
        # The most watts and the most vars that the range of power factors leaves: no load takes more of either.
        low_w, high_w = given.low * factor.low, given.high * factor.high
        low = complex(low_w, _vars(given.low * factor.high, factor.high))
        high = complex(high_w, _vars(given.high * factor.low, factor.low))
    return DropDemand(
        subject=load.id,
        low=low * load.quantity,
        high=high * load.quantity,
        loose=tuple(loose),
        assumed=assumed,
        assumed_keys=assumed_keys,
        unknown_factor=unknown_factor,
        sources=sources,
    )


def _power_factor(load: Load, book: Rulebook, key: str) -> tuple[Interval, str, tuple[Source, ...]]:
    """The power factor as known, the key where it is not, and the source of what was taken instead."""
    if load.power_factor is not None and load.power_factor.low > 0.0:
        return load.power_factor, "", ()
    if load.kind in RESISTIVE_KINDS:
        return Interval(1.0, 1.0), "", ()
    worst = book.value("unknown-power-factor")
    return Interval(worst.number, 1.0), key + "power_factor", (worst.source,)


def driver_demand(driver: Driver, supply: Supply, book: Rulebook) -> DropDemand:
    """What ``driver`` takes when fully loaded, by its label."""
    draw = driver_draw(driver, supply, book)
    if draw.low_w is None or draw.high_w is None or draw.low_va is None or draw.high_va is None:
        return DropDemand(subject=driver.id, needs=draw.needs, sources=draw.sources)
    low_var = math.sqrt(max(0.0, draw.low_va**2 - draw.high_w**2))
    high_var = math.sqrt(max(0.0, draw.high_va**2 - draw.low_w**2))
    key = f"driver.{driver.id}."
    factor = key + "power_factor"
    given = {
        "input_power": driver.input_power_w,
        "input_current": driver.input_current_a,
        "output_power": driver.output_power_w,
        "efficiency": driver.efficiency,
        "power_factor": driver.power_factor,
    }
    ranged = (key + name for name, value in given.items() if value is not None and not value.exact)
    return DropDemand(
        subject=driver.id,
        low=complex(draw.low_w, low_var),
        high=complex(draw.high_w, high_var),
        loose=(*ranged, *draw.assumed_keys),
        assumed=draw.assumed,
        assumed_keys=draw.assumed_keys,
        unknown_factor=factor if factor in draw.assumed_keys else "",
        sources=draw.sources,
    )
