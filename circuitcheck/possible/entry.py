"""What one entry can be."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Any, Final, NamedTuple, TypeAlias

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Source
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook


class Later(StrEnum):
    """Why an open entry leaves no more than a caution.

    It is settled by what people do, not by what is there.
    """

    DURATION = "duration"
    WORK_TO_COME = "work to come"
    USE = "what is plugged in"


class Possible(NamedTuple):
    """``options``: every value that the entry can have; of a number its two ends, least first [SI].

    ``assumed`` says what is assumed while it is unknown, empty where there is nothing to say. ``bounded`` False: a
    number that can be anything within the key's own span, so an answer that depends on it stays open.
    ``presumed``: the first option counts in every case; the others only tell whether an answer rests on it, and it is
    listed as assumed where one does.
    ``ask_for``: the key to ask for, where it is another one than the entry's own (the place, for the air there).
    """

    options: tuple[Any, ...]
    assumed: str = ""
    sources: tuple[Source, ...] = ()
    bounded: bool = True
    later: Later | None = None
    ask_for: str = ""
    presumed: bool = False


def is_surely_added(part: Any) -> bool:
    """Whether a part counts as added, and no guess says so."""
    return bool(part.is_added) and part.known_by.get("origin") != How.GUESS


#: What an inference answers where it has nothing to say: the table's row counts.
UNSETTLED: Final = Possible(())

#: What follows about one part's entry; None: it is absent.
Inference: TypeAlias = Callable[[Any, Circuit, Rulebook], Possible | None]
