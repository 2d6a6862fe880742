"""Values of the circuit as cells that say how they are known: measured, read from a label, guessed, or not at all."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Protocol

from circuitcheck.circuit.model import Circuit
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Known
from circuitcheck.quantities import How, Interval, normalised

_HOW: dict[How, Known] = {
    How.STATED: Known.STATED,
    How.MEASURED: Known.MEASURED,
    How.LABEL: Known.LABEL,
    How.GUESS: Known.GUESS,
}

#: The word in front of a value that says how it is known; the cell says it beside the value instead.
_WORD = re.compile(r"^(?:measured|label)\s+", re.IGNORECASE)

UNKNOWN = Cell("", Known.UNKNOWN)
BLANK = Cell("", blank=True)


class _Part(Protocol):
    """Any part of the circuit: its ``known_by`` says how its words and yes/no are known."""

    @property
    def known_by(self) -> Mapping[str, str]: ...


def written(value: Interval, unit: str) -> str:
    """The value as its owner wrote it, without the word on how it is known."""
    return typeset(_WORD.sub("", value.text.strip()) if value.text.strip() else normalised(value, unit))


def physical(value: Interval | None, unit: str) -> Cell:
    """A physical value; ``unit`` is used where nobody wrote one."""
    if value is None:
        return UNKNOWN
    return Cell(written(value, unit), _HOW[value.how])


def word(part: _Part, key: str, value: str | int | None) -> Cell:
    """A word or a count under its key in the file."""
    if value is None or value == "":
        return UNKNOWN
    return Cell(str(value), known_by(part, key))


def circuit_rows(circuit: Circuit) -> tuple[tuple[str, Cell], ...]:
    """Where it is and which circuit, as rows of facts; what the file does not say is left to be filled in."""
    job, supply = circuit.job, circuit.supply
    breaker = physical(supply.breaker_a, "A")
    return (
        ("Place", word(job, "place", job.place) if job.place else BLANK),
        ("Breaker or fuse", Cell(f"{breaker.text} {supply.device or ''}".rstrip(), breaker.known)),
        ("Panel", word(supply, "panel", supply.panel) if supply.panel else BLANK),
        ("Slot", word(supply, "slot", supply.slot) if supply.slot else BLANK),
    )


def surveyed_row(circuit: Circuit) -> tuple[str, Cell]:
    """When somebody looked, as a row of facts."""
    return ("Date surveyed", word(circuit.job, "date", circuit.job.date) if circuit.job.date else BLANK)


def yes_no(part: _Part, key: str, value: bool | None) -> Cell:
    """A yes or no."""
    return word(part, key, None if value is None else "yes" if value else "no")


def known_by(part: _Part, key: str) -> Known:
    """How the entry under that key is known."""
    said = part.known_by.get(key)
    return _HOW[How(said)] if said in set(How) else Known.STATED


def least_known(*cells: Cell) -> Known:
    """How a value that is made of several is known: as badly as the worst of them, plain statements apart."""
    order = (Known.UNKNOWN, Known.GUESS, Known.STATED, Known.LABEL, Known.MEASURED)
    return min((cell.known for cell in cells), key=order.index, default=Known.STATED)
