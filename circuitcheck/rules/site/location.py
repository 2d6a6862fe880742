"""Damp and wet places: whether each added light is marked for where it hangs.

What it asks: whether the box of each added light is in a dry, damp or wet place or over a bath, and what its label is
marked for.

Why: water in a luminaire shorts it or makes its metal live. Under a roof outdoors it is damp, without one it is wet.

What to do: read the mark on the label: suitable for damp, or for wet locations. Over a tub or shower take one that is
marked for damp, and for wet where spray can reach it.

Cannot see: where rain and spray really reach. Bathrooms, basements and crawl spaces may be dry or damp: where the
file does not say, that is a reminder.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitcheck.circuit.model import Box, Circuit, Load
from circuitcheck.findings import Finding, Outcome, Source, exceeds
from circuitcheck.rules.parts import added_lights, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

WETNESS = {"dry": 0, "damp": 1, "wet": 2}
WORDS = ("dry", "damp", "wet")


@dataclass(frozen=True, slots=True)
class _Place:
    """How wet a light's place is at best and at worst (0 dry, 1 damp, 2 wet), why, and the key that would tell."""

    best: int
    worst: int
    why: str
    key: str
    source: Source


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light in a place that is, or may be, damp or wet; dry rooms say nothing."""
    mark = book.value("luminaire-location-mark").source
    for load in added_lights(circuit):
        box = circuit.tree.box[load.box]
        place = _place(load, box, room_of(circuit, box), book)
        if place is not None and place.worst > 0:
            yield _finding(load, place, mark)


def _place(load: Load, box: Box, room: str | None, book: Rulebook) -> _Place | None:
    mark, height = book.value("luminaire-location-mark").source, book.value("bath-zone-height")
    key = f"box.{box.id}.location"
    lowest = load.height_over_bath_m
    over_bath = load.over_bath and (lowest is None or exceeds(height.number, lowest.low))
    if over_bath:
        worst = WETNESS[box.location] if box.location in ("damp", "wet") else 2
        return _Place(max(1, WETNESS.get(box.location or "", 0)), worst, "over or beside a bath", key, height.source)
    if box.location is not None:
        stated = WETNESS[box.location]
        return _Place(stated, stated, "as the file says", "", mark)
    outside, perhaps = book.value("outdoor-rooms"), book.value("damp-rooms")
    if room in outside.items:
        return _Place(1, 2, f"by its room ({room}); a roof decides", key, outside.source)
    if room in perhaps.items:
        return _Place(0, 1, f"by its room ({room}), which may be damp", key, perhaps.source)
    return None


def _finding(load: Load, place: _Place, mark: Source) -> Finding:
    key = f"load.{load.id}.location_marked"
    words = WORDS[place.worst] if place.best == place.worst else f"{WORDS[place.best]} or {WORDS[place.worst]}"
    marked = None if load.location_marked is None else WETNESS[load.location_marked]
    needs: tuple[str, ...] = ()
    if marked is None and place.best == 0:
        outcome = Outcome.CAUTION
        says = f"{load.id} hangs in a place that may be damp: choose one that is marked for damp locations."
    elif marked is None:
        outcome, needs = Outcome.UNDETERMINED, (key,)
        says = f"{load.id} hangs in a {words} place; the file does not say what its label is marked for."
    else:
        says = f"{load.id} is marked for {load.location_marked} places and hangs in a {words} one."
        if marked >= place.worst:
            outcome = Outcome.PASS
        elif marked < place.best:
            outcome = Outcome.FAIL
        else:
            outcome, needs = Outcome.UNDETERMINED, (place.key,)
    return Finding(
        check=RULE.name,
        subject=load.id,
        outcome=outcome,
        says=says,
        working=(f"place: {words}, {place.why}",),
        sources=tuple(dict.fromkeys((mark, place.source))),
        needs=needs,
        keys=(key, f"box.{load.box}.location"),
        assumed=(f"{load.id} hangs in a {words} place, {place.why}.",) if place.key else (),
        assumed_keys=(place.key,) if place.key else (),
        to_do=()
        if outcome is Outcome.PASS
        else ("Read the mark on the label: suitable for damp, or for wet locations; or say where the box is.",),
    )


RULE = Rule(
    name="location",
    title="Lights in damp and wet places",
    family="site",
    uses=("value:luminaire-location-mark", "value:damp-rooms", "value:outdoor-rooms", "value:bath-zone-height"),
    check=check,
)
