"""Arc-fault protection: what an extension of the circuit sets off in the rooms that the book lists.

What it asks: whether the circuit that is extended has arc-fault protection, where the room and the edition call for
it.

Why: adding an outlet or a switch in a listed room brings the whole circuit under the rule, however old it is. Watts
do not matter. It is among the first things an inspector looks for.

What to do: plan for a combination-type arc-fault breaker made for the panel, or ask whether a listed outlet-type
device at the first receptacle is accepted. A circuit with a shared neutral needs its own answer.

Cannot see: local amendments, which often change this rule, and whether a panel takes an arc-fault breaker. Dormitory
units and guest rooms are not judged. Which rooms are similar to the listed ones is asked; a basement may be, once it is
finished. In 2017 the rooms of the new work count; from 2020 on also the rooms that the circuit serves already. Experts
differ on where the device may stand when the first outlet is a light.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

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
    order,
    said,
)
from circuitcheck.case.parts import Control, Driver, Load, Part, Supply
from circuitcheck.domain.added_work import added_devices, added_outlets, adds_outlet_or_device, has_added_work
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook

PROTECTED = ("arc-fault", "both")
ASK = (
    "Does the local code keep this arc-fault rule as printed, and where may the protection stand when the first outlet "
    "of the circuit is a light?"
)
TO_DO = (
    "Plan for arc-fault protection of the circuit (a breaker made for this panel, or a listed outlet-type device where "
    "accepted), and settle it with the electrician or the inspector before buying.",
)


class Rooms(NamedTuple):
    """Rooms of the rule: those of the added work, those that the circuit serves already, and those perhaps alike."""

    work: tuple[str, ...]
    served: tuple[str, ...]
    similar: tuple[str, ...]


def _work_rooms(case: Case) -> Iterator[str]:
    """The rooms of what is added, boxes too; where nothing but cable is added, the room of the job."""
    homes = [part.box for part in added_outlets(case)] + [control.box for control in added_devices(case)]
    homes += [box.id for box in case.boxes if box.is_added]
    if not homes:
        yield case.site.room
    for home in homes:
        yield case.tree.box[home].room


def _served_rooms(case: Case) -> Iterator[str]:
    """The rooms of outlets and switches that were there before; a box with splices alone tells of none."""
    new = {part.ref for part in (*added_outlets(case), *added_devices(case))}
    hung: tuple[Load | Driver | Control, ...] = (*case.loads, *case.drivers, *case.controls)
    return (case.tree.box[part.box].room for part in hung if part.ref not in new)


def _rooms(case: Case, book: Rulebook) -> Rooms:
    listed, similar = book.value("arc-fault-rooms").items, book.value("arc-fault-similar-rooms").items
    work = list(dict.fromkeys(_work_rooms(case)))
    found = tuple(room for room in work if room in listed)
    served: tuple[str, ...] = ()
    if not found and book.value("arc-fault-extension-wording").text == "for":
        served = tuple(dict.fromkeys(room for room in _served_rooms(case) if room in listed))
    return Rooms(found, served, tuple(room for room in work if room in similar))


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """Whether the extension has the arc-fault protection that the edition requires."""
    if not has_added_work(case) or not case.site.dwelling:
        return None
    if exceeds(supply.voltage_v, book.value("one-pole-voltage-most").number):
        return None  # the rule is about circuits of 120 V
    short, largest = book.value("arc-fault-short-extension"), book.value("arc-fault-largest-circuit")
    rooms = _rooms(case, book)
    if not any(rooms):
        return None
    adds = adds_outlet_or_device(case)
    total_m = sum(cable.length_m for cable in case.tree.branch_cables if cable.is_added)
    exempt = not adds and not exceeds(total_m, short.number)
    things: Things = {
        "where": ", ".join(rooms.work or rooms.similar),
        "served": ", ".join(rooms.served),
        "short": Amount(in_unit(short.number, "ft"), "ft", Rounding.DOWN),
        "largest": Amount(largest.number, "A"),
        "protection": supply.protection,
    }
    outcome, says = _judged(supply, rooms, exempt, exceeds(supply.breaker_a, largest.number), things)
    similar = bool(rooms.similar) and outcome is Outcome.CAUTION and not rooms.work and not rooms.served
    return Answer(
        part=supply,
        outcome=outcome,
        says=says,
        open_says=said("Cannot tell yet whether this extension needs arc-fault protection and has it.", **things),
        working=lambda: (
            said("rooms of the added work: {where}", **things),
            # Asked only where the rooms of the new work do not decide by themselves.
            *((said("listed rooms that the circuit serves already: {served}", **things),) if rooms.served else ()),
            said("protection: {protection}", **things),
            said("the exception for at most {short} of cable " + ("holds" if exempt else "does not hold"), **things),
        ),
        sources=merge_sources(
            (book.value("arc-fault-rooms").source, short.source, largest.source),
            (book.value("arc-fault-extension-wording").source,) if rooms.served else (),
            (book.value("arc-fault-similar-rooms").source,) if similar else (),
        ),
        keys=(supply.entry("protection"), case.site.entry("room")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), TO_DO),
        ask=_questions(outcome, things, similar=similar),
    )


def _questions(outcome: Outcome, things: Things, *, similar: bool) -> tuple[str, ...]:
    if outcome is Outcome.PASS:
        return ()
    alike = said("Does {where} count as similar to the rooms of the arc-fault rule?", **things)
    return (str(alike), ASK) if similar else (ASK,)


def _judged(supply: Supply, rooms: Rooms, exempt: bool, oversized: bool, things: Things) -> tuple[Outcome, Said]:
    if oversized:
        return Outcome.CAUTION, said(
            "The arc-fault rule is for circuits up to {largest}: once this breaker suits its wire, it applies.",
            **things,
        )
    if supply.protection in PROTECTED:
        return Outcome.PASS, said("The circuit has arc-fault protection, which an extension may require.", **things)
    if exempt:
        says = said("Only a splice is moved: at most {short} of cable, and no outlet or device is added.", **things)
        return Outcome.PASS, says
    if rooms.work:
        return Outcome.FAIL, said(
            "Adding to the circuit in {where} requires arc-fault protection of the whole circuit, and it has none.",
            **things,
        )
    if rooms.served:
        return Outcome.FAIL, said(
            "The circuit also serves {served}: extending it requires arc-fault protection, and it has none.", **things
        )
    says = said(
        "An extension in {where} may count as one in a listed room, which requires arc-fault protection.", **things
    )
    return Outcome.CAUTION, says


def room_is_worse(value: Any, part: Part, case: Case) -> tuple[bool, bool]:
    """A listed room is worse than one that may be similar, and that than any other."""
    listed, similar = case.book.value("arc-fault-rooms").items, case.book.value("arc-fault-similar-rooms").items
    return value in listed, value in similar


def _adding_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A light that is an outlet more brings its room; where only cable is added besides, it hides the job's."""
    return -value if any(box.is_added for box in case.boxes) else EACH


RULE = CaseRule[Supply](
    name="arc-fault",
    title="Arc-fault protection when a circuit is extended",
    family=Family.SITE,
    rank=250,
    subjects=lambda case: (case.supply,),
    answer=answer,
    worse={
        "supply.protection": order("both", "arc-fault", "ground-fault", "none"),
        "supply.breaker": EACH,
        "supply.voltage": LESS,
        "site.room": room_is_worse,
        "box.room": room_is_worse,
        "site.dwelling": MORE,
        "cable.length": MORE,
        "load.replaces": _adding_is_worse,
    },
)
