"""The keys of ``[[load]]`` and ``[[control]]``."""

from __future__ import annotations

from circuitcheck.circuit.keys.box import LOCATIONS, ORIGIN, PRODUCT
from circuitcheck.circuit.keys.key import identity, physical, reference, section, size, whole, word, yes_no
from circuitcheck.quantities import KINDS

_POWER = KINDS["power"].within(0, 10000)
_DISTANCE = KINDS["small length"].within(0, 360, "12 in")

LOAD = section(
    "load",
    "Load",
    "loads",
    identity("Name of the load"),
    reference("box", "Box it is connected in", "box", required=True),
    ORIGIN,
    word("kind", "Kind", "light", "receptacle", "fan", "heater", "alarm", "other"),
    word("fan", "Paddle or exhaust fan", "paddle", "exhaust"),
    whole("quantity", "How many", 1, 1000),
    physical("power", KINDS["power"].within(0, 10000, "60 W"), "Rated power of one"),
    physical("apparent", KINDS["apparent power"].within(0, 10000), "Rated apparent power of one"),
    physical("current", KINDS["current"].within(0, 100), "Rated current of one"),
    physical("fitted", KINDS["power"].within(0, 10000, "8 W"), "Lamp fitted today"),
    physical("power_factor", KINDS["share"].within(0.05, 1, "1.0"), "Power factor"),
    yes_no("continuous", "On for three hours or more"),
    physical("min_voltage", KINDS["voltage"].within(1, 300, "108 V"), "Least voltage it works at"),
    word("connection", "Hardwired or cord", "hardwired", "cord"),
    word("grounding", "How it is grounded", "wire", "none", "double-insulated"),
    physical("weight", KINDS["weight"].within(0.01, 500), "Weight"),
    word("mounting", "Where it is mounted", "wall", "ceiling", "recessed", "pendant", "cabinet", "outdoors"),
    word("lamp", "Kind of lamp", "LED", "incandescent", "halogen", "fluorescent"),
    yes_no("enclosed", "Lamp fully enclosed"),
    yes_no("listed", "Has a testing laboratory's mark"),
    word("location_marked", "Place it is marked for", *LOCATIONS),
    yes_no("metal_parts", "Has metal that can be touched"),
    yes_no("converted", "Made to plug in, plug cut off"),
    yes_no("hardwire_in_instructions", "Its instructions allow wiring it in"),
    yes_no("replaces", "Takes the place of a light on its old box"),
    yes_no("own_switch", "Has a switch of its own"),
    yes_no("tamper_resistant", "A tamper-resistant receptacle"),
    yes_no("out_of_reach", "A receptacle out of a child's reach"),
    yes_no("ground_fault", "A receptacle with ground-fault protection of its own"),
    reference("switched_by", "Control that switches it", "control"),
    physical("supply_temperature", KINDS["temperature"].within(40, 260, "90 degC"), "Supply wire its label requires"),
    yes_no("insulation_contact", "Marked for contact with insulation"),
    yes_no("in_insulation", "Thermal insulation lies around it"),
    whole("through_wiring_count", "Conductors its wiring box is marked for", 1, 40),
    size("through_wiring_size", "Size its wiring box is marked for"),
    physical("closet_distance", _DISTANCE, "Distance to closet storage"),
    yes_no("closet_marked", "Marked for closet storage space"),
    yes_no("over_bath", "Over a bathtub or shower"),
    physical("height_over_bath", KINDS["length"].within(0, 30, "7 ft"), "Height over the tub rim"),
    yes_no("in_spray", "Spray from the shower reaches it"),
    yes_no("on_at_reading", "Was fully on while the panel's current was read"),
    physical("combustible_distance", _DISTANCE, "Distance to what can burn"),
    physical("combustible_clearance", _DISTANCE, "Distance its label requires"),
    PRODUCT,
)

CONTROL = section(
    "control",
    "Switch, dimmer or sensor",
    "controls",
    identity("Name of the control"),
    reference("box", "Box it is in", "box", required=True),
    ORIGIN,
    word("kind", "Kind", "switch", "dimmer", "sensor", "timer", "smart switch"),
    word("ways", "Single-pole, three-way or four-way", "single-pole", "three-way", "four-way"),
    physical("rated_led", _POWER.within(1, 5000, "150 W"), "Rating for LED"),
    physical("rated_incandescent", _POWER.within(1, 5000, "600 W"), "Rating for incandescent"),
    physical("min_load", _POWER.within(0, 1000, "10 W"), "Least load"),
    whole("max_lamps", "Most lamps", 1, 100),
    yes_no("needs_neutral", "Needs a neutral"),
    yes_no("matched", "Named by the luminaire's maker as fitting"),
    reference("with", "The other control of the pair", "control", attribute="with_id"),
    PRODUCT,
)
