"""From an entry of a file to what it can be."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.model import Circuit
from circuitcheck.errors import TableError
from circuitcheck.findings import Source, Status
from circuitcheck.possible.entry import UNSETTLED, Later, Possible
from circuitcheck.possible.guessed import without_guessed_words
from circuitcheck.possible.inferences import INFERENCES
from circuitcheck.possible.measured import longest_by_reading
from circuitcheck.possible.ranges import options_in_range
from circuitcheck.possible.table import ANY_WORD, ANYTHING, AS_INFERRED, YES_OR_NO, Declared, declared
from circuitcheck.quantities import How, Interval, in_unit, rounded_up
from circuitcheck.tables.rulebook import Rulebook, vocabulary

#: Forms of which a guess is open by itself. A guess at a list is as open as one that is left out; where that is not
#: open it stays as it was written, and what follows from it counts as well.
_GUESSED = (Form.YES_NO, Form.WHOLE, Form.SIZE, Form.WORD)


def possible_of(kind: str, key: Key, value: Any, part: Any, circuit: Circuit, book: Rulebook) -> Possible | None:
    """What the entry ``kind`` (``cable.length``) of ``part`` can be; None where the file settles it or it is absent.

    ``value`` is the entry as the model holds it. A guessed word, yes or no, or count is as open as an unknown one.
    """
    if isinstance(value, Interval):
        return _as_measured(kind, options_in_range(kind, value, book), part, circuit, book)
    if key.form is Form.PHYSICAL_LIST and value:
        ends = tuple(each.low for each in value), tuple(each.high for each in value)
        return None if ends[0] == ends[1] else Possible(ends)
    row = declared().get(kind)
    if value is not None and part.known_by.get(key.name) == How.GUESS:
        if key.form is Form.YES_NO and row is not None and row.may_be is None and not row.infer:
            # Left out it is absent, and other entries tell: that a guess may be wrong opens no more than that.
            return Possible((value, None), _A_GUESS)
        if key.form in _GUESSED:
            guessed = _guessed(key, value, book)
            if key.form is not Form.WORD or row is None or not row.infer:
                return guessed
            surely, others = without_guessed_words(circuit)
            return _not_excluded(guessed, value, INFERENCES[row.infer](others.get(id(part), part), surely, book))
        listed = _guessed_list(kind, key, value, part, circuit, book)
        if listed is not None:
            return listed
    if row is None:
        return None
    if row.infer:
        inferred = inferred_of(row.infer, part, circuit, book)
        if inferred is not UNSETTLED:
            return inferred
    if value is not None:
        return None
    return declared_of(row, key, part, book)


def inferred_of(name: str, part: Any, circuit: Circuit, book: Rulebook) -> Possible | None:
    """What follows from what is surely known; and what would follow if each guess were right, where that is more.

    A light that is guessed to hang outdoors, on a box in a library: its place is dry, unless the guess is right.
    """
    surely, others = without_guessed_words(circuit)
    inferred = INFERENCES[name](others.get(id(part), part), surely, book)
    if surely is circuit or inferred is None or inferred is UNSETTLED:
        return inferred
    guessed = INFERENCES[name](part, circuit, book)
    if guessed is None or guessed is UNSETTLED:
        return guessed if guessed is UNSETTLED else inferred
    more = [option for option in guessed.options if option not in inferred.options]
    if not more:
        return inferred
    options = (*inferred.options, *more)
    numbers = all(type(option) is float for option in options)
    return inferred._replace(options=(min(options), max(options)) if numbers else options)


def _not_excluded(guessed: Possible, value: Any, inferred: Possible | None) -> Possible:
    """Of the words that a guess may mean, itself and those that the other entries leave."""
    if inferred is None or inferred is UNSETTLED or inferred.presumed:
        return guessed
    return guessed._replace(options=(value, *(word for word in inferred.options if word != value)))


def declared_of(row: Declared, key: Key, part: Any, book: Rulebook) -> Possible | None:
    """What the table says of an entry that nobody knows and of which nothing follows; None where it is absent."""
    if row.may_be is None:
        return None
    later = row.later if row.later != "work to come" or part.is_added else None
    kept = row.key, later
    possible = book.worked_out.get(kept)
    if possible is None:
        possible = book.worked_out[kept] = _declared(row, key, later, book)
    return possible


_A_GUESS = "a guess; verify before you rely on it"


def _as_measured(kind: str, possible: Possible | None, part: Any, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A range of lengths ends where a reading under load ends it; a reading that contradicts the range says nothing."""
    if possible is None or kind != "cable.length" or circuit.supply.loaded_voltage_v is None:
        return possible
    surely, others = without_guessed_words(circuit)
    longest = longest_by_reading(others.get(id(part), part), surely, book)
    low, high = possible.options
    if longest is None or not low < longest[0] < high:
        return possible
    says = f"by the reading under load at most {rounded_up(in_unit(longest[0], 'ft'))} ft long"
    return possible._replace(options=(low, longest[0]), assumed=says, sources=(*possible.sources, *longest[1]))


def _guessed(key: Key, value: Any, book: Rulebook) -> Possible:
    """A guess: the value itself and whatever else it could be."""
    says = _A_GUESS
    if key.form is Form.YES_NO:
        return Possible((value, not value), says)
    if key.form is Form.WHOLE:
        return Possible((value, value + 1), says)
    if key.form is Form.SIZE:
        return Possible(_sizes_next_to(value, book), says)
    words = _words(key, book)
    return Possible((value, *(word for word in words if word != value)), says)


def _guessed_list(kind: str, key: Key, value: Any, part: Any, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A guessed list: as it is written, or what it can be while nobody says anything; None where that is nothing."""
    if key.form not in (Form.WORD_LIST, Form.TABLES):
        return None
    surely, others = without_guessed_words(circuit)
    bare = others.get(id(part), part)
    known = {name: word for name, word in bare.known_by.items() if name != key.name}
    unknown = possible_of(kind, key, None, replace(bare, known_by=known, **{key.attribute: None}), surely, book)
    options = tuple(dict.fromkeys((value, *(unknown.options if unknown is not None else ()))))
    return Possible(options, _A_GUESS) if len(options) > 1 else None


def _sizes_next_to(size: str, book: Rulebook) -> tuple[str, ...]:
    """A guess at a size means the sizes next to it too."""
    sizes = tuple(row.key[0] for row in book.table("conductors").rows)
    if size not in sizes:
        return (size, *sizes)
    place = sizes.index(size)
    return sizes[max(0, place - 1) : place + 2]


def _words(key: Key, book: Rulebook) -> tuple[str, ...]:
    """Every word of a key; of those that the tables list, the words of every edition."""
    return (*key.words, *vocabulary().get(key.vocabulary, ()))


def _declared(row: Declared, key: Key, later: Later | None, book: Rulebook) -> Possible:
    sources: tuple[Source, ...] = ()
    if row.source is not None and row.source.status is Status.COMMON_PRACTICE:
        sources = (row.source,)  # that a question has two answers needs no citing
    options, bounded = _options(row, key, book)
    if isinstance(row.may_be, dict):
        names = (*row.may_be.get("values", ()), *((row.may_be["numbers"],) if "numbers" in row.may_be else ()))
        sources = tuple(book.value(name).source for name in names)
    assumed = row.assumed
    if "{" in assumed:
        assumed = assumed.format(low=f"{options[0]:g}", high=f"{options[-1]:g}")
    return Possible(options, assumed, sources, bounded, later, presumed=row.presumed)


def _options(row: Declared, key: Key, book: Rulebook) -> tuple[tuple[Any, ...], bool]:
    may_be = row.may_be
    if may_be == AS_INFERRED:
        raise TableError(f"possible: {row.key}: {row.infer or 'no inference'} does not say what it can be")
    if may_be == ANYTHING:
        if key.kind is None:
            raise TableError(f"possible: {row.key} is no number that can be anything")
        return (key.kind.least_si, key.kind.greatest_si), False
    if may_be == YES_OR_NO:
        return (False, True), True
    if may_be == ANY_WORD:
        return _words(key, book), True
    if isinstance(may_be, dict):
        if "numbers" in may_be:
            return tuple(sorted(int(item) for item in book.value(may_be["numbers"]).items)), True
        numbers = [book.value(name).number for name in may_be["values"]]
        if "to" in may_be:
            numbers.append(float(may_be["to"]))
        return tuple(sorted(set(numbers))), True
    return tuple(tuple(option) if isinstance(option, list) else option for option in may_be), True
