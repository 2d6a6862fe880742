"""Reading the texts of a circuit file, apart from the program's own reader: only the forms that are used here."""

import re

from tests.oracle.printed import FOOT

#: Unit -> factor to the unit that the second opinion reckons in (m, W, VA, A, V, ohm, in^3, W/m, ohm/m).
_UNITS = {"ft": FOOT, "W/ft": 1 / FOOT, "ohm/ft": 1 / FOOT}
_RANGE = re.compile(r"([\d.]+)(?: ([^\d\s]\S*))? to ([\d.]+) (\S+)")
_SINGLE = re.compile(r"([\d.]+)(?: (\S+))?")


def ends(text):
    """Least and greatest of ``"35 ft to 60 ft"``, ``"about 60 ft"`` (a quarter either way) or a single value."""
    text = text.removeprefix("measured ").removeprefix("label ")
    guessed = text.startswith("about ")
    text = text.removeprefix("about ")
    found = _RANGE.fullmatch(text)
    if found:
        low, high, unit = float(found[1]), float(found[3]), found[4]
    else:
        found = _SINGLE.fullmatch(text)
        low = high = float(found[1])
        unit = found[2]
    if guessed:
        low, high = 0.75 * low, 1.25 * high
    if unit == "degF":
        return (low - 32) / 1.8, (high - 32) / 1.8
    factor = _UNITS.get(unit, 1.0)
    return low * factor, high * factor


def written(sections):
    """The text of a circuit file with these sections."""
    lines = ["format = 1"]
    for name, body in sections.items():
        for part in body if isinstance(body, list) else [body]:
            lines.append(f"[[{name}]]" if isinstance(body, list) else f"[{name}]")
            lines += [f"{key} = {_literal(value)}" for key, value in part.items()]
    return "\n".join(lines) + "\n"


def _literal(value):
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return "[" + ", ".join(map(_literal, value)) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {_literal(one)}" for key, one in value.items()) + "}"
    return f'"{value}"' if isinstance(value, str) else str(value)
