"""What a driver draws from the branch circuit: volt-amperes for the breaker, watts for the voltage drop.

Shared by every rule that adds up the branch circuit, so that a driver weighs the same in all of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.circuit.model import Driver, Supply
from circuitcheck.findings import Source, merge_sources
from circuitcheck.quantities import Interval
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

#: Names of the single values that ``driver_draw`` may cite; a rule that calls it adds them to its ``uses``.
DRIVER_DRAW_USES = (
    "value:driver-counted-by-input-rating",
    "value:unknown-driver-efficiency",
    "value:unknown-power-factor",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DriverDraw:
    """The two ends of what a driver draws at full rating: apparent power [VA] and power [W].

    All four are None when the file does not tell enough; ``needs`` then names what to find out.
    ``assumed_keys`` are the keys for which the worst of the table was taken, ``assumed`` says so in words.
    """

    low_va: float | None = None
    high_va: float | None = None
    low_w: float | None = None
    high_w: float | None = None
    working: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()


def _span(low: float, high: float, unit: str) -> str:
    if shown_number(low) == shown_number(high):
        return f"{shown_number(high)} {unit}"
    return f"{shown_number(low)} to {shown_number(high)} {unit}"


def _usable_share(share: Interval | None) -> Interval | None:
    """A share of one (efficiency, power factor) that can be divided by, else None."""
    return share if share is not None and share.low > 0 else None


def driver_draw(driver: Driver, supply: Supply, book: Rulebook) -> DriverDraw:
    """What ``driver`` draws when fully loaded, counted at the nominal supply voltage.

    The ampere rating on the label counts first, since the code counts a driver by it and not by the watts of its lamps;
    then the input watts, then the output rating divided by efficiency. An efficiency or power factor that is not given
    is taken between one and the worst of the table.

    Source: NFPA 70, 220.18(B).
    """
    counted = book.value("driver-counted-by-input-rating").source
    place = f"driver.{driver.id}"
    factor = _usable_share(driver.power_factor)
    assumed: list[str] = []
    assumed_keys: list[str] = []
    sources: list[Source] = [counted]
    working: list[str] = []

    def take_unknown_power_factor() -> Interval:
        worst = book.value("unknown-power-factor")
        sources.append(worst.source)
        assumed.append(
            f"{driver.id}: power factor not given, so anything from {shown_number(worst.number)} to 1 is counted"
        )
        assumed_keys.append(f"{place}.power_factor")
        return Interval(worst.number, 1.0)

    watts = driver.input_power_w
    if watts is not None:
        working.append(f"{driver.id}: label, {_span(watts.low, watts.high, 'W')} in")
    elif driver.output_power_w is not None and (
        driver.input_current_a is None or _usable_share(driver.efficiency) is not None
    ):
        rating = driver.output_power_w
        efficiency = _usable_share(driver.efficiency)
        if efficiency is None:
            worst = book.value("unknown-driver-efficiency")
            sources.append(worst.source)
            assumed.append(
                f"{driver.id}: efficiency not given, so anything from {shown_number(worst.number)} to 1 is counted"
            )
            assumed_keys.append(f"{place}.efficiency")
            efficiency = Interval(worst.number, 1.0)
        watts = Interval(rating.low / efficiency.high, rating.high / efficiency.low)
        working.append(
            f"{driver.id}: {_span(rating.low, rating.high, 'W')} out / efficiency "
            f"{_span(efficiency.low, efficiency.high, '').strip()} = {_span(watts.low, watts.high, 'W')} in"
        )

    if driver.input_current_a is not None:
        amperes = driver.input_current_a
        volts = supply.voltage_v
        low_va, high_va = amperes.low * volts.low, amperes.high * volts.high
        working.append(
            f"{driver.id}: {_span(amperes.low, amperes.high, 'A')} on its label x {_span(volts.low, volts.high, 'V')} "
            f"= {_span(low_va, high_va, 'VA')}"
        )
        if watts is None:
            factor = factor or take_unknown_power_factor()
            watts = Interval(low_va * factor.low, high_va * factor.high)
            working.append(
                f"{driver.id}: x power factor {_span(factor.low, factor.high, '').strip()} "
                f"= {_span(watts.low, watts.high, 'W')}"
            )
        else:
            # No more watts than volt-amperes can flow in; the label's amperes already bound them.
            watts = Interval(min(watts.low, high_va), min(watts.high, high_va))
    elif watts is not None:
        factor = factor or take_unknown_power_factor()
        low_va, high_va = watts.low / factor.high, watts.high / factor.low
        working.append(
            f"{driver.id}: {_span(watts.low, watts.high, 'W')} / power factor "
            f"{_span(factor.low, factor.high, '').strip()} = {_span(low_va, high_va, 'VA')}"
        )
    else:
        return DriverDraw(sources=(counted,), needs=(f"{place}.input_current",))

    return DriverDraw(
        low_va=low_va,
        high_va=high_va,
        low_w=watts.low,
        high_w=watts.high,
        working=tuple(working),
        sources=merge_sources(sources),
        assumed=tuple(assumed),
        assumed_keys=tuple(assumed_keys),
    )
