"""What a round conductor is: its size, its resistance, and how heat changes that. Plain floats, no tables.

The shipped tables hold the resistances that a book prints. These formulas give the same numbers from the two standards
behind them, for sizes that no table prints and for checking the tables that do.
"""

from __future__ import annotations

import math

#: Resistivity of annealed copper at 20 degC [ohm m]: conductivity 58 MS/m, 100 percent IACS, exact by definition.
#: Source: IEC 60028.
COPPER_RESISTIVITY_OHM_M = 1.0 / 58.0e6

#: Change of copper's resistance per kelvin, as a share of its resistance at 20 degC [1/K].
#: Source: IEC 60028.
COPPER_COEFFICIENT_PER_K = 0.00393


def awg_diameter_m(gauge: int) -> float:
    """Diameter of a solid American Wire Gage conductor [m]; 1/0 is gauge 0, 2/0 is -1, 4/0 is -3.

    36 AWG is 0.005 in, 4/0 is 0.46 in, and 39 equal ratios lie between.

    Source: ASTM B258.
    """
    return 0.005 * math.pow(92.0, (36 - gauge) / 39) * 0.0254


def awg_area_m2(gauge: int) -> float:
    """Area of metal of an American Wire Gage conductor [m2], solid or stranded. Source: ASTM B258."""
    return math.pi / 4.0 * awg_diameter_m(gauge) ** 2


def resistance_ohm_per_m(area_m2: float, resistivity_ohm_m: float, lay: float = 0.0) -> float:
    """Direct-current resistance of a conductor [ohm/m] at the temperature of ``resistivity_ohm_m``.

    ``lay`` is how much longer the strands are than the conductor, as a share (0 for solid).

    Raises: ValueError when the area is not more than zero.
    """
    if area_m2 <= 0.0:
        raise ValueError("a conductor needs an area")
    return resistivity_ohm_m * (1.0 + lay) / area_m2


def coefficient_at(coefficient_per_k: float, from_c: float, to_c: float) -> float:
    """The temperature coefficient [1/K] restated from one reference temperature to another [degC].

    Resistance is one straight line over temperature, so the same slope is a smaller share of a larger resistance.
    """
    return coefficient_per_k / (1.0 + coefficient_per_k * (to_c - from_c))


def resistance_at(resistance: float, coefficient_per_k: float, from_c: float, to_c: float) -> float:
    """A resistance known at ``from_c``, at ``to_c`` [degC]; ``coefficient_per_k`` is stated at ``from_c``.

    Raises: ValueError for a temperature so low that the straight line would give no resistance at all.
    """
    factor = 1.0 + coefficient_per_k * (to_c - from_c)
    if factor <= 0.0:
        raise ValueError("the straight line of resistance over temperature does not reach down there")
    return resistance * factor
