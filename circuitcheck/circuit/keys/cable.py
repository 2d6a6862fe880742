"""The keys of ``[[cable]]``."""

from __future__ import annotations

from circuitcheck.circuit.keys.box import ORIGIN, PRODUCT
from circuitcheck.circuit.keys.key import identity, physical, reference, section, size, whole, word, yes_no
from circuitcheck.quantities import KINDS

_TEMPERATURE = KINDS["temperature"]
_DISTANCE = KINDS["small length"]

CABLE = section(
    "cable",
    "Cable",
    "cables",
    identity("Name of the cable"),
    reference("from", "Upstream end", "panel", "box", "driver", "low_voltage_load", attribute="from_id", required=True),
    reference("to", "Downstream end", "box", "low_voltage_load", attribute="to_id", required=True),
    ORIGIN,
    word("type", "Type printed on the sheath", vocabulary="cable.type"),
    size("size", "Conductor size"),
    whole("conductors", "Insulated conductors", 1, 40),
    yes_no("ground", "Has an equipment ground"),
    word("material", "Conductor metal", "copper", "aluminum", "copper-clad aluminum"),
    word("stranding", "Solid or stranded", "solid", "stranded"),
    physical("length", KINDS["length"].within(0.1, 2000), "Length"),
    physical("conductor_temperature", _TEMPERATURE.within(-40, 250, "75 degC"), "Conductor temperature"),
    word("place", "Where it runs", "attic", "crawl space", "inside", "outdoors", "underground"),
    physical("ambient", _TEMPERATURE.within(-50, 120, "125 degF"), "Hottest air along it"),
    whole("bundled_with", "Other loaded cables alongside", 0, 100),
    whole("current_carrying", "Current-carrying conductors together", 1, 200),
    physical("insulation_temperature", _TEMPERATURE.within(40, 260, "90 degC"), "Insulation temperature rating"),
    word("sheath", "What the sheath is", "plastic", "cloth", "rubber", "metal armor", "none"),
    word(
        "carries",
        "What it carries",
        "feed",
        "switched",
        "feed and switched",
        "switch loop",
        "travelers",
        "two circuits",
    ),
    reference("switched_by", "Control that switches it", "control"),
    yes_no("white_remarked", "White wire used as hot is marked"),
    word(
        "run",
        "How it runs",
        "through framing",
        "along framing",
        "across framing",
        "fished",
        "on a surface",
        "in raceway",
        "buried",
    ),
    yes_no("concealed", "Hidden behind a finish"),
    yes_no("exposed_to_damage", "Open where it could be hit or hung on"),
    yes_no("plates", "Steel plates protect it"),
    physical("edge_distance", _DISTANCE.within(0, 24), "Distance to the face of the framing"),
    physical("support_spacing", KINDS["length"].within(0.1, 50, "4 ft"), "Distance between supports"),
    physical("support_from_box", _DISTANCE.within(0, 240, "8 in"), "Distance from the box to the first support"),
    physical("free_length", _DISTANCE.within(0, 120, "6 in"), "Free conductor at the box"),
    yes_no("guard_strips", "Guard strips beside it"),
    yes_no("near_hatch", "Near the attic hatch"),
    yes_no("in_insulation", "In thermal insulation"),
    yes_no("wet_marked", "Marked for wet places or burial"),
    word("air_space", "Space that air is blown through", "none", "crossed", "followed"),
    yes_no("plenum_marked", "Marked for spaces that air is blown through"),
    whole("sealed_hole_with", "Other cables in one sealed hole", 0, 40),
    PRODUCT,
)
