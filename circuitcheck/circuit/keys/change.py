"""The keys of ``[[change]]``: what the work does to a part that is there, and what its ``new`` may say.

It is no section of parts, so it does not stand in ``SECTIONS``.
"""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.change import ALTER, MOVE, REMOVE, REPLACE
from circuitcheck.circuit.keys.box import BOX
from circuitcheck.circuit.keys.cable import CABLE
from circuitcheck.circuit.keys.job import SUPPLY
from circuitcheck.circuit.keys.key import Key, Section, section, text, word
from circuitcheck.circuit.keys.load import CONTROL, LOAD
from circuitcheck.circuit.keys.low_voltage import DRIVER

CHANGE = section(
    "change",
    "Change to a part that is there",
    "changes",
    text("part", "Part that is changed", required=True),
    word("action", "What is done with it", REPLACE, REMOVE, MOVE, ALTER, required=True),
)

#: The sections whose parts can be changed; of a single one no more than the key words below.
CHANGEABLE: Mapping[str, Section] = {part.name: part for part in (SUPPLY, BOX, CABLE, LOAD, DRIVER, CONTROL)}

#: What belongs to the place and stays when another part is put there.
OF_THE_PLACE: Mapping[str, frozenset[str]] = {
    "box": frozenset(
        {
            "id",
            "room",
            "location",
            "fixture_wires",
            "fixture_ground",
            "canopy",
            "unbroken",
            "other_cables",
            "ground",
            "neutral",
            "reachable",
            "fan_could_hang",
        }
    ),
    "cable": frozenset({"id", "from", "to", "carries", "switched_by"}),
    "load": frozenset({"id", "box", "kind", "quantity", "switched_by", "over_bath", "in_spray", "in_insulation"}),
    "driver": frozenset({"id", "box", "switched_by", "reachable", "in_insulation"}),
    "control": frozenset({"id", "box", "ways", "with"}),
}

#: What belongs to the place and is unknown when the part itself goes elsewhere.
LEFT_BEHIND: Mapping[str, frozenset[str]] = {
    "box": frozenset(
        {
            "room",
            "location",
            "mounting",
            "unbroken",
            "other_cables",
            "ground",
            "neutral",
            "reachable",
            "covered",
            "fan_could_hang",
        }
    ),
    "cable": frozenset(
        {
            "length",
            "place",
            "ambient",
            "bundled_with",
            "current_carrying",
            "conductor_temperature",
            "sealed_hole_with",
            "run",
            "concealed",
            "exposed_to_damage",
            "plates",
            "edge_distance",
            "support_spacing",
            "support_from_box",
            "free_length",
            "guard_strips",
            "near_hatch",
            "in_insulation",
        }
    ),
    "load": frozenset(
        {
            "switched_by",
            "over_bath",
            "height_over_bath",
            "in_spray",
            "in_insulation",
            "closet_distance",
            "combustible_distance",
            "replaces",
        }
    ),
    "driver": frozenset({"switched_by", "reachable", "in_insulation"}),
    "control": frozenset({"ways", "with"}),
}

#: What nobody knows any more of a cable that goes another way; how much is left free in a box is no matter of the way.
OF_THE_WAY: tuple[str, ...] = tuple(key for key in CABLE.keys if key in LEFT_BEHIND["cable"] - {"free_length"})

#: What can be altered in a part that stays: taken out, added to it, or laid otherwise.
ALTERABLE: Mapping[str, frozenset[str]] = {
    "supply": frozenset({"protection"}),
    "box": frozenset(
        {"internal_clamps", "extensions", "fittings", "devices", "terminal_blocks", "covered", "bonded"}
        | {"class_2_barrier", "reachable", "unbroken"}
    ),
    "cable": LEFT_BEHIND["cable"] - {"length"} | {"white_remarked"},
    "load": frozenset({"switched_by", "fitted", "in_insulation", "combustible_distance", "closet_distance"}),
    "driver": frozenset({"switched_by", "reachable", "in_insulation"}),
    "control": frozenset(),
}

#: What a new part brings into the box that it is connected in: keys of that box.
BROUGHT: Mapping[str, frozenset[str]] = {
    "load": frozenset({"fixture_wires", "fixture_ground", "canopy"}),
    "driver": frozenset({"fixture_wires", "fixture_ground"}),
    "control": frozenset({"devices"}),
}

#: Keys of which a move has to name at least one: where the part goes.
PLACE_KEYS: Mapping[str, tuple[str, ...]] = {
    "cable": ("from", "to"),
    "load": ("box",),
    "driver": ("box",),
    "control": ("box",),
}

_OF_THE_SUPPLY = ("protection", "device")


def new_keys(section: str, action: str) -> Mapping[str, Key]:
    """What ``new`` may say of a part of this section."""
    keys = CHANGEABLE[section].keys
    if action == REMOVE:
        return {}
    if action == ALTER:
        return {name: key for name, key in keys.items() if name in ALTERABLE[section]}
    if section == "supply":
        return {name: keys[name] for name in _OF_THE_SUPPLY if action == REPLACE}
    ends = PLACE_KEYS.get(section, ())
    never = {"id", "origin", "replaces", "on_at_reading", *(() if action == MOVE else ends)}
    allowed = {name: key for name, key in keys.items() if name not in never}
    if action == MOVE:
        allowed = {name: key for name, key in allowed.items() if name in {*ends, *LEFT_BEHIND[section]}}
    return allowed | {name: BOX.keys[name] for name in sorted(BROUGHT.get(section, ()))}
