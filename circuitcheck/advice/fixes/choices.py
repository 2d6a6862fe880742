"""Parts that are still to be bought or placed, chosen with another mark or at another place: which entry does for which
check.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, DONE_AT_BOX, Asked, Step, chosen, is_there
from circuitcheck.circuit.change import ALTER
from circuitcheck.circuit.edits import PlanChange
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.refs import Ref


@dataclass(frozen=True, slots=True)
class Choice:
    """Entries of a part that is not there yet, and how a sentence says them behind its name.

    what: how the sentence begins; the name of the part goes in.
    """

    section: str
    entries: Mapping[str, Any]
    words: str
    costs: float = CHOSEN
    what: str = 'Choose another "{part}"'


_CABLE = 'Choose other cable for "{part}"'
_DOUBLE_INSULATED = {"grounding": "double-insulated", "metal_parts": False}

#: Check -> what can be chosen otherwise, the smallest wish first.
CHOICES: Mapping[str, tuple[Choice, ...]] = {
    "listed-luminaire": tuple(
        Choice(section, {"listed": True}, "with the mark of a testing laboratory")
        for section in ("load", "driver", "low_voltage_load")
    ),
    "location": tuple(
        Choice(section, {"location_marked": place}, f"marked for {place} places", CHOSEN + costs)
        for section in ("load", "driver", "low_voltage_load")
        for costs, place in ((0.0, "damp"), (0.1, "wet"))
    ),
    "supply-temperature": (Choice("load", {"supply_temperature": "60 degC"}, "marked for 60 °C (140 °F) supply wire"),),
    "cord-connected": (Choice("load", {"converted": False}, "made to be wired in, not one whose plug is cut off"),),
    "equipment-ground": (
        Choice("load", {"grounding": "wire"}, "with a lead for the equipment ground"),
        Choice("load", _DOUBLE_INSULATED, "marked double-insulated", CHOSEN + 0.1),
    ),
    "box-support": (
        Choice("box", {"made_for": "luminaire", "support_limit": "50 lb"}, "made for a light, marked for 50 lb"),
        Choice("box", {"made_for": "fan", "support_limit": "50 lb"}, "made for a fan, marked for 50 lb", CHOSEN + 0.1),
    ),
    "cable-place": (Choice("cable", {"type": "UF-B"}, "UF-B, which may be where it is wet", what=_CABLE),),
    "low-voltage-method": (
        Choice("cable", {"type": "class 2 cable"}, "marked CL2", what=_CABLE),
        Choice("cable", {"concealed": False}, "in the open all along", CHOSEN + 0.5, 'Run "{part}" otherwise'),
    ),
    "driver-access": (
        Choice("driver", {"reachable": True}, "where it can be reached without opening a wall", what='Put "{part}"'),
    ),
    "neutral-at-switch": (Choice("control", {"needs_neutral": False}, "of a kind that works without a neutral"),),
}


def choice_steps(asked: Asked) -> Iterator[Step]:
    """What is still to be bought or placed, chosen otherwise."""
    for choice in CHOICES.get(asked.finding.check, ()):
        part = asked.part(SECTIONS[choice.section].attribute)
        if part is not None and not is_there(part):
            entries = {**choice.entries}
            if "product" in SECTIONS[choice.section].keys:
                entries["product"] = None
            says = f"{choice.what.format(part=part.id)}: {choice.words}."
            edit = chosen(asked.circuit, choice.section, part, entries)
            yield Step(says, (edit,), choice.costs)


def bonding_steps(asked: Asked) -> Iterator[Step]:
    """A metal box joined to the equipment ground that arrives in it."""
    box = asked.part("boxes")
    if box is None or box.bonded is True or box.ground is not True:
        return
    if is_there(box):
        says = f'Join metal box "{box.id}" to the equipment ground that arrives in it, by a screw made for that.'
        yield Step(says, (PlanChange(Ref("box", box.id), ALTER, {"bonded": True}),), DONE_AT_BOX)
    else:
        says = f'Plan a joint from the equipment ground to metal box "{box.id}".'
        yield Step(says, (chosen(asked.circuit, "box", box, {"bonded": True}),), CHOSEN)
