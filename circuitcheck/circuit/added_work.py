"""What of a circuit is new, by what its file says: an origin that is only guessed may be either."""

from __future__ import annotations

from circuitcheck.circuit.model import Box, Cable, Circuit, Driver, Load
from circuitcheck.quantities import How


def has_added_work(circuit: Circuit) -> bool:
    """Whether anything at all on the branch circuit is added."""
    return any(part.is_added for part in _parts(circuit))


def has_certain_work(circuit: Circuit) -> bool:
    """Whether something is added of which that is more than a guess."""
    return any(part.is_added and not _is_guessed(part) for part in _parts(circuit))


def guessed_origins(circuit: Circuit) -> tuple[str, ...]:
    """The keys of parts of the branch circuit of which somebody only guesses whether they are there already."""
    return tuple(f"{part.section}.{part.id}.origin" for part in _parts(circuit) if _is_guessed(part))


def _parts(circuit: Circuit) -> tuple[Box | Cable | Load | Driver, ...]:
    return (*circuit.boxes, *circuit.cables, *circuit.loads, *circuit.drivers)


def _is_guessed(part: Box | Cable | Load | Driver) -> bool:
    return part.known_by.get("origin") == How.GUESS
