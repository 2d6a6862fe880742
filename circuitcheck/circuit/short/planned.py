"""What an added part may take over from another, or from a file's defaults: what is planned, never what was found.

Whatever was read or measured at one place says nothing about another: there it stays unknown, and is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.short.cable_print import PRINTED_KEYS

#: Where a part is, and what is found out on each part by itself: neither copied nor given as a default.
_EACH_ITS_OWN: Mapping[str, frozenset[str]] = {
    "box": frozenset({"id", "origin", "volume", "extensions", "ground", "neutral", "unbroken"}),
    "cable": frozenset({"id", "origin", "from", "to", "length", "ground"}),
    "load": frozenset({"id", "origin", "box"}),
    "driver": frozenset({"id", "origin", "box", "paralleled_with"}),
    "low_voltage_load": frozenset({"id", "origin", "length"}),
    "control": frozenset({"id", "origin", "box", "with"}),
    "framing": frozenset({"id", "origin", "cable", "depth"}),
}

#: What its place decides: a default may say it for all, but one part is no evidence for the next.
_OF_THE_PLACE: Mapping[str, frozenset[str]] = {
    "box": frozenset({"depth"}),
    "cable": frozenset(
        {
            "ambient",
            "bundled_with",
            "conductor_temperature",
            "current_carrying",
            "in_insulation",
            "near_hatch",
            "sealed_hole_with",
        }
    ),
    "load": frozenset(
        {"closet_distance", "combustible_distance", "height_over_bath", "in_insulation", "in_spray", "over_bath"}
    ),
    "low_voltage_load": frozenset({"closet_distance", "height_over_bath", "in_spray", "location", "over_bath", "room"}),
    "driver": frozenset({"in_insulation"}),
    "framing": frozenset({"bearing", "doubled", "edge_distance", "in_middle_third"}),
}

#: Keys of which a part's own one keeps all others of the group from being taken over.
_TOGETHER: Mapping[str, tuple[frozenset[str], ...]] = {
    "box": (frozenset({"trade_size", "volume"}),),
    "load": (frozenset({"power", "apparent", "current"}),),
    "low_voltage_load": (frozenset({"power", "power_per_length"}),),
}

#: Sections that may have defaults, with what is counted or bought for each part by itself.
_NO_DEFAULT: Mapping[str, frozenset[str]] = {
    "box": frozenset({"devices", "fixture_wires", "fixture_ground", "canopy", "fittings", "terminal_blocks"}),
    "cable": frozenset({"current_carrying", "sealed_hole_with", "switched_by"}),
}
SECTIONS_WITH_DEFAULTS = tuple(_NO_DEFAULT)

#: Sections whose parts can be added, and so take something over.
SECTIONS_OF_PARTS = tuple(_EACH_ITS_OWN)

_HOW = re.compile(r"^\s*(measured|label)\s+(.*)$", re.IGNORECASE | re.DOTALL)


def may_be_default(section: str, key: str) -> bool:
    """Whether ``[defaults.section]`` may hold this key."""
    return section in _NO_DEFAULT and _may_be_planned(section, key) and key not in _NO_DEFAULT[section]


def may_be_copied(section: str, key: str) -> bool:
    """Whether a part that is like another takes this key over."""
    return _may_be_planned(section, key) and key not in _OF_THE_PLACE.get(section, frozenset())


def _may_be_planned(section: str, key: str) -> bool:
    return key not in ("known_by", "like") and key not in _EACH_ITS_OWN[section]


def stands_in_the_way(section: str, key: str, own: frozenset[str]) -> bool:
    """Whether the part says this already, by this key or by another that means the same thing."""
    if key in own:
        return True
    if section == "cable" and key == "cable":
        return not own.isdisjoint(PRINTED_KEYS)
    if section == "cable" and key in PRINTED_KEYS and "cable" in own:
        return True
    return any(key in group and not own.isdisjoint(group) for group in _TOGETHER.get(section, ()))


def as_planned(value: Any, how: str | None) -> Any:
    """The value as another part may have it, or None: what was measured or guessed on one part is not taken over.

    ``how``: what ``known_by`` says of it. The word of a label goes: nobody has read the other part's label.
    """
    if how in ("measured", "guess"):
        return None
    worded = _HOW.match(value) if isinstance(value, str) else None
    if worded is None:
        return value
    return worded[2] if worded[1].lower() == "label" else None
