"""Values that are allowed and yet so far from what houses have that they may be slips of the pen.

A caution asks about each. It never changes an answer: the checks take the value as it is written.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from circuitcheck.circuit.model import Cable, Circuit, Load
from circuitcheck.quantities import Interval, normalised
from circuitcheck.tables.rulebook import Rulebook

#: Whether a number is more than the book's value of that name, both in SI.
_Over = Callable[[str, float], bool]


def slips_in(circuit: Circuit, book: Rulebook) -> tuple[str, ...]:
    """A sentence about each value that may be a slip, in the order of the file's sections."""

    def over(name: str, number: float) -> bool:
        limit = book.find_value(name)
        return limit is not None and number > limit.number

    return tuple(dict.fromkeys(_asked(circuit, over)))


def _asked(circuit: Circuit, over: _Over) -> Iterator[str]:
    site, date = circuit.site, circuit.job.date
    if site.wired is not None and date is not None and site.wired > int(date[:4]):
        yield f"The house was wired in {site.wired}, after the date of this job, {date}: a slip?"
    for box in circuit.boxes:
        if box.volume_m3 is not None and over("slip-box-volume", box.volume_m3.high):
            yield _ask(f'box "{box.id}"', "has", box.volume_m3, "in^3", "of room")
    for cable in circuit.cables:
        yield from _cable_slips(cable, over)
    for load in circuit.loads:
        yield from _load_slips(load, over)


def _cable_slips(cable: Cable, over: _Over) -> Iterator[str]:
    name = f'cable "{cable.id}"'
    if cable.length_m is not None and over("slip-cable-length", cable.length_m.high):
        yield _ask(name, "is", cable.length_m, "ft", "long")
    if cable.ambient_c is not None and over("slip-ambient", cable.ambient_c.high):
        yield _ask(name, "runs through air of", cable.ambient_c, "degC", "")
    if cable.conductors is not None and over("slip-cable-conductors", cable.conductors):
        yield f"Cable {name[6:]} has {cable.conductors} conductors in one sheath: a slip?"


def _load_slips(load: Load, over: _Over) -> Iterator[str]:
    if load.kind != "light":
        return
    name = f'light "{load.id}"'
    for rated, unit in ((load.power_w, "W"), (load.apparent_va, "VA")):
        if rated is not None and over("slip-light-power", rated.high):
            yield _ask(name, "takes", rated, unit, "for one light")
    if load.weight_kg is not None and over("slip-light-weight", load.weight_kg.high):
        yield _ask(name, "weighs", load.weight_kg, "lb", "")
    if over("slip-quantity", load.pieces):
        yield f"Light {name[6:]} stands for {load.pieces} lights: a slip?"


def _ask(name: str, does: str, value: Interval, unit: str, behind: str) -> str:
    text = f"{name[:1].upper()}{name[1:]} {does} {normalised(value, unit)} {behind}".rstrip()
    return f"{text}: a slip?"
