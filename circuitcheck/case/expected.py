"""What a known circuit has because another of its entries says so: a hole has a diameter, a strip has a length."""

from __future__ import annotations

from typing import TypeVar

from circuitcheck.circuit.part import Part

Known = TypeVar("Known")


class MissingEntryError(Exception):
    """A case lacks an entry that another one calls for: a fault of ``possible`` or of the rule, never zero."""


def expected(value: Known | None, part: Part, key: str) -> Known:
    """The value of an entry that other entries call for.

    Raises: MissingEntryError naming the entry. The report shows a fault of the program, and the verdict is never
    "fits".
    """
    if value is None:
        raise MissingEntryError(f"{part.entry(key)} is missing, though another entry calls for it")
    return value
