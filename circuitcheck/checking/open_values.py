"""What an open entry may turn out to be, as values that can be written into the circuit in its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from circuitcheck.case import Case
from circuitcheck.circuit.guide import entry_ref
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.possible import Possible
from circuitcheck.quantities import Kind
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import vocabulary

#: A whole number that nothing bounds is tried up to so many more than its least.
_MOST_WHOLE = 12


@dataclass(frozen=True, slots=True)
class OpenValues:
    """What one entry may be. ``key``: what it is. span: the ends of a number that can be all between [SI], or None.
    words: every value to try, where it is no such number. bounded: whether the file or the tables name the ends.
    """

    ref: Ref
    key: Key
    span: tuple[float, float] | None
    words: tuple[Any, ...]
    bounded: bool = True


def ref_of(path: str) -> Ref | None:
    """``cable.feed.length`` as section, id and key; None for a path that names no key of a part."""
    ref = entry_ref(path)
    return ref if ref.key and path == str(ref) else None


def open_values(path: str, case: Case) -> OpenValues | None:
    """What the entry of this path may be while the file does not settle it; None where there is nothing to try."""
    ref = ref_of(path)
    key = SECTIONS[ref.section].keys.get(ref.key) if ref is not None else None
    if ref is None or key is None:
        return None
    entry = next((each for each in case.entries if each.attribute == key.attribute and each.part.ref == ref.part), None)
    if key.kind is not None and key.form is Form.PHYSICAL:
        return _number(ref, key, key.kind, entry.possible if entry is not None else None)
    options: tuple[Any, ...] = entry.possible.options if entry is not None else ()
    words = tuple(option for option in options if option is not None) or _all_words(ref, key)
    if key.form is Form.WHOLE and len(words) == 2:  # its two ends
        words = tuple(range(words[0], words[-1] + 1))
    if key.form is Form.SIZE and None in options and "none" in key.words:
        words = ("none", *words)
    return OpenValues(ref, key, None, words) if words else None


def _number(ref: Ref, key: Key, kind: Kind, possible: Possible | None) -> OpenValues | None:
    numbers = tuple(float(option) for option in possible.options if option is not None) if possible is not None else ()
    if possible is None or not possible.bounded or not numbers:
        return OpenValues(ref, key, (kind.least_si, kind.greatest_si), (), bounded=False)
    if len(numbers) == 1:
        return None  # it is taken for granted
    if ref.key == "breaker":  # there is nothing between two ratings
        return OpenValues(ref, key, None, numbers)
    return OpenValues(ref, key, (numbers[0], numbers[1]), ())


def _all_words(ref: Ref, key: Key) -> tuple[Any, ...]:
    if key.form is Form.YES_NO:
        return (False, True)
    if key.form is Form.WHOLE:
        return tuple(range(key.least, min(key.greatest, key.least + _MOST_WHOLE) + 1))
    if key.form is Form.WORD_LIST:
        return ((), *((word,) for word in key.words))
    if key.form in (Form.WORD, Form.SIZE):
        named = vocabulary()
        return (*key.words, *named.get(f"{ref.section}.{ref.key}", named.get(key.vocabulary, ())))
    return ()
