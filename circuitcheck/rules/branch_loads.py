"""What each load and driver draws from the branch circuit, in volt-amperes at nominal voltage.

Shared by every rule that adds up the branch circuit, so that a load weighs the same in all of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from circuitcheck.circuit.model import Circuit, Load, Supply
from circuitcheck.findings import Source, merge_sources
from circuitcheck.quantities import Interval
from circuitcheck.rules.driver_draw import DRIVER_DRAW_USES, driver_draw
from circuitcheck.rules.once import once
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

RECEPTACLE = "receptacle"
HEATER = "heater"

#: Names of the single values that ``branch_draws`` may cite; a rule that calls it adds them to its ``uses``.
BRANCH_LOAD_USES = (*DRIVER_DRAW_USES, "value:receptacle-planning-load", "value:continuous-load-factor")


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """What one entry (all its pieces) draws: apparent power between ``low_va`` and ``high_va`` [VA].

    Both are zero where the file does not tell; ``needs`` then names what to find out. ``range_keys`` are the keys that
    make the two ends differ. ``continuous`` None: nobody said. ``fitted_va`` is what the lamps in it today draw.
    """

    section: str
    id: str
    box: str
    kind: str | None
    added: bool
    continuous: bool | None
    low_va: float
    high_va: float
    written: str = ""
    fitted_va: float | None = None
    range_keys: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """The entry as the file names it: ``load.attic lamp``."""
        return f"{self.section}.{self.id}"


@dataclass(frozen=True, slots=True)
class Amperes:
    """A current [A] known to lie between ``low`` and ``high``, and ``worst`` where loads that nobody calls either
    continuous or not are taken as continuous. Continuous loads stand in all three with their factor.
    """

    low: float = 0.0
    high: float = 0.0
    worst: float = 0.0

    def plus(self, other: Amperes) -> Amperes:
        """Both currents together."""
        return Amperes(self.low + other.low, self.high + other.high, self.worst + other.worst)


@once
def branch_draws(circuit: Circuit, book: Rulebook) -> tuple[Draw, ...]:
    """What every load and every driver draws, in file order."""
    return tuple(_draws(circuit, book))


def amperes_of(draw: Draw, supply: Supply, factor: float) -> Amperes:
    """The current of one draw at nominal voltage [A]; ``factor`` is what continuous loads are multiplied by."""
    low, high = draw.low_va / supply.voltage_v.high, draw.high_va / supply.voltage_v.low
    if draw.continuous is None:
        return Amperes(low, high, factor * high)
    times = factor if draw.continuous else 1.0
    return Amperes(times * low, times * high, times * high)


def total_amperes(draws: Iterable[Draw], supply: Supply, factor: float) -> Amperes:
    """All currents together [A]."""
    low = high = worst = 0.0
    for draw in draws:
        one = amperes_of(draw, supply, factor)
        low, high, worst = low + one.low, high + one.high, worst + one.worst
    return Amperes(low, high, worst)


def span(low: float, high: float, unit: str) -> str:
    """Two ends for a sentence: ``4.5 A``, or ``4.5 A to 6 A`` where they differ."""
    last = shown_number(high)
    first = last if low == high else shown_number(low)
    return f"{last} {unit}".rstrip() if first == last else f"{first} to {last} {unit}".rstrip()


def _draws(circuit: Circuit, book: Rulebook) -> Iterator[Draw]:
    for load in circuit.loads:
        yield _load_draw(load, circuit.supply, book)
    for driver in circuit.drivers:
        drawn = driver_draw(driver, circuit.supply, book)
        known = drawn.low_va is not None and drawn.high_va is not None
        yield Draw(
            section="driver",
            id=driver.id,
            box=driver.box,
            kind="driver",
            added=driver.origin != "existing",
            continuous=driver.continuous,
            low_va=drawn.low_va or 0.0,
            high_va=drawn.high_va or 0.0,
            written="; ".join(line.removeprefix(f"{driver.id}: ") for line in drawn.working),
            range_keys=_driver_range_keys(driver.id, drawn.assumed_keys, known and drawn.low_va != drawn.high_va),
            sources=drawn.sources,
            needs=drawn.needs,
            assumed=drawn.assumed,
            assumed_keys=drawn.assumed_keys,
        )


def _driver_range_keys(driver_id: str, assumed_keys: tuple[str, ...], ranged: bool) -> tuple[str, ...]:
    return (assumed_keys or (f"driver.{driver_id}.input_current",)) if ranged else ()


def _load_draw(load: Load, supply: Supply, book: Rulebook) -> Draw:
    """The draw of one load; the label's volt-amperes count first, then its amperes, then its watts."""
    place = f"load.{load.id}"
    low = high = 0.0
    written = ""
    fitted: float | None = None
    range_keys: list[str] = []
    sources: tuple[Source, ...] = ()
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    factor, factor_source = _power_factor(load, book)
    pieces = f"{load.quantity} x " if load.quantity != 1 else ""
    if load.apparent_va is not None:
        low, high = load.apparent_va.low, load.apparent_va.high
        written = f"{pieces}{span(low, high, 'VA')}"
        range_keys += _ranged(load.apparent_va, f"{place}.apparent")
    elif load.current_a is not None:
        low, high = load.current_a.low * supply.voltage_v.low, load.current_a.high * supply.voltage_v.high
        written = (
            f"{pieces}{span(load.current_a.low, load.current_a.high, 'A')} "
            f"x {span(supply.voltage_v.low, supply.voltage_v.high, 'V')}"
        )
        range_keys += _ranged(load.current_a, f"{place}.current")
    elif load.power_w is not None:
        low, high = load.power_w.low / factor.high, load.power_w.high / factor.low
        written = f"{pieces}{span(load.power_w.low, load.power_w.high, 'W')} / power factor {_factor_text(factor)}"
        range_keys += _ranged(load.power_w, f"{place}.power")
        range_keys += _ranged(factor, f"{place}.power_factor")
        if factor_source is not None:
            sources = (factor_source,)
            assumed = (
                f"{load.id}: power factor not given, so anything from {shown_number(factor.low)} to 1 is counted.",
            )
            assumed_keys = (f"{place}.power_factor",)
    elif load.kind == RECEPTACLE:
        planning = book.value("receptacle-planning-load")
        low = high = planning.number
        written = f"{pieces}{shown_number(low)} VA (a planning figure, since nobody said what is plugged in)"
        sources = (planning.source,)
        assumed = (f"{load.id}: counted at {shown_number(low)} VA each, a planning figure and not a measured load.",)
        assumed_keys = (f"{place}.power",)
    else:
        needs = (f"{place}.power",)
    if load.fitted_w is not None:
        fitted = load.fitted_w.high / factor.low * load.quantity
        if not needs:  # a lamp above the label counts as it is
            low, high = max(low, load.fitted_w.low / factor.high), max(high, load.fitted_w.high / factor.low)
    return Draw(
        section="load",
        id=load.id,
        box=load.box,
        kind=load.kind,
        added=load.origin != "existing",
        continuous=_is_continuous(load),
        low_va=low * load.quantity,
        high_va=high * load.quantity,
        written=written,
        fitted_va=fitted,
        range_keys=tuple(range_keys),
        sources=sources,
        needs=needs,
        assumed=assumed,
        assumed_keys=assumed_keys,
    )


def _is_continuous(load: Load) -> bool | None:
    """A fixed space heater counts as continuous whatever anybody says; None where its connection is unknown."""
    if load.kind != HEATER or load.continuous or load.connection == "cord":
        return load.continuous
    return True if load.connection == "hardwired" else None


def _power_factor(load: Load, book: Rulebook) -> tuple[Interval, Source | None]:
    """The power factor as given, else between the worst of the table and one (a heater: one), with that source."""
    given = load.power_factor
    if given is not None and given.low > 0:
        return given, None
    if load.kind == HEATER:
        return Interval(1.0, 1.0), None
    worst = book.value("unknown-power-factor")
    return Interval(worst.number, 1.0), worst.source


def _factor_text(factor: Interval) -> str:
    return span(factor.low, factor.high, "")


def _ranged(interval: Interval, key: str) -> tuple[str, ...]:
    return () if interval.exact else (key,)


def draw_sources(draws: Iterable[Draw]) -> tuple[Source, ...]:
    """The sources of all draws, each once."""
    return merge_sources(*(draw.sources for draw in draws))
