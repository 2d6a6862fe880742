"""What several rules need of one circuit is worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar, cast

from circuitcheck.circuit.model import Circuit
from circuitcheck.tables.rulebook import Rulebook

Made = TypeVar("Made")


def once(make: Callable[[Circuit, Rulebook], Made]) -> Callable[[Circuit, Rulebook], Made]:
    """``make``, with its result kept beside the circuit, which never changes, for as long as the rulebook is the same.

    A changed circuit is another object and starts empty. Whoever is handed the result leaves it as it is.
    """

    @wraps(make)
    def kept(circuit: Circuit, book: Rulebook) -> Made:
        known = circuit.worked_out.get(make)
        if known is None or known[0] is not book:
            known = circuit.worked_out[make] = (book, make(circuit, book))
        return cast(Made, known[1])

    return kept
