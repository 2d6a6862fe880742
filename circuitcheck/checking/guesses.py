"""Every value that the file marks as guessed, and what it stands for. To the rules a guess is one more open entry."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from circuitcheck.circuit.keys import SECTIONS, Key, Section
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Guess
from circuitcheck.possible import possible_of
from circuitcheck.quantities import How, Interval, normalised
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

_HELD_OPEN = "an answer that depends on it stays open"
#: Required keys and most lists have nothing that they could be instead.
_AS_WRITTEN = "it counts as written: verify it before you rely on an answer that depends on it"


def guesses_in(circuit: Circuit, book: Rulebook) -> tuple[Guess, ...]:
    """Every value that the file marks as guessed, in file order."""
    return tuple(
        guess
        for section in SECTIONS.values()
        for part in _parts(circuit, section)
        for guess in (*_numbers(section, part), *_words(section, part, circuit, book))
    )


def _numbers(section: Section, part: Any) -> Iterator[Guess]:
    """Physical values carry the word themselves."""
    for key in _physical_keys(section.name):
        value = getattr(part, key.attribute)
        for each in value if isinstance(value, tuple) else () if value is None else (value,):
            if each.how is How.GUESS:
                yield _physical_guess(_ref(section, part, key), key, each)


def _words(section: Section, part: Any, circuit: Circuit, book: Rulebook) -> Iterator[Guess]:
    """Of everything else ``known_by`` tells it."""
    for name, word in part.known_by.items():
        key = section.keys.get(name)
        if word != How.GUESS or key is None or key.kind is not None:
            continue
        value = getattr(part, key.attribute)
        may = possible_of(f"{section.name}.{name}", key, value, part, circuit, book)
        held_open = (may is not None and len(may.options) > 1) or f"{section.name}.{name}" in _ASKED_AS_EVIDENCE
        yield Guess(str(_ref(section, part, key)), _written(value), _HELD_OPEN if held_open else _AS_WRITTEN)


#: Entries that only rules of evidence read; they take a guess for no answer.
_ASKED_AS_EVIDENCE = frozenset({"site.signs"})


def _parts(circuit: Circuit, section: Section) -> tuple[Any, ...]:
    parts = getattr(circuit, section.attribute)
    return parts if section.many else (parts,)


def _ref(section: Section, part: Any, key: Key) -> Ref:
    return Ref(section.name, part.id if section.many else "", key.name)


def _physical_guess(ref: Ref, key: Key, value: Interval) -> Guess:
    unit = key.kind.unit if key.kind else ""
    return Guess(str(ref), f'"{value.text}"', f"stands for {normalised(value, unit)} in every check")


@cache
def _physical_keys(section: str) -> tuple[Key, ...]:
    return tuple(key for key in SECTIONS[section].keys.values() if key.kind is not None)


def _written(value: object) -> str:
    """A word, yes/no, count or list as the file writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, tuple):
        return f"a list of {len(value)}"
    return "unknown" if value is None else str(value)
