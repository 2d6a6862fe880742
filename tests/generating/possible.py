"""What an entry can be while the file leaves it open: for now, until the rulebook has a table of it.

``possible`` is the one function to exchange. It answers with a span, with options, or with None: the entry may be
absent for good. Where the page of the file format says what is counted while the entry is unknown (air by the place,
a power factor from the table's low value), that is the span; else it is all that the key accepts.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.tables.rulebook import Rulebook
from tests.generating import usual
from tests.generating.values import spans_si, words_of


@dataclass(frozen=True, slots=True)
class Span:
    """Any number from ``low`` to ``high`` [SI]; most numbers that are met lie between ``usual``'s two."""

    low: float
    high: float
    usual: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Options:
    """One of these words, numbers, or yes and no."""

    options: tuple[Any, ...]


Possible = Span | Options | None

#: Keys that say one thing in several ways: a part has at most one of them.
GROUPS: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "box": (("trade_size", "volume"),),
    "load": (("power", "apparent", "current"),),
    "low_voltage_load": (("power", "power_per_length"),),
}

#: Keys that a strip has and a light at one point has not.
OF_STRIPS = ("length", "resistance_per_length", "fed_from")

_READING = "a reading that nobody took is no fact about the circuit"
_MARK = "a mark that is not there sets no limit"
_OTHER = "another entry says the same"

#: ``section.key`` -> why it may be absent although everything is known.
ABSENT: Mapping[str, str] = {
    "supply.measured_voltage": _READING,
    "supply.measured_current": _READING,
    "supply.other_leg_current": _READING,
    "supply.loaded_voltage": _READING,
    "supply.loaded_current": _READING,
    "supply.impedance": "the part before the panel is left out and told apart",
    "box.room": "the site's room is the box's",
    "box.support_limit": _MARK,
    "box.fixture_ground": "left out, none enters",
    "box.depth": "the trade size says it",
    "cable.current_carrying": "it is counted from what lies alongside",
    "cable.conductor_temperature": "that of the printed table is taken",
    "cable.insulation_temperature": "the type says it",
    "cable.sheath": "the type says it",
    "load.fitted": _READING,
    "load.min_voltage": _MARK,
    "driver.input_current": _OTHER,
    "driver.input_power": _OTHER,
    "driver.min_voltage": _MARK,
    "driver.min_load": _MARK,
    "low_voltage_load.min_voltage": _MARK,
}

#: Forms of which every key may be absent, and why; but those that are required (``box``, ``from``).
ABSENT_FORMS: Mapping[Form, str] = {
    Form.TEXT: "words for people",
    Form.DATE: "a day of the paper, not of the circuit",
    Form.REFERENCE: "it names no other part: nothing switches it, it is no pair",
}

#: The breakers and fuses that are made; a range or a guess of a breaker means every one of these within it [A].
RATINGS = (5.0, 6.0, 7.0, 8.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0)

_PLACES = ("attic", "crawl space", "inside", "outdoors", "underground")


def key_of(section: str, name: str) -> Key:
    """A key by its section and name."""
    return SECTIONS[section].keys[name]


def whole_span(section: str, key: Key) -> Span:
    """Everything that the key accepts as a number."""
    name = f"{section}.{key.name}"
    if key.kind is None:
        low, high = float(key.least), float(key.greatest)
        return Span(low, high, usual.SPANS.get(name, (low, high)))
    low, high = key.kind.least_si, key.kind.greatest_si
    printed = usual.PRINTED.get(name)
    if printed:
        span = min(number for number, _ in printed), max(number for number, _ in printed)
    else:
        span = usual.SPANS.get(name, (key.kind.least, key.kind.greatest))
    return Span(low, high, spans_si(key.kind, span))


def anything(section: str, key: Key) -> Possible:
    """Everything that the key accepts, whatever else is known."""
    if key.form in (Form.PHYSICAL, Form.WHOLE):
        return whole_span(section, key)
    if key.form in (Form.WORD, Form.SIZE):
        return Options(words_of(section, key))
    if key.form is Form.YES_NO:
        return Options((False, True))
    if key.form is Form.WORD_LIST:
        return Options(((), *((word,) for word in key.words), key.words))
    return None


def may_be_absent(section: str, key: Key) -> bool:
    """Whether it may be absent although everything is known."""
    return f"{section}.{key.name}" in ABSENT or (key.form in ABSENT_FORMS and not key.required)


def possible(section: str, key: Key, part: Any, circuit: Circuit, book: Rulebook) -> Possible:
    """What the open entry can be, all else in the circuit being as it is."""
    name = f"{section}.{key.name}"
    special = _SPECIAL.get(name)
    if special is not None:
        return special(part, circuit, book)
    if may_be_absent(section, key) or _said_otherwise(section, key, part):
        return None
    return anything(section, key)


def _said_otherwise(section: str, key: Key, part: Any) -> bool:
    """Whether another key of its group is there: then this one must stay absent."""
    for group in GROUPS.get(section, ()):
        if key.name in group:
            attributes = (SECTIONS[section].keys[other].attribute for other in group if other != key.name)
            return any(getattr(part, attribute) is not None for attribute in attributes)
    return False


# ------------------------------------------------------------------------------------------------- the special ones


def _origin(part: Any, circuit: Circuit, book: Rulebook) -> Possible:
    return Options(("added",))


def _ambient(cable: Any, circuit: Circuit, book: Rulebook) -> Possible:
    air = {place: book.value(f"ambient-{place.replace(' ', '-')}").number for place in _PLACES}
    base = book.value("ambient-base").number
    there = air.values() if cable.place is None else (base, air[cable.place])
    low, high = min(there), max(there)
    return Span(low, high, (low, high))


def _share(value: str) -> Callable[[Any, Circuit, Rulebook], Possible]:
    def asked(part: Any, circuit: Circuit, book: Rulebook) -> Possible:
        low = book.value(value).number
        return Span(low, 1.0, (low, 1.0))

    return asked


def _cable_type(cable: Any, circuit: Circuit, book: Rulebook) -> Possible:
    """No low-voltage cable on the branch circuit; behind a driver any."""
    behind = cable.id in circuit.tree.driver_of
    return Options(tuple(row.key[0] for row in book.table("cable-types").rows if behind or not row.yes("low_voltage")))


def _conductors(cable: Any, circuit: Circuit, book: Rulebook) -> Possible:
    return Options(tuple(sorted({int(count) for count in book.value("unknown-cable-conductors").items})))


def _of_strips(name: str) -> Callable[[Any, Circuit, Rulebook], Possible]:
    def asked(light: Any, circuit: Circuit, book: Rulebook) -> Possible:
        strip = light.power_per_length_w_per_m is not None
        if name == "fed_from" and sum(cable.to_id == light.id for cable in circuit.cables) > 1:
            return Options(("both ends",))
        return anything("low_voltage_load", key_of("low_voltage_load", name)) if strip else None

    return asked


def _power(load: Any, circuit: Circuit, book: Rulebook) -> Possible:
    """Receptacles without a value count the planning figure."""
    key = key_of("load", "power")
    return None if load.kind == "receptacle" or _said_otherwise("load", key, load) else whole_span("load", key)


_SPECIAL: Mapping[str, Callable[[Any, Circuit, Rulebook], Possible]] = {
    **{f"{name}.origin": _origin for name, section in SECTIONS.items() if "origin" in section.keys},
    "cable.ambient": _ambient,
    "cable.type": _cable_type,
    "cable.conductors": _conductors,
    "load.power": _power,
    "load.power_factor": _share("unknown-power-factor"),
    "driver.power_factor": _share("unknown-power-factor"),
    "driver.efficiency": _share("unknown-driver-efficiency"),
    **{f"low_voltage_load.{name}": _of_strips(name) for name in OF_STRIPS},
}
