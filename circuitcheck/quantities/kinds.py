"""Kinds of physical value: which units each takes, how it is shown, and what is plausible at all."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from functools import cached_property

from circuitcheck.quantities.registry import to_si


@dataclass(frozen=True)
class Kind:
    """A kind of physical value.

    name: with its article, for sentences ("a length"). unit: the unit in which it is shown. units: those it takes.
    suffix: what the SI unit is called in the names of attributes. example: how it is written.
    least, greatest: what is plausible at all, in ``unit``; a value outside is a slip of the pen.
    bare: whether a plain number may stand for it (shares and factors have no unit).
    adds_up: whether several equal pieces may be written as one, ``3 x 40 W``.
    """

    name: str
    unit: str
    units: tuple[str, ...]
    suffix: str
    example: str
    least: float
    greatest: float
    bare: bool = False
    adds_up: bool = False

    def within(self, least: float, greatest: float, example: str = "") -> Kind:
        """The same kind with other plausible ends [unit]."""
        return dataclasses.replace(self, least=least, greatest=greatest, example=example or self.example)

    @cached_property
    def least_si(self) -> float:
        """The least plausible value in SI."""
        return to_si(self.least, self.unit)

    @cached_property
    def greatest_si(self) -> float:
        """The greatest plausible value in SI."""
        return to_si(self.greatest, self.unit)

    @property
    def allowed(self) -> str:
        """What may be written, for messages."""
        if self.bare:
            return f"{self.name} from {self.least:g} to {self.greatest:g}, such as {self.example}"
        units = ", ".join(self.units[:-1]) + " or " + self.units[-1] if len(self.units) > 1 else self.units[0]
        return f'{self.name} in {units}, such as "{self.example}"'


KINDS: dict[str, Kind] = {
    "length": Kind("a length", "ft", ("ft", "in", "yd", "m", "cm", "mm"), "m", "38 ft", 0.01, 2000),
    "small length": Kind("a length", "in", ("in", "ft", "cm", "mm", "m"), "m", "1-1/4 in", 0, 1200),
    "volume": Kind("a volume", "in^3", ("in^3", "cm^3", "mL", "L"), "m3", "15.5 in^3", 0.5, 1000),
    "weight": Kind("a weight", "lb", ("lb", "oz", "kg", "g"), "kg", "3 lb", 0.01, 1000),
    "voltage": Kind("a voltage", "V", ("V",), "v", "120 V", 0.1, 600),
    "current": Kind("a current", "A", ("A", "mA"), "a", "0.6 A", 0, 200, adds_up=True),
    "power": Kind("a power", "W", ("W", "kW"), "w", "9 W", 0, 20000, adds_up=True),
    "apparent power": Kind("an apparent power", "VA", ("VA", "kVA"), "va", "75 VA", 0, 20000, adds_up=True),
    "resistance": Kind("a resistance", "ohm", ("ohm", "mohm"), "ohm", "0.10 ohm", 0, 100),
    "temperature": Kind("a temperature", "degC", ("degC", "degF", "K"), "c", "125 degF", -60, 260),
    "share": Kind("a number", "", ("", "percent"), "", "0.92", 0.01, 1, bare=True),
    "power per length": Kind("a power per length", "W/ft", ("W/ft", "W/m"), "w_per_m", "4.4 W/ft", 0.01, 200),
    "resistance per length": Kind(
        "a resistance per length",
        "ohm/ft",
        ("ohm/ft", "ohm/m", "mohm/ft", "mohm/m", "ohm/kft", "ohm/km"),
        "ohm_per_m",
        "0.02 ohm/ft",
        0,
        100,
    ),
}
