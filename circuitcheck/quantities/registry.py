"""The one unit registry: pint with our own short list of units, made when a unit is first asked for.

Within the program a value is a float in the SI unit of its dimension. Two deviations, since the books use them:
temperatures are in degrees Celsius, and a volt-ampere is kept apart from a watt by each key's own list of units.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from circuitcheck.quantities.conversions import CELSIUS, FACTORS

if TYPE_CHECKING:
    import pint

#: Unit definitions only. Inch, pound and the circular mil are exact by definition (1959 yard and pound agreement).
_DEFINITIONS = """
kilo- = 1e3 = k-
milli- = 1e-3 = m-
centi- = 1e-2 = c-
metre = [length] = m
kilogram = [mass] = kg
second = [time] = s
ampere = [current] = A
kelvin = [temperature]; offset: 0 = K
gram = kilogram / 1000 = g
minute = 60 * second = min
hour = 3600 * second = h
volt = kilogram * metre ** 2 / second ** 3 / ampere = V
watt = volt * ampere = W
volt_ampere = volt * ampere = VA
ohm = volt / ampere
litre = metre ** 3 / 1000 = L
inch = 0.0254 * metre = in
foot = 0.3048 * metre = ft
yard = 0.9144 * metre = yd
mil = inch / 1000
circular_mil = 0.7853981633974483 * mil ** 2 = cmil
pound = 0.45359237 * kilogram = lb
ounce = pound / 16 = oz
percent = 0.01
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 255.3722222222222
""".strip().splitlines()


@cache
def registry() -> pint.UnitRegistry[Any]:
    """The registry, made on first use: importing pint is the dearest part of reading a file."""
    import pint

    made: pint.UnitRegistry[Any] = pint.UnitRegistry(None, cache_folder=None)
    for definition in _DEFINITIONS:
        made.define(definition)
    return made


@cache
def registry_factor(unit: str) -> float:
    """How many SI units one ``unit`` is, by the registry. Raises: ValueError for an unknown unit."""
    known = registry()
    try:
        quantity = known.Quantity(1.0, known.Unit(unit))
    except Exception as error:
        raise ValueError(f"unknown unit {unit!r}") from error
    return float(quantity.to_base_units().magnitude)


def factor(unit: str) -> float:
    """How many SI units one ``unit`` is (``factor("ft")`` is 0.3048, ``factor("percent")`` 0.01, ``factor("")`` 1).

    Raises: ValueError for a temperature, which has an offset and so no factor, and for an unknown unit.
    """
    known = FACTORS.get(unit)
    if known is not None:
        return known
    if unit in CELSIUS:
        raise ValueError(f"{unit} has an offset and no factor: use to_si and in_unit")
    return registry_factor(unit)


def to_si(number: float, unit: str) -> float:
    """The number in the SI unit of its dimension; a temperature in degrees Celsius [degC].

    Temperatures are rounded to nine decimals, so that 140 degF is 60 degC and not a hair over a table's step.
    """
    scale = CELSIUS.get(unit)
    if scale is None:
        return number * factor(unit)
    return number if unit == "degC" else round(number * scale[0] + scale[1], 9)


def in_unit(value_si: float, unit: str) -> float:
    """The number of ``unit`` that an SI value is; the inverse of to_si."""
    known = FACTORS.get(unit)
    if known is not None:
        return value_si / known
    scale = CELSIUS.get(unit)
    if scale is None:
        return value_si / factor(unit)
    return value_si if unit == "degC" else round((value_si - scale[1]) / scale[0], 9)
