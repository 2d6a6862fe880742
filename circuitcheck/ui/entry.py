"""One entry of a part: what the user typed read into a value, and a value shown back. Errors are sentences."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.meant import synonym
from circuitcheck.errors import nearest
from circuitcheck.quantities import QuantityError, normal_text, read_designation, read_size

#: How a value is known -> the letter and the word that show it. The file's own words are the keys.
HOW_LETTER: dict[str, str] = {"measured": "M", "label": "L", "guess": "G"}
HOW_WORD: dict[str, str] = {"measured": "measured", "label": "from a label", "guess": "guessed", "": "", "?": "unknown"}

#: The word before a physical value that says how it is known.
_HOW_PREFIX: dict[str, str] = {"measured": "measured ", "label": "label ", "guess": "about "}

_YES = ("yes", "y", "true", "1")
_NO = ("no", "n", "false", "0")


@dataclass(frozen=True, slots=True)
class Typed:
    """What typed text stands for.

    ``value`` goes into the file; ``problem`` says in words why there is none, ``suggestion`` what may have been meant.
    ``also`` are other keys of the same part that the text told (``14/2`` tells size and conductors).
    """

    value: object = None
    problem: str = ""
    suggestion: str = ""
    also: Mapping[str, object] = field(default_factory=dict)


def words_of(key: Key, vocabulary: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """The words that a key allows, its own or those of the tables."""
    return (*key.words, *vocabulary.get(key.vocabulary, ()))


def read_typed(key: Key, text: str, vocabulary: Mapping[str, Sequence[str]]) -> Typed:
    """The value that the text stands for under this key, or the reason why it stands for none."""
    plain = text.strip()
    try:
        match key.form:
            case Form.PHYSICAL:
                return Typed(_physical(key, plain))
            case Form.PHYSICAL_LIST:
                return Typed([_physical(key, piece.strip()) for piece in plain.split(",") if piece.strip()])
            case Form.SIZE:
                return _size(key, plain, words_of(key, vocabulary))
            case Form.WORD:
                return _word(plain, words_of(key, vocabulary))
            case Form.WORD_LIST:
                return _words(plain, words_of(key, vocabulary))
            case Form.YES_NO:
                return _yes_no(plain)
            case Form.WHOLE:
                return _whole(key, plain)
            case Form.DATE:
                return Typed(date.fromisoformat(plain))
            case Form.ID | Form.REFERENCE:
                return Typed(plain) if plain else Typed(problem="A part needs a name.")
            case Form.TEXT:
                return Typed(plain)
    except QuantityError as wrong:
        return Typed(problem=_sentence(wrong), suggestion=_whole_suggestion(plain, wrong.nearest))
    except ValueError:
        return Typed(problem="Enter the date as year, month, day: 2026-03-14.")
    return Typed(problem="This entry is opened with Enter.")


def _sentence(wrong: QuantityError) -> str:
    says = wrong.says[:1].upper() + wrong.says[1:]
    return f"{says.rstrip('.?')}. Write {wrong.allowed}." if wrong.allowed else f"{says.rstrip('.')}."


def _whole_suggestion(text: str, near: str | None) -> str:
    """What may have been meant, as a whole value: a unit alone takes the place of the word that was no unit."""
    if not near or any(character.isdigit() for character in near):
        return near or ""
    return re.sub(r"[^\W\d_]+\.?\s*$", near, text)


def _physical(key: Key, text: str) -> str:
    if key.kind is None:
        raise QuantityError("this entry takes no value")
    return normal_text(text, key.kind)


def _word(text: str, words: Sequence[str]) -> Typed:
    folded = {word.casefold(): word for word in words}
    if text.casefold() in folded:
        return Typed(folded[text.casefold()])
    starting = [word for word in words if word.casefold().startswith(text.casefold())]
    near = starting[0] if len(starting) == 1 else synonym(text, words, "words") or nearest(text, words)
    listed = ", ".join(words[:8]) + (" …" if len(words) > 8 else "")
    return Typed(problem=f"Not one of the words for this entry: {listed}.", suggestion=near or "")


def _words(text: str, words: Sequence[str]) -> Typed:
    found: list[str] = []
    for piece in (piece.strip() for piece in text.split(",")):
        if not piece:
            continue
        typed = _word(piece, words)
        if typed.problem:
            return typed
        found.append(str(typed.value))
    return Typed(found)


def _size(key: Key, text: str, sizes: Sequence[str]) -> Typed:
    designation = read_designation(text)
    if designation is not None and key.name == "size":
        also: dict[str, object] = {"conductors": designation.conductors}
        if designation.ground is not None:
            also["ground"] = designation.ground
        return Typed(designation.size, also=also)
    size = read_size(text)
    if sizes and size not in sizes:
        return Typed(problem=f"The tables have no size {size}.")
    return Typed(size)


def _yes_no(text: str) -> Typed:
    if text.casefold() in _YES:
        return Typed(True)
    if text.casefold() in _NO:
        return Typed(False)
    return Typed(problem="Answer yes or no, or leave it unknown.")


def _whole(key: Key, text: str) -> Typed:
    digits = text.replace(" ", "")
    if not digits.isascii() or not digits.isdigit() or len(digits) > 9:
        return Typed(problem=f"Enter a whole number from {key.least} to {key.greatest}.")
    number = int(digits)
    if not key.least <= number <= key.greatest:
        return Typed(problem=f"{number} is outside {key.least} to {key.greatest}.")
    return Typed(number)


def split_how(key: Key, value: object, known_by: object) -> tuple[str, str]:
    """The value as text without its word, and how it is known (``measured``, ``label``, ``guess`` or empty)."""
    if key.form is Form.PHYSICAL and isinstance(value, str):
        for how, prefix in _HOW_PREFIX.items():
            if value.casefold().startswith(prefix):
                return value[len(prefix) :], how
        if value.startswith("~"):
            return value[1:].lstrip(), "guess"
    how = known_by.get(key.name, "") if isinstance(known_by, Mapping) else ""
    return value_text(value), str(how)


def with_how(text: str, how: str) -> str:
    """A physical value's text with the word for how it is known."""
    return _HOW_PREFIX.get(how, "") + text


def value_text(value: Any) -> str:
    """A value of the file as people read it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return " ".join(_item_text(key, item) for key, item in value.items())
    if isinstance(value, list | tuple):
        return "; ".join(value_text(item) for item in value) if value else "none"
    return str(value)


def _item_text(key: str, value: object) -> str:
    if isinstance(value, bool):
        return key if value else f"no {key}"
    if isinstance(value, int):
        return f"{value} {key}" if key != "count" else f"x {value}"
    return value_text(value)
