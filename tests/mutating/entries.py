"""Small changes of ``tables/possible``: an option fewer, no inference, settled at once or later."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, NamedTuple

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Key
from circuitcheck.possible.table import ANY_WORD, ANYTHING, YES_OR_NO, Declared, declared
from circuitcheck.tables.rulebook import vocabulary


class Changed(NamedTuple):
    """One row otherwise, and what is other."""

    key: str
    what: str
    row: Declared

    @property
    def name(self) -> str:
        """How a list of explained changes names it."""
        return f"possible {self.key}: {self.what}"


def changed_rows() -> Iterator[Changed]:
    """Every change of every row."""
    for name, row in declared().items():
        section, _, key = name.partition(".")
        for what, may_be in _fewer(row.may_be, SECTIONS[section].keys[key], name):
            yield Changed(name, what, replace(row, may_be=may_be))
        if row.infer:
            yield Changed(name, "nothing inferred", replace(row, infer=""))
        if row.later is not None:
            yield Changed(name, "not later", replace(row, later=None))
        if row.presumed:
            yield Changed(name, "not presumed", replace(row, presumed=False))


def _fewer(may_be: Any, key: Key, name: str) -> Iterator[tuple[str, Any]]:
    if may_be == ANYTHING:
        yield "nothing at all", [0.0]
        return
    if may_be == YES_OR_NO:
        may_be = [False, True]
    elif may_be == ANY_WORD:
        may_be = list(key.words) or list(vocabulary().get(key.vocabulary, ()))
    if isinstance(may_be, list) and len(may_be) > 1:
        for option in may_be:
            yield f"never {option}", [other for other in may_be if other != option]
    elif isinstance(may_be, dict) and len(may_be.get("values", ())) + ("to" in may_be) > 1:
        if "to" in may_be:
            yield "not to its end", {"values": may_be["values"]}
        else:
            yield "not to its end", {"values": may_be["values"][:1]}
