"""Arc-fault protection: what an extension of the circuit sets off in the rooms that the book lists.

What it asks: whether the circuit that is extended has arc-fault protection, where the room and the edition call for
it.

Why: adding an outlet or a switch in a listed room brings the whole circuit under the rule, however old it is. Watts
do not matter. It is among the first things an inspector looks for.

What to do: plan for a combination-type arc-fault breaker made for the panel, or ask whether a listed outlet-type
device at the first receptacle is accepted. A circuit with a shared neutral needs its own answer.

Cannot see: local amendments, which often change this rule, and whether a panel takes an arc-fault breaker. Dormitory
units and guest rooms are not judged. Which rooms are similar to the listed ones is asked, and so is a circuit whose
other outlets stand in listed rooms. Experts differ on where the device may stand when the first outlet is a light.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import (
    EXISTING,
    has_added_device,
    has_added_outlet,
    has_added_work,
    is_added,
    room_of,
)
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value

PROTECTION = "supply.protection"
ROOM, DWELLING = "site.room", "site.dwelling"
ASK = (
    "Does the local code keep this arc-fault rule as printed, and where may the protection stand when the first outlet "
    "of the circuit is a light?"
)
TO_DO = (
    "Plan for arc-fault protection of the circuit (a breaker made for this panel, or a listed outlet-type device where "
    "accepted), and settle it with the electrician or the inspector before buying."
)


@dataclass(frozen=True, slots=True)
class _Rooms:
    """Rooms of the added work that are listed, that may count as similar, and whether one is unknown.

    ``elsewhere``: listed rooms in which other outlets of the circuit stand.
    """

    listed: tuple[str, ...]
    similar: tuple[str, ...]
    unknown: bool
    elsewhere: tuple[str, ...]


def _rooms(circuit: Circuit, listed: frozenset[str], similar: frozenset[str]) -> _Rooms:
    boxes = circuit.tree.box
    homes = [load.box for load in circuit.loads if is_added(load)]
    homes += [driver.box for driver in circuit.drivers if driver.origin != EXISTING]
    homes += [control.box for control in circuit.controls if control.origin != EXISTING]
    homes = homes or [box.id for box in circuit.boxes if is_added(box)] or [""]
    rooms = {room_of(circuit, boxes.get(home)) for home in homes}
    others = {boxes[load.box].room for load in circuit.loads if not is_added(load)}
    known = {room for room in rooms if room is not None}
    return _Rooms(
        tuple(sorted(known & listed)),
        tuple(sorted(known & similar)),
        None in rooms,
        tuple(sorted(room for room in others if room in listed)),
    )


def _short_extension(circuit: Circuit, longest_m: float) -> bool | None:
    """Whether all added cable together is short enough for the exception; None when a length is unknown."""
    total = 0.0
    for cable in circuit.tree.branch_cables:
        if is_added(cable):
            if cable.length_m is None:
                return None
            total += cable.length_m.high
    return not exceeds(total, longest_m)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """At most one finding, about the circuit; none where nothing is added or the rule cannot apply."""
    listed, similar = book.value("arc-fault-rooms"), book.value("arc-fault-similar-rooms")
    short, largest = book.value("arc-fault-short-extension"), book.value("arc-fault-largest-circuit")
    if not has_added_work(circuit) or circuit.site.dwelling is False:
        return
    rooms = _rooms(circuit, frozenset(listed.items), frozenset(similar.items))
    if not (rooms.listed or rooms.similar or rooms.unknown or rooms.elsewhere):
        return
    if exceeds(circuit.supply.breaker_a.low, largest.number):
        yield _oversized(largest)
        return
    adds = has_added_outlet(circuit) or has_added_device(circuit)
    exempt = None if adds else _short_extension(circuit, short.number)
    protection = circuit.supply.protection
    outcome, says, needs, ask = _judged(circuit, rooms, exempt, in_unit(short.number, "ft"))
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        working=(
            f"rooms of the added work: {_where(rooms)}",
            f"protection: {protection or 'unknown'}",
            f"exception for at most {in_unit(short.number, 'ft'):g} ft of cable: "
            + ("holds, no outlet or device is added" if exempt else "does not hold or is not shown to"),
        ),
        sources=(
            listed.source,
            short.source,
            largest.source,
            *((similar.source,) if rooms.similar and not rooms.listed else ()),
        ),
        needs=needs,
        keys=(PROTECTION, ROOM),
        to_do=() if outcome is Outcome.PASS else (TO_DO,),
        ask=() if outcome is Outcome.PASS else (*ask, ASK),
    )


def _oversized(largest: Value) -> Finding:
    """A breaker or fuse over the ratings that the rule names; with one that suits the wire it would apply."""
    return Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.CAUTION,
        says=f"The arc-fault rule speaks of circuits up to {largest.number:g} A: once the breaker of this one suits "
        "its wire, the rule applies.",
        sources=(largest.source,),
        keys=("supply.breaker", PROTECTION),
        to_do=(TO_DO,),
        ask=(ASK,),
    )


def _where(rooms: _Rooms) -> str:
    named = rooms.listed or rooms.similar
    return ", ".join(named) if named else "a room that the file does not name" if rooms.unknown else "none listed"


def _judged(
    circuit: Circuit, rooms: _Rooms, exempt: bool | None, short_ft: float
) -> tuple[Outcome, str, tuple[str, ...], tuple[str, ...]]:
    """Outcome, sentence, keys that are needed and questions."""
    protection, where = circuit.supply.protection, _where(rooms)
    if protection in ("arc-fault", "both"):
        return Outcome.PASS, "The circuit has arc-fault protection, which an extension may call for.", (), ()
    if exempt:
        says = f"Only a splice is moved: the added cable is at most {short_ft:g} ft and no outlet or device is added."
        return Outcome.PASS, says, (), ()
    open_keys = tuple(
        key
        for key, unknown in (
            (PROTECTION, protection is None),
            (ROOM, rooms.unknown and not rooms.listed),
            (DWELLING, circuit.site.dwelling is None),
        )
        if unknown
    )
    if rooms.listed and not open_keys:
        says = f"Adding an outlet in {where} calls for arc-fault protection of the whole circuit, and it has none."
        return Outcome.FAIL, says, (), ()
    if rooms.listed or rooms.unknown:
        says = (
            f"An extension in {where} may call for arc-fault protection of the whole circuit; the file does not "
            "settle it."
        )
        return Outcome.UNDETERMINED, says, open_keys, ()
    if rooms.similar:
        says = f"An extension in {where} may count as one in a listed room, which calls for arc-fault protection."
        return Outcome.CAUTION, says, (), (f"Does {where} count as similar to the rooms of the arc-fault rule?",)
    other = ", ".join(rooms.elsewhere)
    says = f"The new work is in no room of the arc-fault rule, but the circuit also serves {other}."
    return (
        Outcome.CAUTION,
        says,
        (),
        (f"Does extending a circuit that also serves {other} call for arc-fault protection?",),
    )


RULE = Rule(
    name="arc-fault",
    title="Arc-fault protection when a circuit is extended",
    family="site",
    uses=(
        "value:arc-fault-rooms",
        "value:arc-fault-similar-rooms",
        "value:arc-fault-short-extension",
        "value:arc-fault-largest-circuit",
    ),
    check=check,
)
