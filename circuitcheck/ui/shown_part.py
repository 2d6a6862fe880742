"""A part as a form shows it: its entries, how they are known, what is wrong with them, and what is typed."""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.circuit.keys import Key
from circuitcheck.ui.document.history import Change


@dataclass(frozen=True, slots=True)
class ShownEntry:
    """One entry as the form shows it.

    ``text``: the value as people read it, empty when unknown. ``how``: measured, label, guess or empty.
    ``need``: "decides" when an open answer hangs on it, "worst case" when one was taken for it,
    "given up" when somebody said that it cannot be found out, else empty.
    ``inherited``: what a short form says for an entry that the part does not have, and where it comes from.
    ``there``: of a planned change, what is there now. ``planned``: of a part that is there, what is planned instead.
    ``example``: how a value is written, where the key itself does not tell.
    ``problem``: what is wrong with what is in the file. ``draft``: text typed that is no value yet, with ``says`` why.
    """

    key: Key
    text: str
    how: str
    need: str = ""
    problem: str = ""
    draft: str = ""
    says: str = ""
    inherited: str = ""
    there: str = ""
    planned: str = ""
    example: str = ""


@dataclass(frozen=True, slots=True)
class ShownPart:
    """A part as the form shows it; ``number`` is its block's."""

    number: int
    section: str
    title: str
    entries: tuple[ShownEntry, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """Text typed into a field that is no value: it is kept until it is put right or taken back.

    ``after``: the change that was the latest when it was typed.
    """

    text: str
    says: str
    suggestion: str = ""
    after: Change | None = None
