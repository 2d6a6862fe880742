"""Damp and wet places: whether each added light is marked for where it hangs.

What it asks: whether the box of each added light is in a dry, damp or wet place, and what its label is marked for.

Why: water in a luminaire shorts it or makes its metal live. Bathrooms are damp, outdoors without a roof is wet.

What to do: read the mark on the label: suitable for damp, or for wet locations. Ask whether ground-fault protection
is called for there.

Cannot see: where rain and spray really reach. Ground-fault protection of lights is mostly up to the label and local
code, so it is asked, not decided.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import added_lights, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

WETNESS = {"dry": 0, "damp": 1, "wet": 2}
ASK = ("Does this place or the label call for ground-fault protection of the new lights?",)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light in a place that is, or may be, damp or wet; dry rooms say nothing."""
    mark = book.value("luminaire-location-mark")
    damp = book.value("damp-rooms")
    for load in added_lights(circuit):
        box = circuit.tree.box[load.box]
        room = room_of(circuit, box)
        place = box.location
        if place is None:
            place = "wet" if room == "outdoors" else "damp" if room in damp.items else "dry"
            stated = False
        else:
            stated = True
        if place == "dry":
            continue
        key = f"load.{load.id}.location_marked"
        needs: tuple[str, ...] = ()
        if load.location_marked is None:
            outcome, needs = Outcome.UNDETERMINED, (key,)
            says = f"{load.id} hangs in a {place} place; the file does not say what its label is marked for."
        elif WETNESS[load.location_marked] < WETNESS[place]:
            outcome = Outcome.FAIL if stated or place == "damp" else Outcome.UNDETERMINED
            needs = () if outcome is Outcome.FAIL else (f"box.{box.id}.location",)
            says = f"{load.id} is marked for {load.location_marked} places and hangs in a {place} one."
        else:
            outcome, says = (
                Outcome.PASS,
                (f"{load.id} is marked for {load.location_marked} places and hangs in a {place} one."),
            )
        if outcome is Outcome.PASS and circuit.supply.protection not in ("ground-fault", "both"):
            outcome = Outcome.CAUTION
            says += " Ask whether ground-fault protection is called for."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            working=(f"room: {room or 'unknown'}; place taken as {place}" + ("" if stated else ", by its room"),),
            sources=(mark.source, damp.source),
            needs=needs,
            keys=(key, f"box.{box.id}.location"),
            assumed=() if stated else (f"box {box.id} is in a {place} place, by its room.",),
            assumed_keys=() if stated else (f"box.{box.id}.location",),
            to_do=()
            if outcome is Outcome.PASS
            else ("Read the mark on the label: suitable for damp, or for wet locations.",),
            ask=() if outcome is Outcome.PASS else ASK,
        )


RULE = Rule(
    name="location",
    title="Lights in damp and wet places",
    family="site",
    uses=("value:luminaire-location-mark", "value:damp-rooms"),
    check=check,
)
