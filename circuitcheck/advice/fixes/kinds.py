"""Which kinds of step are tried for which check, and what only others can do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from circuitcheck.advice.fixes.boxes import room_steps, support_steps
from circuitcheck.advice.fixes.cables import (
    apart_steps,
    inside_steps,
    other_feed_steps,
    planned_number_steps,
    plates_steps,
    thicker_steps,
)
from circuitcheck.advice.fixes.choices import bonding_steps, choice_steps
from circuitcheck.advice.fixes.controls import dimmer_steps, made_for_driver_steps, plain_switch_steps
from circuitcheck.advice.fixes.grounds_and_neutrals import grounded_cable_steps, neutral_cable_steps
from circuitcheck.advice.fixes.loads import fewer_steps, less_power_steps, replacement_steps
from circuitcheck.advice.fixes.low_voltage import driver_steps, lead_steps, least_load_steps
from circuitcheck.advice.fixes.protection import protection_steps
from circuitcheck.advice.fixes.step import Asked, Kind, Step
from circuitcheck.errors import NotInBookError
from circuitcheck.outcomes import check_words
from circuitcheck.tables.rulebook import Rulebook

_LESS_LOAD: tuple[Kind, ...] = (less_power_steps, replacement_steps, fewer_steps)

KINDS: Mapping[str, tuple[Kind, ...]] = {
    "load-share": _LESS_LOAD,
    "fixed-equipment-share": _LESS_LOAD,
    "breaker-vs-wire": (thicker_steps,),
    "wire-size": (thicker_steps,),
    "ampacity": (thicker_steps, apart_steps, inside_steps, *_LESS_LOAD),
    "voltage-drop": (thicker_steps, *_LESS_LOAD),
    "box-fill": (room_steps, other_feed_steps),
    "switch-box-source": (other_feed_steps,),
    "arc-fault": (protection_steps,),
    "ground-fault": (protection_steps,),
    "supply-temperature": (choice_steps,),
    "listed-luminaire": (choice_steps,),
    "location": (choice_steps,),
    "cord-connected": (choice_steps,),
    "equipment-ground": (choice_steps, grounded_cable_steps, other_feed_steps),
    "neutral-at-switch": (choice_steps, plain_switch_steps, neutral_cable_steps),
    "box-support": (choice_steps, support_steps),
    "box-bonding": (bonding_steps,),
    "cable-place": (choice_steps, inside_steps),
    "cable-in-insulation": (apart_steps,),
    "dimmer-rating": (dimmer_steps, less_power_steps),
    "dimmer-least-load": (dimmer_steps,),
    "driver-capacity": (driver_steps,),
    "class-2": (driver_steps,),
    "low-voltage-drop": (lead_steps,),
    "low-voltage-method": (choice_steps,),
    "driver-access": (choice_steps,),
    "driver-least-load": (least_load_steps,),
    "driver-dimming": (made_for_driver_steps,),
    "cable-support": (planned_number_steps,),
    "free-conductor": (planned_number_steps,),
    "cable-edge": (plates_steps,),
    "attic-protection": (plates_steps,),
}

OWN_CIRCUIT = "A circuit of its own for the new lights, by a licensed electrician."
RIGHT_BREAKER = "A breaker or fuse that suits the wire that is there, never a larger one, by a licensed electrician."
#: Check -> what only an electrician, or another circuit, can put right.
OTHER_WAYS: Mapping[str, str] = {
    "breaker-vs-wire": RIGHT_BREAKER,
    "ampacity": RIGHT_BREAKER,
    "shared-neutral": (
        "The shared neutral set right at the panel, with breakers whose handles move together, by a licensed "
        "electrician."
    ),
    "equipment-ground": (
        "An equipment ground brought to the box that is there, from a point that the code allows, by a licensed "
        "electrician."
    ),
    "extend-circuit": "Another circuit of the house that may be extended; compare --on tries the new parts on it.",
    "driver-input": (
        "Another lighting circuit that low-voltage lighting may be fed from; compare --on tries the new parts on it."
    ),
}
CALL = "No fix is offered while the job is stopped: leave the wiring alone and call a licensed electrician first."


def steps_for(asked: Asked, not_tried: dict[str, None] | None = None) -> Iterator[Step]:
    """What could be done about a finding, each once, the cheapest first.

    ``not_tried`` gets the check of which some step needs a number that the book has not got.
    """
    steps: dict[str, Step] = {}
    for kind in KINDS.get(asked.finding.check, ()):
        try:
            for step in kind(asked):
                steps.setdefault(step.key, step)
        except NotInBookError:
            if not_tried is not None:
                not_tried[asked.finding.check] = None
    yield from sorted(steps.values(), key=lambda step: step.costs)


def other_ways(checks: set[str]) -> tuple[str, ...]:
    """What is no change to this file: told without a number."""
    return tuple(dict.fromkeys((OWN_CIRCUIT, *(way for check, way in OTHER_WAYS.items() if check in checks))))


def ways_not_tried(book: Rulebook, checks: Iterable[str]) -> tuple[str, ...]:
    """What is said of changes for these checks for which the book has no number; told without a number too."""
    words = ", ".join(map(check_words, checks))
    return (f"Not every change was tried, because {book.title} has no number for it: {words}.",) if words else ()
