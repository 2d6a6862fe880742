"""What the registry says about the units in daily use, written down: starting it costs more than a whole check.

Every number here is the registry's own; a test compares them. A unit that is not listed is asked for.
"""

from __future__ import annotations

#: How many SI units one of these is.
FACTORS: dict[str, float] = {
    "": 1.0,
    "ft": 0.3048,
    "in": 0.0254,
    "yd": 0.9144,
    "m": 1.0,
    "cm": 0.01,
    "mm": 0.001,
    "in^3": 1.6387064e-05,
    "cm^3": 1.0000000000000002e-06,
    "mL": 1e-06,
    "L": 0.001,
    "lb": 0.45359237,
    "oz": 0.028349523125,
    "kg": 1.0,
    "g": 0.001,
    "V": 1.0,
    "A": 1.0,
    "mA": 0.001,
    "W": 1.0,
    "kW": 1000.0,
    "VA": 1.0,
    "kVA": 1000.0,
    "ohm": 1.0,
    "mohm": 0.001,
    "W/ft": 3.280839895013123,
    "W/m": 1.0,
    "ohm/ft": 3.280839895013123,
    "ohm/m": 1.0,
    "mohm/ft": 0.003280839895013123,
    "mohm/m": 0.001,
    "ohm/kft": 0.003280839895013123,
    "ohm/km": 0.001,
    "percent": 0.01,
    "h": 3600.0,
    "cmil": 5.067074790974977e-10,
    "kcmil": 5.067074790974977e-07,
    "mm^2": 1e-06,
    "1/K": 1.0,
}

#: Temperatures as degrees Celsius: multiply, then add.
CELSIUS: dict[str, tuple[float, float]] = {
    "degC": (1.0, 0.0),
    "degF": (5 / 9, -160 / 9),
    "K": (1.0, -273.15),
}
