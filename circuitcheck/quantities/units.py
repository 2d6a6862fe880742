"""How people write units. The names on the left are those of the registry; nothing else reaches it."""

from __future__ import annotations

_WRITTEN: dict[str, tuple[str, ...]] = {
    "ft": ("ft", "foot", "feet", "'"),
    "in": ("in", "inch", "inches", '"', "''"),
    "yd": ("yd", "yard", "yards"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "in^3": ("in^3", "in3", "cu in", "cu inch", "cubic in", "cubic inch", "cubic inches"),
    "cm^3": ("cm^3", "cm3", "cc", "cubic cm"),
    "mL": ("ml", "millilitre", "millilitres", "milliliter", "milliliters"),
    "L": ("l", "litre", "litres", "liter", "liters"),
    "lb": ("lb", "lbs", "pound", "pounds"),
    "oz": ("oz", "ounce", "ounces"),
    "kg": ("kg", "kilogram", "kilograms"),
    "g": ("g", "gram", "grams"),
    "V": ("v", "volt", "volts"),
    "A": ("a", "amp", "amps", "ampere", "amperes"),
    "mA": ("ma", "milliamp", "milliamps"),
    "W": ("w", "watt", "watts"),
    "kW": ("kw", "kilowatt", "kilowatts"),
    "VA": ("va", "volt-ampere", "volt-amperes", "volt ampere", "volt amperes"),
    "kVA": ("kva",),
    "ohm": ("ohm", "ohms", "ω"),
    "mohm": ("mohm", "mohms", "milliohm", "milliohms", "mω"),
    "W/ft": ("w/ft", "w per ft", "w/foot", "watts per foot", "w per foot", "watt/ft"),
    "W/m": ("w/m", "w per m", "w/metre", "w/meter", "watts per metre", "watts per meter", "watt/m"),
    "ohm/ft": ("ohm/ft", "ohms/ft", "ω/ft", "ohm per ft", "ohm per foot", "ohms per foot"),
    "ohm/m": ("ohm/m", "ohms/m", "ω/m", "ohm per m", "ohms per metre", "ohms per meter"),
    "mohm/ft": ("mohm/ft", "mω/ft"),
    "mohm/m": ("mohm/m", "mω/m"),
    "ohm/kft": ("ohm/kft", "ohms/kft", "ω/kft", "ohm/1000ft", "ohm/1000 ft", "ohms/1000 ft"),
    "ohm/km": ("ohm/km", "ohms/km", "ω/km"),
    "degC": ("degc", "°c", "c", "deg c", "degrees c", "celsius", "degrees celsius"),
    "degF": ("degf", "°f", "f", "deg f", "degrees f", "fahrenheit", "degrees fahrenheit"),
    "K": ("kelvin",),
    "percent": ("%", "percent", "per cent"),
}

#: Every spelling, in lower case, with the registry's name for it.
SPELLINGS: dict[str, str] = {spelling: unit for unit, spellings in _WRITTEN.items() for spelling in spellings}

#: Two units that are written together, and how many of the second make one of the first.
COMPOUNDS: dict[tuple[str | None, str | None], float] = {("ft", "in"): 12.0, ("lb", "oz"): 16.0}

#: Capital M stands for a million: never taken for a thousandth or for a metre.
_MILLIONS = frozenset({"m", "ma", "mohm", "mohms", "mω", "mω/ft", "mω/m", "mohm/ft", "mohm/m", "ml"})


def spelled_unit(word: str) -> str | None:
    """The registry's name for a unit as people write it, or None. Case does not matter, save for capital M and K."""
    if word == "K":
        return "K"
    folded = word.rstrip(".").replace(". ", " ").replace(" /", "/").replace("/ ", "/").lower()
    if word[:1] == "M" and folded in _MILLIONS:
        return None
    return SPELLINGS.get(folded)
