"""The keys of ``[[driver]]`` and ``[[low_voltage_load]]``."""

from __future__ import annotations

from circuitcheck.circuit.keys.box import LOCATIONS, ORIGIN, PRODUCT
from circuitcheck.circuit.keys.job import ROOMS
from circuitcheck.circuit.keys.key import identity, physical, reference, section, whole, word, yes_no
from circuitcheck.quantities import KINDS

_POWER = KINDS["power"].within(0.01, 5000, "60 W")
_DISTANCE = KINDS["small length"].within(0, 360, "12 in")

DRIVER = section(
    "driver",
    "Driver or transformer",
    "drivers",
    identity("Name of the driver"),
    reference("box", "Box it is connected in", "box", required=True),
    ORIGIN,
    physical("output_voltage", KINDS["voltage"].within(1, 300, "24 V"), "Output voltage"),
    word("output_kind", "Output dc or ac", "dc", "ac"),
    physical("output_power", _POWER, "Output rating"),
    whole("outputs", "Outputs that share its rating", 1, 16),
    physical("input_current", KINDS["current"].within(0.001, 50, "0.7 A"), "Input current on its label"),
    physical("efficiency", KINDS["share"].within(0.2, 1, "0.86"), "Efficiency"),
    physical("power_factor", KINDS["share"].within(0.05, 1, "0.92"), "Power factor"),
    yes_no("class_2", "Marked class 2"),
    yes_no("continuous", "On for three hours or more"),
    physical("input_power", _POWER.within(0.01, 5000, "70 W"), "Input power on its label"),
    physical("min_voltage", KINDS["voltage"].within(1, 300, "108 V"), "Least input voltage"),
    physical("min_load", _POWER.within(0, 5000, "5 W"), "Least load"),
    reference("paralleled_with", "Driver joined to the same output", "driver"),
    yes_no("reachable", "Stays reachable"),
    yes_no("in_insulation", "Thermal insulation lies around it"),
    reference("switched_by", "Control that switches it", "control"),
    word("dimming", "How it dims", "none", "phase", "0-10 V", "pulse width", "DALI"),
    yes_no("listed", "Has a testing laboratory's mark"),
    word("location_marked", "Place it is marked for", *LOCATIONS),
    PRODUCT,
)

LOW_VOLTAGE_LOAD = section(
    "low_voltage_load",
    "Low-voltage light",
    "low_voltage_loads",
    identity("Name of the light"),
    ORIGIN,
    physical("power", _POWER.within(0.01, 5000, "5 W"), "Power at one point"),
    physical("power_per_length", KINDS["power per length"], "Power per length"),
    physical("length", KINDS["length"].within(0.01, 500, "9 ft"), "Length"),
    physical("resistance_per_length", KINDS["resistance per length"].within(0, 10), "Resistance of its own conductors"),
    word("fed_from", "Where it is fed", "one end", "both ends", "middle"),
    physical("min_voltage", KINDS["voltage"].within(0.5, 300, "22 V"), "Least voltage it works at"),
    word("kind", "How it draws current", "constant power", "constant current", "resistor", "incandescent"),
    word("room", "Room", *ROOMS),
    word("location", "Dry, damp or wet", *LOCATIONS),
    word("mounting", "Where it is mounted", "wall", "ceiling", "recessed", "pendant", "cabinet", "outdoors"),
    yes_no("enclosed", "Lamp fully enclosed"),
    yes_no("listed", "Has a testing laboratory's mark"),
    word("location_marked", "Place it is marked for", *LOCATIONS),
    physical("closet_distance", _DISTANCE, "Distance to closet storage"),
    yes_no("closet_marked", "Marked for closet storage space"),
    yes_no("over_bath", "Over a bathtub or shower"),
    physical("height_over_bath", KINDS["length"].within(0, 30, "7 ft"), "Height over the tub rim"),
    yes_no("in_spray", "Spray from the shower reaches it"),
    PRODUCT,
)
