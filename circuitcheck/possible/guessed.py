"""A circuit of which the guessed words are forgotten: what follows from the other entries may not rest on a guess."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.quantities import How

_WORDS = (Form.WORD, Form.SIZE, Form.YES_NO)


def without_guessed_words(circuit: Circuit) -> tuple[Circuit, dict[int, Any]]:
    """The circuit with every guessed word, size, yes and no left out; and by its identity what a part is there.

    Required entries and counts stay: a guess at those is one more option of the entry itself. ``known_by`` still tells
    that there was a guess: where an entry that is left out can be one thing, a guess at it can be wrong.
    """
    kept = circuit.worked_out.get(without_guessed_words)
    if kept is None:
        kept = circuit.worked_out[without_guessed_words] = (_forgotten(circuit), None)
    result: tuple[Circuit, dict[int, Any]] = kept[0]  # type: ignore[assignment]
    return result


def _forgotten(circuit: Circuit) -> tuple[Circuit, dict[int, Any]]:
    others: dict[int, Any] = {}
    changed: dict[str, Any] = {}
    for name, section in SECTIONS.items():
        held = getattr(circuit, section.attribute)
        parts = held if section.many else (held,)
        forgotten = tuple(_without(name, part) for part in parts)
        if any(new is not old for new, old in zip(forgotten, parts, strict=True)):
            others.update({id(old): new for new, old in zip(forgotten, parts, strict=True) if new is not old})
            changed[section.attribute] = forgotten if section.many else forgotten[0]
    return (replace(circuit, **changed) if changed else circuit), others


def _without(section: str, part: Any) -> Any:
    words = _words_of(section, part.__class__)
    guessed = [name for name, word in part.known_by.items() if word == How.GUESS and name in words]
    if not guessed:
        return part
    keys = SECTIONS[section].keys
    return replace(part, **{keys[name].attribute: None for name in guessed})


@cache
def _words_of(section: str, kind: Any) -> frozenset[str]:
    """The keys of words that are unknown when they are left out."""
    defaults = {field.name: field.default for field in fields(kind)}
    return frozenset(
        key.name
        for key in SECTIONS[section].keys.values()
        if key.form in _WORDS and not key.required and defaults[key.attribute] is None
    )
