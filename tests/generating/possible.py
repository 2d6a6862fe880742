"""What an entry can be while the file leaves it open: what the rulebook's own table says, as something to draw from.

``possible`` answers with a span, with options, or with None: the entry is settled, or may be absent for good.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit, Device
from circuitcheck.possible import declared, possible_of
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

#: Keys that say one thing in several ways: a part has at most one of them, and the first is the one that is asked for.
GROUPS: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "box": (("volume", "trade_size"),),
    "load": (("power", "apparent", "current"),),
    "low_voltage_load": (("power", "power_per_length"),),
}

#: Keys that a strip has and a light at one point has not.
OF_STRIPS = ("length", "resistance_per_length")

#: Readings and marks: drawn by a share of their own, since a circuit may be known without them.
READINGS = frozenset(
    {
        "supply.measured_voltage",
        "supply.measured_current",
        "supply.other_leg_current",
        "supply.loaded_voltage",
        "supply.loaded_current",
        "supply.impedance",
        "box.fixture_ground",
        "box.depth",
        "cable.current_carrying",
        "cable.insulation_temperature",
        "load.fitted",
        "load.min_voltage",
        "driver.input_power",
        "driver.min_voltage",
        "driver.min_load",
        "driver.outputs",
        "low_voltage_load.min_voltage",
    }
)

#: What the table calls absent since a rule asks for it by itself, and which is a fact all the same: it can be found
#: out, and a rule that says nothing while it is unknown is contradicted then.
ASKED_BY_RULES = frozenset(
    {
        "site.signs",
        "cable.place",
        "framing.diameter",
        "framing.notch_depth",
        "framing.notch_length",
    }
)

#: What the table presumes and a rule is about all the same: drawn as the first or the second that it may be. The third
#: (a switch loop) is told as assumed by the others where an answer rests on it, and so is no contradiction.
DOUBTED = frozenset({"cable.carries"})

#: Forms of which every key may be absent, and why; but those that are required (``box``, ``from``).
ABSENT_FORMS: Mapping[Form, str] = {
    Form.TEXT: "words for people",
    Form.DATE: "a day of the paper, not of the circuit",
    Form.REFERENCE: "it names no other part: nothing switches it, it is no pair",
}


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
    if key.form in (Form.TABLES, Form.PHYSICAL_LIST):
        return Options(((),))  # whoever looked and saw nothing
    return None


def may_be_absent(section: str, key: Key) -> bool:
    """Whether it may be absent although everything is known."""
    name = f"{section}.{key.name}"
    if key.required or name in ASKED_BY_RULES:
        return False
    row = declared().get(name)
    return key.form in ABSENT_FORMS or row is None or (row.may_be is None and not row.infer)


def possible(section: str, key: Key, part: Any, circuit: Circuit, book: Rulebook) -> Possible:
    """What the entry can be, all else in the circuit being as it is; None where it is settled or may be absent."""
    name, value = f"{section}.{key.name}", getattr(part, key.attribute)
    if name in ASKED_BY_RULES and value is None:
        return anything(section, key)
    if name == "low_voltage_load.fed_from" and sum(cable.to_id == part.id for cable in circuit.cables) > 1:
        return Options(("both ends",))
    if name == "box.volume" and value is None and part.trade_size is None:
        # In the case it is none; whoever looks finds it marked. Of a box without a volume in which a recessed light is
        # the rules say that it is the light's own wiring box, whose label counts: it stays without.
        recessed = any(
            load.box == part.id and load.mounting == "recessed" and load.kind in ("light", None)
            for load in circuit.loads
        )
        return None if recessed else whole_span(section, key)
    if name == "load.own_switch" and part.continuous is False:
        return Options((True,))  # what is said not to be on for hours is turned off by something
    if name == "load.continuous" and part.own_switch is False and part.switched_by is None:
        return Options((True,))  # and what nothing turns off is on for hours
    may = possible_of(name, key, value, part, circuit, book)
    if may is None:
        return None
    # What is presumed is told as assumed: what comes of it when it is otherwise is a test of its own.
    drawn = 2 if name in DOUBTED else 1 if may.presumed else None
    options = tuple(option for option in may.options[:drawn] if option not in (None, ()))
    if name == "cable.carries" and _feeds_what_works(part, circuit):
        options = tuple(option for option in options if option != "switch loop")  # it would hang between two hots
    if not options:
        return None
    if key.form in (Form.PHYSICAL, Form.WHOLE) and name != "supply.breaker":
        low, high = float(min(options)), float(max(options))
        return Span(low, high, (low, high) if may.bounded else whole_span(section, key).usual)
    if name == "box.devices":
        options = ((Device(kind="switch"),),)
    return Options(options)


def _feeds_what_works(cable: Any, circuit: Circuit) -> bool:
    """Whether a load is there already in the box at the end of a cable of two conductors."""
    return cable.conductors in (None, 2) and any(
        load.box == cable.to_id and load.origin == "existing" for load in circuit.loads
    )
