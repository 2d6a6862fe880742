"""Ground-fault protection: where the book asks for it at new lights and receptacles, and where only a label may.

What it asks: for each added light in a crawl space, each added receptacle in a room that the book lists, and each
added light over a bath, outdoors or in a bathroom, whether the circuit has ground-fault protection.

Why: it cuts the power when current finds its way through a person. In a crawl space or a bathroom one stands on
earth or on wet ground.

What to do: in a crawl space feed the lights behind a ground-fault breaker or device. A new receptacle can carry its
own protection. For lights over a bath read the label: many ask for it.

Cannot see: a protecting device that stands somewhere between the panel and the light, a receptacle within 6 ft of a
sink or a tub, local amendments, and what the label says.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import added_lights, is_added, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value

PROTECTION = "supply.protection"
PROTECTED = ("ground-fault", "both")
ASK = "Does the label of the light, or local code, call for ground-fault protection here?"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light or receptacle to which one of these clauses may speak."""
    lights, receptacles = book.value("ground-fault-light-rooms"), book.value("ground-fault-receptacle-rooms")
    perhaps = book.value("ground-fault-receptacle-rooms-in-part")
    outdoors = book.find_value("ground-fault-outdoor-lights-free")
    asked = book.value("ground-fault-asked-rooms")
    for load in added_lights(circuit):
        room = room_of(circuit, circuit.tree.box[load.box])
        if room in lights.items:
            yield _required(load, circuit.supply.protection, lights)
        elif load.over_bath or room in asked.items:
            yield _asked(load, circuit.supply.protection, room, (outdoors or lights, asked))
    for load in circuit.loads:
        if load.kind == "receptacle" and is_added(load):
            room = room_of(circuit, circuit.tree.box[load.box])
            if circuit.site.dwelling is not False and room in (*receptacles.items, *perhaps.items):
                part = perhaps if room in perhaps.items else None
                yield _receptacle(load, circuit.supply.protection, room or "", receptacles, part)


def _required(load: Load, protection: str | None, rooms: Value) -> Finding:
    needs: tuple[str, ...] = ()
    if protection in PROTECTED:
        outcome, says = Outcome.PASS, f"The circuit of {load.id} has ground-fault protection, as a crawl space asks."
    elif protection is None:
        outcome, needs = Outcome.UNDETERMINED, (PROTECTION,)
        says = f"{load.id} hangs in a crawl space; cannot tell whether its circuit has ground-fault protection."
    else:
        outcome = Outcome.FAIL
        says = f"{load.id} hangs in a crawl space, where lights need ground-fault protection; its circuit has none."
    return Finding(
        check=RULE.name,
        subject=load.id,
        outcome=outcome,
        says=says,
        sources=(rooms.source,),
        needs=needs,
        keys=(PROTECTION, f"box.{load.box}.room"),
        to_do=()
        if outcome is Outcome.PASS
        else ("Plan a ground-fault breaker, or a ground-fault device before the crawl space, with the electrician.",),
    )


def _asked(load: Load, protection: str | None, room: str | None, values: tuple[Value, ...]) -> Finding:
    """A light where nothing in the book asks for it, but its label or the place may."""
    if protection in PROTECTED:
        outcome, says = Outcome.PASS, f"The circuit of {load.id} has ground-fault protection."
    elif load.over_bath:
        outcome, says = (
            Outcome.CAUTION,
            f"{load.id} is over or beside a bath: its label may ask for ground-fault protection.",
        )
    else:
        outcome = Outcome.PASS
        says = f"The rulebook asks for no ground-fault protection of {load.id} ({room}); its label or local code may."
    open_question = protection not in PROTECTED
    return Finding(
        check=RULE.name,
        subject=load.id,
        outcome=outcome,
        says=says,
        sources=tuple(value.source for value in values),
        keys=(PROTECTION, f"load.{load.id}.over_bath"),
        to_do=() if outcome is Outcome.PASS else ("Read the light's label and instructions before it is put up.",),
        ask=(ASK,) if open_question else (),
    )


def _receptacle(load: Load, protection: str | None, room: str, rooms: Value, in_part: Value | None) -> Finding:
    if protection in PROTECTED:
        outcome, says = Outcome.PASS, f"The circuit of {load.id} has ground-fault protection, which a {room} calls for."
    elif in_part is not None:
        outcome = Outcome.CAUTION
        says = f"{load.id} ({room}) may need ground-fault protection: {in_part.note or 'a part of such rooms does'}"
    else:
        outcome = Outcome.CAUTION
        says = f"{load.id} ({room}) needs ground-fault protection: fit a receptacle that carries its own."
    return Finding(
        check=RULE.name,
        subject=load.id,
        outcome=outcome,
        says=says,
        sources=(rooms.source, *((in_part.source,) if in_part else ())),
        keys=(PROTECTION, f"box.{load.box}.room"),
        to_do=() if outcome is Outcome.PASS else ("Plan a receptacle with its own ground-fault protection.",),
        ask=("Does this receptacle need ground-fault protection?",) if in_part and outcome is not Outcome.PASS else (),
    )


RULE = Rule(
    name="ground-fault",
    title="Ground-fault protection of new lights and receptacles",
    family="site",
    uses=(
        "value:ground-fault-light-rooms",
        "value:ground-fault-outdoor-lights-free",
        "value:ground-fault-asked-rooms",
        "value:ground-fault-receptacle-rooms",
        "value:ground-fault-receptacle-rooms-in-part",
    ),
    check=check,
)
