"""How volts, percent and stretches of the branch circuit are written in findings about voltage drop."""

from __future__ import annotations

from circuitcheck.quantities import Interval, shown
from circuitcheck.rules.capacity.branch_state import Stretch
from circuitcheck.rules.switch_loops import SWITCH_LOOP
from circuitcheck.text import shown_number


def span(low: float, high: float, unit: str) -> str:
    """``2.4 V``, or ``1.8 to 2.4 V`` where the two ends show differently."""
    first, last = shown_number(low), shown_number(high)
    return f"{last} {unit}" if first == last else f"{first} to {last} {unit}"


def percent(value: float) -> str:
    """``2.4 %``."""
    return f"{shown_number(value)} %"


def volts(low: float, high: float) -> str:
    """Volts that arrive with four digits, since the loss is a small part of them."""
    first, last = shown_number(low, 4), shown_number(high, 4)
    return f"{first} V" if first == last else f"{first} to {last} V"


def listed(keys: tuple[str, ...]) -> str:
    """The first three keys in words (``the length of feed``) and how many more."""
    words = [_in_words(key) for key in keys[:3]]
    return ", ".join(words) + (f" and {len(keys) - 3} more" if len(keys) > 3 else "")


def _in_words(key: str) -> str:
    """``cable.feed.length`` as ``the length of feed``."""
    place, _, name = key.rpartition(".")
    subject = place.partition(".")[2]
    return f"the {name.replace('_', ' ')} of {subject or place}"


def stretch_name(stretch: Stretch) -> str:
    """The cable's id, with a word where it is a switch loop that the load's current runs through."""
    names = " and ".join(cable.id for cable in stretch.cables)
    return f"{names} (switch loop)" if stretch.cables[-1].carries == SWITCH_LOOP else names


def stretch_line(stretch: Stretch) -> str:
    """What the stretch is, its impedance there and back, its current and its loss at the worst end."""
    cable = stretch.cables[-1]
    conductor = stretch.impedance.conductor
    kind = f"{cable.size}, {conductor.material}, {conductor.stranding}" if conductor is not None else f"{cable.size}"
    length = " and ".join(_length(one.length_m) for one in stretch.cables if one.length_m is not None)
    ohms = stretch.impedance.high
    return (
        f"{stretch_name(stretch)} ({kind}, {length}): R {shown_number(ohms.real)} ohm and "
        f"X {shown_number(ohms.imag)} ohm there and back, {shown_number(stretch.current_a)} A, "
        f"{shown_number(stretch.own_loss_v)} V"
    )


def _length(length_m: Interval) -> str:
    """The length at its worst end, in feet unless it was written in metres."""
    if length_m.exact and length_m.text:
        return length_m.text
    metric = length_m.text.rstrip().endswith((" m", " cm", " mm"))
    return shown(length_m.high, "m" if metric else "ft")
