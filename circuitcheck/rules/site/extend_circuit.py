"""Extending this circuit: whether this circuit may feed new lights at all.

What it asks: what the circuit serves, how large its breaker or fuse is, for a 10 A circuit what else is on it, for one
of more than 120 V where the new lights are, and for each added receptacle whether its room has circuits of its own.

Why: circuits for kitchen, laundry and bathroom receptacles are kept for those, so that they are not loaded by
anything else. A circuit for one machine alone stops being that when something is added. A 10 A circuit is for
lighting only, and over 20 A a circuit feeds no lights in a dwelling.

What to do: look at the panel's directory and at what goes dead with the breaker. When the circuit is one of those,
feed the lights from a general lighting circuit.

Cannot see: lights of more than 120 V outside of a dwelling unit, and drivers of more than 120 V anywhere: both are
asked about. Other loads that plug into a receptacle of more than 120 V; local amendments, and which circuit was put in
to meet which requirement: it goes by what the file says that the circuit serves. Garage circuits wired before the
edition that first required them count as general ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from typing import Any

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Rounding,
    Said,
    Things,
    said,
    values_of,
    words_apart,
)
from circuitcheck.case.parts import Driver, Load, Part
from circuitcheck.domain.added_work import added_outlets, has_added_work
from circuitcheck.findings import Outcome, Source, exceeds, merge_sources
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Row, Rulebook
from circuitcheck.text import shown_number

RECEPTACLE = "receptacle"
_SERVES, _BREAKER = Ref("supply", "", "serves"), Ref("supply", "", "breaker")
_WORDED = {"yes": Outcome.PASS, "no": Outcome.FAIL, "ask": Outcome.UNDETERMINED}
_LEAD = {
    Outcome.PASS: "This circuit may be extended for lighting",
    Outcome.CAUTION: "This circuit may perhaps be extended for lighting",
    Outcome.FAIL: "This circuit may not be extended for the new lights",
    Outcome.UNDETERMINED: "Cannot tell yet whether this circuit may be extended for lighting",
}
_ELSEWHERE = ("Feed the new lights from a general lighting circuit.",)
_LOOK = ("Switch the breaker off and see what goes dead: kitchen, laundry and bathroom receptacles matter most.",)
_MOVE = ("Move what is not lighting to another circuit, or feed the lights from another one.",)
_RATING = ("Have an electrician determine the right breaker or fuse for this wire before anything is added.",)
_ASK_VOLTS = ("Ask a licensed electrician or the permit office which lights may be put there.",)
_ASK_LIGHT = ("May lights of this voltage be put there?",)
_ASK_DRIVER = ("May a driver of this voltage be put there, or does it count as part of a light?",)
_FANS = ("Is every fan on this circuit an exhaust fan of a bathroom or a laundry room?",)


class Question(Enum):
    """What is asked about the circuit as a whole."""

    USE = "what it serves"
    SMALL = "a rating under the usual ones, or none of them"
    LARGE = "a rating over that of lighting circuits"
    VOLTAGE = "more volts than lights of a dwelling unit may have"


def subjects(case: Case) -> Iterator[Question | Load]:
    """The questions about the circuit, and everything that may be a receptacle."""
    yield from Question
    yield from case.loads


def answer(subject: Question | Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether the circuit may feed what is added, by one question; or whether it may feed one added receptacle."""
    if isinstance(subject, Load):
        return _receptacle(subject, case, book)
    if not has_added_work(case):
        return None
    ask = {
        Question.USE: _by_use,
        Question.SMALL: _by_small_rating,
        Question.LARGE: _by_large_rating,
        Question.VOLTAGE: _by_voltage,
    }
    return ask[subject](case, book)


def _all_in(case: Case, room: str) -> bool:
    """Whether all that is added is in one room; nothing added but cable and boxes: the boxes.

    It stops at the first that is elsewhere, so that the ways to try grow with the boxes and not with their power.
    """
    homes = [part.box for part in added_outlets(case)] or [box.id for box in case.boxes if box.is_added]
    boxes = [case.tree.box[home] for home in dict.fromkeys(homes) if home in case.tree.box]
    return all(box.room == room for box in boxes) if boxes else case.site.room == room


def _by_use(case: Case, book: Rulebook) -> Answer:
    row = book.table("circuit-uses").printed_row(case.supply.serves)
    own_room = row.text("own_room")
    at_home = own_room is not None and _all_in(case, own_room)
    word = row.printed_text("in_room" if at_home else "lighting")
    things: Things = {"reason": row.printed_text("reason")}
    if word == "by year":
        return _by_year(case, book, row, at_home=at_home)
    outcome = _WORDED[word]
    return _use(case, outcome, said(f"{_LEAD[outcome]}: {{reason}}.", **things), row)


def _by_year(case: Case, book: Rulebook, row: Row, *, at_home: bool) -> Answer:
    """The circuit of the garage receptacles, which an edition brought; a later one lets it feed a small garage."""
    since, bays = book.value("garage-circuit-since"), book.find_value("garage-circuit-bays-with-lights")
    things: Things = {
        "reason": row.printed_text("reason"),
        "year": str(case.site.wired),
        "since": f"{since.number:.0f}",
    }
    if case.site.wired < since.number:
        outcome = Outcome.PASS if at_home else Outcome.CAUTION
        why = "its wiring is older than {since}, when such circuits were first required"
        why += "" if at_home else ", but outlets outside of the garage may not be allowed on it"
    elif at_home and bays is not None and case.site.garage_bays <= bays.number:
        outcome, why = Outcome.PASS, "in a garage with one vehicle bay it may feed other equipment of that garage"
    else:
        outcome, why = Outcome.FAIL, "{reason}"
    answer = _use(case, outcome, said(f"{_LEAD[outcome]}: {why}.", **things), row)
    keys = (_SERVES, case.site.entry("wired"), case.site.entry("garage_bays"))
    more = (since.source, bays.source) if bays is not None else (since.source,)
    return Answer(
        part=answer.part,
        outcome=outcome,
        says=answer.says,
        open_says=answer.open_says,
        sources=merge_sources(answer.sources, more),
        keys=keys,
        to_do=answer.to_do,
        ask=() if outcome is Outcome.PASS else answer.ask,
    )


def _use(case: Case, outcome: Outcome, says: Said, row: Row) -> Answer:
    question = row.text("question")
    return Answer(
        part=case.supply,
        outcome=outcome,
        says=says,
        open_says=said(_LEAD[Outcome.UNDETERMINED] + "."),
        sources=(row.source,),
        keys=(_SERVES,),
        to_do={Outcome.FAIL: _ELSEWHERE, Outcome.UNDETERMINED: _LOOK},
        ask=(question,) if question else (),
    )


def _is_barred(load: Load, case: Case, book: Rulebook) -> bool:
    """Whether a 10 A circuit may not feed it: anything but lights, and exhaust fans of the rooms that are listed."""
    if load.kind == "fan":
        paddle = load.fan == "paddle"
        return paddle or case.tree.box[load.box].room not in book.value("ten-ampere-fan-rooms").items
    return load.kind not in book.value("ten-ampere-circuit").items


def _by_small_rating(case: Case, book: Rulebook) -> Answer | None:
    """What a circuit under the usual ratings may feed, and whether the edition has such a rating up to lighting's."""
    usual, most = book.value("general-circuit-least-rating"), book.value("lighting-circuit-greatest-rating")
    rating, rows = case.supply.breaker_a, book.table("branch-circuit-conductors").rows
    known = [row.printed_number("rating") for row in rows]
    is_known = round(rating, 6) in known
    if exceeds(rating, most.number) or (is_known and not exceeds(usual.number, rating)):
        return None
    things: Things = {"rating": Amount(rating, "A"), "known": ", ".join(map(shown_number, known))}
    keys: tuple[Ref, ...] = (_BREAKER,)
    if not is_known:
        return Answer(
            part=case.supply,
            outcome=Outcome.FAIL,
            says=said("This edition has no {rating} circuit for several outlets: the ratings are {known} A.", **things),
            open_says=said("Cannot tell yet whether this edition has a circuit of this rating.", **things),
            sources=(usual.source,),
            keys=keys,
            to_do={Outcome.FAIL: _RATING, Outcome.UNDETERMINED: _RATING},
            ask=(str(said("Is a {rating} lighting circuit accepted here?", **things)),),
        )
    barred = [load for load in case.loads if _is_barred(load, case, book)]
    things["named"] = ", ".join(f'"{load.id}"' for load in barred)
    what = "A {rating} circuit may feed lights and exhaust fans of bathrooms and laundry rooms only"
    says = said(f"{what}, not {{named}}." if barred else f"{what}, and nothing else is on it.", **things)
    keys += tuple(load.ref._replace(key="fan" if load.kind == "fan" else "kind") for load in barred)
    names = ("ten-ampere-circuit", "ten-ampere-fan-rooms", "ten-ampere-barred-loads")
    return Answer(
        part=case.supply,
        outcome=Outcome.FAIL if barred else Outcome.PASS,
        says=says,
        open_says=said("Cannot tell yet whether a {rating} circuit may feed all that is on this one.", **things),
        sources=tuple(book.value(name).source for name in names),
        keys=keys,
        to_do={Outcome.FAIL: _MOVE, Outcome.UNDETERMINED: _MOVE},
        ask=_FANS if any(load.kind == "fan" for load in case.loads) else (),
    )


def _by_large_rating(case: Case, book: Rulebook) -> Answer | None:
    """A circuit over the rating up to which circuits in dwellings may feed lights."""
    most = book.value("lighting-circuit-greatest-rating")
    if not exceeds(case.supply.breaker_a, most.number):
        return None
    things: Things = {
        "rating": Amount(case.supply.breaker_a, "A"),
        "most": Amount(most.number, "A", Rounding.DOWN),
    }
    if case.site.dwelling:
        outcome = Outcome.FAIL
        says = said("A {rating} circuit may not feed lights in a dwelling: {most} is the most.", **things)
    else:
        outcome = Outcome.CAUTION
        says = said("A {rating} circuit feeds only lights with heavy-duty lampholders.", **things)
    return Answer(
        part=case.supply,
        outcome=outcome,
        says=says,
        open_says=said(
            "Cannot tell yet whether this circuit may feed lights: in a dwelling {most} is the most.", **things
        ),
        sources=(most.source,),
        keys=(_BREAKER, case.site.entry("dwelling")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _RATING),
    )


def _by_voltage(case: Case, book: Rulebook) -> Answer | None:
    """A circuit with more volts between its conductors than new lights in a dwelling unit may have.

    Open elsewhere, and for drivers everywhere: whether the terminals of a driver are those of a light is not said.
    """
    most = book.value("dwelling-luminaire-voltage")
    if not exceeds(case.supply.voltage_v, book.value("one-pole-voltage-most").number):
        return None  # up to 150 V are called 120 V
    light, is_inside = _light_judged(case, book)
    if light is None:
        return None
    things: Things = {
        "volts": Amount(case.supply.voltage_v, "V"),
        "most": Amount(most.number, "V", Rounding.DOWN),
        "light": light.id,
    }
    read = case.supply.measured_voltage_v
    sources: tuple[Source, ...] = (most.source,)
    ask = _ASK_LIGHT
    keys: tuple[Ref, ...] = (Ref("supply", "", "voltage"),)
    if read is not None and not exceeds(read, most.number * (1.0 + book.value("meter-voltage-tolerance").number)):
        outcome, keys = Outcome.UNDETERMINED, (*keys, Ref("supply", "", "measured_voltage"))
        things["read"] = Amount(read, "V")
        says = said("The circuit is given as {volts}, but the meter showed {read}: {most} is the most here.", **things)
    elif is_inside and isinstance(light, Driver):
        outcome, ask = Outcome.UNDETERMINED, _ASK_DRIVER
        sources = (most.source, book.value("driver-of-a-light").source)
        says = said(
            'Whether driver "{light}" may be on {volts} is up to the inspector: lights in a dwelling unit may have at '
            "most {most} between their conductors, and a driver may count as part of its light.",
            **things,
        )
    elif is_inside:
        outcome = Outcome.FAIL
        says = said(
            '"{light}" may not be on {volts}: between the conductors of lights in a dwelling unit {most} is the most.',
            **things,
        )
    else:
        outcome = Outcome.UNDETERMINED
        says = said(
            'Whether "{light}" may be on {volts} is outside what is judged here. In a dwelling unit {most} is the '
            "most; elsewhere more is possible.",
            **things,
        )
    return Answer(
        part=case.supply,
        outcome=outcome,
        says=says,
        open_says=said("Cannot tell yet whether new lights may be on {volts}.", **things),
        sources=sources,
        keys=keys,
        to_do={Outcome.FAIL: _ELSEWHERE, Outcome.UNDETERMINED: _ASK_VOLTS},
        ask=ask if outcome is Outcome.UNDETERMINED else (),
    )


def _light_judged(case: Case, book: Rulebook) -> tuple[Load | Driver | None, bool]:
    """The first added light that is surely in a dwelling unit, else the first light or driver; whether it is in one.

    It stops there, so that the ways to try grow with the loads of unknown kind and not with their power.
    """
    first: Load | Driver | None = None
    for part in added_outlets(case):
        if isinstance(part, Load) and part.kind == "light":
            if _is_inside(part, case, book):
                return part, True
            if first is None:
                first = part
            if not case.site.dwelling:
                break
        elif isinstance(part, Driver) and first is None:
            return part, _is_inside(part, case, book)  # loads come before drivers
    return first, False


def _is_inside(light: Load | Driver, case: Case, book: Rulebook) -> bool:
    """Whether a light or driver is surely in a dwelling unit."""
    if not case.site.dwelling:
        return False
    room = case.tree.box[light.box].room
    if room in book.value("rooms-outside-a-dwelling-unit").items:
        return False
    return case.site.dwelling_units <= 1 or room not in book.value("rooms-shared-by-dwelling-units").items


def _receptacle(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """An added receptacle in a room whose receptacles belong on circuits of their own."""
    if load.kind != RECEPTACLE or not load.is_added or not case.site.dwelling:
        return None
    room = case.tree.box[load.box].room
    row = book.table("receptacle-circuits").find(room)
    if row is None or case.supply.serves in row.printed_text("serves").split(", "):
        return None
    things: Things = {"receptacle": load.id, "reason": row.printed_text("reason"), "room": room}
    fails = row.printed_text("other") == "no" and load.switched_by is None
    lead = '"{receptacle}" may not be on this circuit' if fails else '"{receptacle}" may not belong on this circuit'
    question = row.text("question")
    return Answer(
        part=load,
        outcome=Outcome.FAIL if fails else Outcome.CAUTION,
        says=said(f"{lead}: {{reason}}.", **things),
        open_says=said('Cannot tell yet whether "{receptacle}" may be on this circuit.', **things),
        sources=(row.source,),
        keys=(_SERVES, Ref("box", load.box, "room")),
        to_do=dict.fromkeys(
            (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION),
            ("Feed it from a circuit for the receptacles of that room, or settle it with the permit office.",),
        ),
        ask=(question,) if question else (),
    )


def _room_of(value: Any, book: Rulebook) -> Any:
    """A room that may have a circuit of its own, for all or its receptacles; or what is asked of all other rooms."""
    kept: dict[str, Any] = book.worked_out.setdefault(_room_of, {})
    if value not in kept:
        own = any(row.text("own_room") == value for row in book.table("circuit-uses").rows)
        fans = book.find_value("ten-ampere-fan-rooms")
        lists = (fans, book.value("rooms-outside-a-dwelling-unit"), book.value("rooms-shared-by-dwelling-units"))
        other = tuple(rooms is not None and value in rooms.items for rooms in lists)
        kept[value] = value if own or book.table("receptacle-circuits").find(value) is not None else other
    return kept[value]


def _kind_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A receptacle may belong on a circuit of its room's own; of anything else nothing is asked.

    But a circuit of few amperes may feed no more than lights, and one of many volts perhaps anything but lights.
    """
    least, most = case.book.value("general-circuit-least-rating"), case.book.value("one-pole-voltage-most")
    amperes, volts = values_of(case.supply, "breaker_a"), values_of(case.supply, "voltage_v")
    is_usual = not exceeds(least.number, min(amperes)) and not exceeds(max(volts), most.number)
    return value == RECEPTACLE if is_usual else EACH


RULE = CaseRule[Question | Load](
    name="extend-circuit",
    title="Whether this circuit may feed new lights at all",
    family=Family.SITE,
    rank=230,
    subjects=subjects,
    answer=answer,
    worse={
        "supply.serves": EACH,
        "supply.breaker": EACH,
        "site.dwelling": MORE,
        "site.room": EACH,
        "site.wired": MORE,
        "site.garage_bays": MORE,
        "box.room": EACH,
        "load.kind": _kind_is_worse,
        "load.fan": EACH,
        "load.replaces": LESS,
        "supply.voltage": MORE,
        "supply.measured_voltage": MORE,
        "site.dwelling_units": LESS,
    },
    alike={"load.kind": words_apart("light", RECEPTACLE, "fan"), "box.room": _room_of},
)
