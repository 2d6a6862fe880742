"""What each load and driver draws from the branch circuit: amperes for the breaker, watts and vars for the drop.

Every rule that adds up the branch circuit asks here, so that a load weighs the same in all of them.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from circuitcheck.case import Amount, Case, Said, Things, once, said
from circuitcheck.case.parts import Driver, Load
from circuitcheck.findings import Source, exceeds
from circuitcheck.refs import Ref

RECEPTACLE = "receptacle"
HEATER = "heater"
FAN = "fan"
HARDWIRED = "hardwired"


class Draw(NamedTuple):
    """What all pieces of one load or driver draw, at its rating: current at nominal voltage [A], and P + jQ [W, var].

    ``written`` tells how the current comes about. ``planned``: a planning figure, since nobody said what is plugged in.
    ``by_lamp``: by the lamp that is in it today, which takes more than its label says.
    """

    part: Load | Driver
    amperes: float
    power: complex
    written: Said
    sources: tuple[Source, ...] = ()
    planned: bool = False
    by_lamp: bool = False

    @property
    def ref(self) -> Ref:
        """The load or driver."""
        return self.part.ref


def says_what_it_takes(load: Load) -> bool:
    """Whether the file says what the load draws (of a receptacle: what is plugged in)."""
    return load.power_w is not None or load.apparent_va is not None or load.current_a is not None


def draws(case: Case) -> tuple[Draw, ...]:
    """What every load and every driver draws, in file order."""
    return (*(load_draw(case, load) for load in case.loads), *(driver_draw(case, driver) for driver in case.drivers))


def draw_of(case: Case, part: Load | Driver) -> Draw:
    """What one load or driver draws."""
    return load_draw(case, part) if isinstance(part, Load) else driver_draw(case, part)


def _complex(watts: float, apparent_va: float) -> complex:
    """P + jQ of watts and volt-amperes; what the power factor leaves over counts as lagging vars."""
    return complex(watts, math.sqrt(max(0.0, apparent_va**2 - watts**2)))


def power_at(case: Case, part: Load | Driver, factor: float) -> complex:
    """What a load or driver would draw with another power factor, P + jQ [W, var]."""
    draw = _load_draw(case, part, factor) if isinstance(part, Load) else _driver_draw(case, part, factor)
    return draw.power


@once
def load_draw(case: Case, load: Load) -> Draw:
    """The draw of one load by its label, or of the lamp in it where that takes more.

    What is in it counts so of whatever it turns out to be: of a receptacle too, beside the planning figure.
    """
    return _load_draw(case, load)


def _factor(part: Load | Driver, factor: float | None) -> float:
    return part.power_factor if factor is None else factor


def _load_draw(case: Case, load: Load, other: float | None = None) -> Draw:
    """``other``: a power factor in the place of its own."""
    rated = _rated_draw(case, load, other)
    if load.fitted_w is None:
        return rated
    volts, pieces = case.supply.voltage_v, load.quantity
    factor = _factor(load, other)
    apparent = load.fitted_w / factor
    if not exceeds(pieces * apparent / volts, rated.amperes):
        return rated
    written = said(
        _times(load) + "{each} / power factor {factor} / {volts}",
        each=Amount(load.fitted_w, "W"),
        factor=Amount(factor),
        volts=Amount(volts, "V"),
    )
    return Draw(load, pieces * apparent / volts, pieces * _complex(load.fitted_w, apparent), written, by_lamp=True)


def _times(load: Load) -> str:
    return f"{load.quantity} x " if load.quantity != 1 else ""


def _rated_draw(case: Case, load: Load, other: float | None) -> Draw:
    """The draw of one load by its label: its volt-amperes count first, then its amperes, then its watts.

    A receptacle for which nobody says what is plugged in counts with the book's planning figure.
    """
    volts, pieces, times = case.supply.voltage_v, load.quantity, _times(load)
    if load.apparent_va is not None:
        apparent = load.apparent_va
        watts = min(load.power_w, apparent) if load.power_w is not None else apparent * _factor(load, other)
        written = said(times + "{each} / {volts}", each=Amount(apparent, "VA"), volts=Amount(volts, "V"))
        return Draw(load, pieces * apparent / volts, pieces * _complex(watts, apparent), written)
    if load.current_a is not None:
        apparent = load.current_a * volts
        written = said(times + "{each}", each=Amount(load.current_a, "A"))
        watts = apparent * _factor(load, other)
        return Draw(load, pieces * load.current_a, pieces * _complex(watts, apparent), written)
    if load.power_w is not None:
        factor = _factor(load, other)
        apparent = load.power_w / factor
        written = said(
            times + "{each} / power factor {factor} / {volts}",
            each=Amount(load.power_w, "W"),
            factor=Amount(factor),
            volts=Amount(volts, "V"),
        )
        return Draw(load, pieces * apparent / volts, pieces * _complex(load.power_w, apparent), written)
    if load.kind == RECEPTACLE:
        planning = case.book.value("receptacle-planning-load")
        written = said(
            times + "{each} / {volts} (a planning figure; what is plugged in is not given)",
            each=Amount(planning.number, "VA"),
            volts=Amount(volts, "V"),
        )
        amperes = pieces * planning.number / volts
        return Draw(load, amperes, complex(pieces * planning.number), written, (planning.source,), planned=True)
    return Draw(load, 0.0, 0j, said("nothing is known of it"))


@once
def driver_draw(case: Case, driver: Driver) -> Draw:
    """The draw of a driver at full rating.

    The amperes on its label count first, since the code counts a driver by them and not by the watts of its lamps; then
    the watts in, then the output rating divided by the efficiency.

    Source: NFPA 70, 220.18(B).
    """
    return _driver_draw(case, driver)


def _driver_draw(case: Case, driver: Driver, other: float | None = None) -> Draw:
    """``other``: a power factor in the place of its own."""
    counted = case.book.value("driver-counted-by-input-rating").source
    volts = case.supply.voltage_v
    watts = driver.input_power_w
    steps = "{watts} in"
    things: Things = {"volts": Amount(volts, "V")}
    if watts is None:
        out = driver.output_power_w  # once it is known its efficiency counts, so whoever asks rests on it already
        if driver.efficiency is not None:
            watts = out / driver.efficiency
            steps = "{out} out / efficiency {efficiency}"
            things |= {"out": Amount(out, "W"), "efficiency": Amount(driver.efficiency)}
    if driver.input_current_a is not None:
        apparent = driver.input_current_a * volts
        written = said("{amperes} on its label", amperes=Amount(driver.input_current_a, "A"))
        # No more watts than volt-amperes can flow in; the label's amperes bound them.
        watts = min(watts, apparent) if watts is not None else apparent * _factor(driver, other)
        return Draw(driver, driver.input_current_a, _complex(watts, apparent), written, (counted,))
    if watts is None:
        return Draw(driver, 0.0, 0j, said("nothing is known of it"), (counted,))
    factor = _factor(driver, other)
    apparent = watts / factor
    things |= {"watts": Amount(watts, "W"), "factor": Amount(factor)}
    written = said(steps + " / power factor {factor} / {volts}", **things)
    return Draw(driver, apparent / volts, _complex(watts, apparent), written, (counted,))


def is_continuous(case: Case, part: Load | Driver) -> bool:
    """Whether it stays on for three hours or more; a fixed space heater counts so whatever anybody says.

    Source: NFPA 70, 424.4(B) (2017: 424.3(B)), 210.20(A).
    """
    return part.continuous or _is_fixed_heater(case, part)


def _is_fixed_heater(case: Case, part: Load | Driver) -> bool:
    return (
        isinstance(part, Load)
        and part.kind == HEATER
        and part.connection == HARDWIRED
        and case.book.value("space-heater-continuous").yes
    )


def motor_quarter(case: Case, draw: Draw, kind: str | None = None) -> float:
    """A quarter of one motor of a load [A], where it is fastened in place and can be over 1/8 hp; else nothing.

    ``kind``: what it counts as, if not as it is in this case. Fans are the motors that a file tells apart. What a motor
    takes in is never less than what its shaft gives.

    Source: NFPA 70, 220.18(A) (2023: 220.11(A)), 430.24.
    """
    part = draw.part
    if not isinstance(part, Load) or (kind or part.kind) != FAN or not _may_be_large_motor(case, part):
        return 0.0
    return (case.book.value("largest-motor-factor").number - 1.0) * draw.amperes / part.quantity


@once
def _largest_motor(case: Case) -> Load | None:
    """Of the motors that do not count as continuous, the largest; None where there is none over 1/8 hp.

    A continuous motor counts its quarter already. It does not take away that of another motor: else a fan that turns
    out to be larger would make the sum smaller.
    """
    quarters = {load: motor_quarter(case, load_draw(case, load)) for load in case.loads if load.kind == FAN}
    motors = [load for load, quarter in quarters.items() if quarter and not is_continuous(case, load)]
    return max(motors, key=quarters.__getitem__, default=None)


def _may_be_large_motor(case: Case, load: Load) -> bool:
    if load.quantity < 1 or load.connection != HARDWIRED:
        return False
    each = abs(load_draw(case, load).power) / load.quantity
    if load.power_w is not None:
        each = min(each, load.power_w)
    return exceeds(each, case.book.value("small-motor-power").number)


def motor_surcharge(case: Case, draw: Draw) -> float:
    """What a load counts on top for the breaker because its motor is the largest that is not continuous [A]."""
    quarter = motor_quarter(case, draw)
    return quarter if quarter and _largest_motor(case) is draw.part else 0.0


def line_current(case: Case, draw: Draw) -> float:
    """What a load counts against the breaker [A]: a quarter more where it is continuous or the largest motor.

    Never both factors.
    """
    if is_continuous(case, draw.part):
        return draw.amperes * case.book.value("continuous-load-factor").number
    return draw.amperes + motor_surcharge(case, draw)


def count_sources(case: Case, draw: Draw) -> tuple[Source, ...]:
    """Where the factor stands with which a load counts."""
    if _is_fixed_heater(case, draw.part):
        return (case.book.value("space-heater-continuous").source, case.book.value("space-heater-factor").source)
    if motor_surcharge(case, draw):
        return (case.book.value("largest-motor-factor").source, case.book.value("small-motor-power").source)
    return ()
