"""From the circuit as the file has it to a case: what is settled becomes plain, what is open is watched."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from itertools import compress
from operator import attrgetter
from typing import Any, NamedTuple

from circuitcheck.case import parts
from circuitcheck.case.case import Case, Gone
from circuitcheck.case.reading import Reading
from circuitcheck.case.waiting import KNOWN, FromFile, KeyRow, key_rows, part_of
from circuitcheck.circuit.change import AsFound
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Section
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_found
from circuitcheck.possible.inferences import ALSO_OF_GIVEN
from circuitcheck.possible.reading import declared_of
from circuitcheck.quantities import How, Interval
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

#: In so many ways the same keys of one section are given in all circuits of one book.
_MOST_SHAPES = 512


def case_of(circuit: Circuit, book: Rulebook) -> Case:
    """The circuit as a case in which every open entry is still to be chosen."""
    reading = Reading()
    sections: dict[str, Any] = {}
    for section in SECTIONS.values():
        held = getattr(circuit, section.attribute)
        if section.many:
            sections[section.attribute] = tuple([_part(section, part, circuit, book, reading) for part in held])
        else:
            sections[section.attribute] = _part(section, held, circuit, book, reading)
    case = Case(book, reading, sections)
    if circuit.before is not None:
        case.replaced, case.moved = circuit.before.replaced, circuit.before.moved
        case.opened = circuit.before.opened
        case.gone = _gone(circuit.before.circuit, circuit.before, book, reading)
    return case


def _gone(found: Circuit, before: AsFound[Circuit], book: Rulebook, reading: Reading) -> tuple[Gone, ...]:
    """The loads that are no more or stand elsewhere, as they were found."""
    known = as_found(found)
    whole = before.gone | before.replaced | before.moved
    loads = [load for load in known.loads if Ref("load", load.id) in whole]
    made = ((load, _part(SECTIONS["load"], load, known, book, reading)) for load in loads)
    return tuple(Gone(part, load.power_w is not None) for load, part in made if isinstance(part, parts.Load))


class _Shape(NamedTuple):
    """What is known of every part of which the same keys are given in the same form, whatever stands there.

    settled: the value of what is not given and can only be this. plain, is_plain: the attributes whose value counts as
    it is written, and for each attribute of the section whether it is such. numbers, lists: those of physical values
    and of lists of them, with their place. waits: whether anything else is to be looked at in any case.
    """

    settled: dict[str, Any]
    plain: tuple[str, ...]
    is_plain: tuple[bool, ...]
    numbers: tuple[tuple[int, str], ...]
    lists: tuple[tuple[int, str], ...]
    waits: bool


@cache
def _values(section: str) -> Callable[[Any], tuple[Any, ...]]:
    return attrgetter(*key_rows(section))


def _part(section: Section, told: Any, circuit: Circuit, book: Rulebook, reading: Reading) -> parts.Part:
    name, known_by = section.name, told.known_by
    values = _values(name)(told)
    guessed = tuple([key for key, word in known_by.items() if word == How.GUESS]) if known_by else ()
    shapes: dict[Any, _Shape] = book.worked_out.setdefault((_Shape, name), {})
    form = (tuple(map(type, values)), guessed)
    shape = shapes.get(form)
    if shape is None:
        if len(shapes) >= _MOST_SHAPES:
            shapes.clear()
        shape = shapes[form] = _shape(key_rows(name).values(), values, guessed, told, book)
    state = dict(shape.settled)
    state.update(zip(shape.plain, compress(values, shape.is_plain), strict=True))
    waits = shape.waits
    for place, attribute in shape.numbers:
        value = values[place]
        if value.low == value.high and value.how is not How.GUESS:
            state[attribute] = value.low
        else:
            waits = True
    for place, attribute in shape.lists:
        if all(each.exact for each in values[place]):
            state[attribute] = tuple(each.low for each in values[place])
        else:
            waits = True
    if waits:
        return part_of(name, state, FromFile(told, circuit, book, reading))
    part = object.__new__(KNOWN[name])
    part.__dict__.update(state)
    return part


def _shape(
    rows: Iterable[KeyRow], values: tuple[Any, ...], guessed: tuple[str, ...], told: Any, book: Rulebook
) -> _Shape:
    """What is settled at once is all of which nothing has to be inferred, that is no range and no guess."""
    settled: dict[str, Any] = {}
    plain: dict[str, int] = {}
    numbers: list[tuple[int, str]] = []
    lists: list[tuple[int, str]] = []
    waits = False
    for (attribute, _, key, row, place), value in zip(rows, values, strict=True):
        if value is None and row is not None and not row.infer:  # what has no row is always given
            possible = declared_of(row, key, told, book)
            if possible is None or (len(possible.options) == 1 and not possible.assumed):
                settled[attribute] = None if possible is None else possible.options[0]
            else:
                waits = True
        elif value.__class__ is Interval:
            numbers.append((place, attribute))
        elif value is None or key.name in guessed or (row is not None and row.infer in ALSO_OF_GIVEN):
            waits = True
        elif key.form is Form.PHYSICAL_LIST:
            lists.append((place, attribute))
        else:
            plain[attribute] = place
    places = frozenset(plain.values())
    is_plain = tuple(place in places for place in range(len(values)))
    return _Shape(settled, tuple(plain), is_plain, tuple(numbers), tuple(lists), waits)
