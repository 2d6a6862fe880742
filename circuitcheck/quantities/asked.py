"""Values as pint quantities, for who asks for them; the program itself keeps floats."""

from __future__ import annotations

from typing import TYPE_CHECKING

from circuitcheck.quantities.registry import in_unit, registry

if TYPE_CHECKING:
    from typing import TypeAlias

    import pint

    Quantity: TypeAlias = pint.Quantity[float]

#: Units of findings that count things.
_COUNTED = frozenset({"cables", "conductors", "lamps", "lights", "outlets"})


def quantity(value_si: float, unit: str) -> Quantity:
    """An SI value (a temperature in degC) as a quantity in this unit."""
    return quantity_in(in_unit(value_si, unit) if unit else value_si, unit)


def quantity_in(number: float, unit: str) -> Quantity:
    """A number of this unit as a quantity; what counts things, or has no unit, is dimensionless."""
    known = registry()
    return known.Quantity(number, known.Unit("" if unit in _COUNTED else unit))
