"""The keys of ``[job]``, ``[supply]`` and ``[site]``."""

from __future__ import annotations

from circuitcheck.circuit.keys.key import (
    Form,
    Key,
    physical,
    reference,
    section,
    text,
    whole,
    word,
    word_list,
    yes_no,
)
from circuitcheck.quantities import KINDS

#: Rooms as the rules about protection and damp places tell them apart.
ROOMS = (
    "bedroom",
    "hallway",
    "stairway",
    "living room",
    "family room",
    "dining room",
    "kitchen",
    "bathroom",
    "laundry",
    "closet",
    "den",
    "library",
    "parlor",
    "sunroom",
    "recreation room",
    "foyer",
    "utility room",
    "office",
    "garage",
    "basement",
    "attic",
    "crawl space",
    "porch",
    "outdoors",
    "other",
)

#: The sign for which people trained for asbestos come before an electrician.
ASBESTOS_SIGN = "loose pebble insulation"

JOB = section(
    "job",
    "The job",
    "job",
    text("title", "What the job is called", required=True),
    word("rulebook", "Rulebook (edition)", vocabulary="job.rulebook", required=True),
    text("place", "Where it is"),
    text("prepared_by", "Who filled this in"),
    Key("date", Form.DATE, "Date", attribute="date"),
    many=False,
    required=True,
)

_CURRENT = KINDS["current"].within(0, 100, "4.2 A")
_VOLTAGE = KINDS["voltage"].within(50, 300, "118.4 V")

SUPPLY = section(
    "supply",
    "The circuit at the panel",
    "supply",
    physical("voltage", KINDS["voltage"].within(100, 300), "Nominal voltage", required=True),
    physical("breaker", KINDS["current"].within(5, 100, "15 A"), "Rating of breaker or fuse", required=True),
    physical("measured_voltage", _VOLTAGE, "Measured voltage"),
    word("device", "Breaker or fuse", "breaker", "fuse"),
    word("protection", "Arc-fault or ground-fault protection", "none", "arc-fault", "ground-fault", "both"),
    word(
        "serves",
        "What the circuit is for",
        "general lighting",
        "small appliance",
        "bathroom",
        "one bathroom",
        "laundry",
        "garage",
        "individual",
    ),
    yes_no("shared_neutral", "Shares its neutral with another circuit"),
    physical("terminals", KINDS["temperature"].within(40, 110, "60 degC"), "Terminal temperature rating"),
    physical("impedance", KINDS["resistance"].within(0, 5), "Loop impedance at the panel"),
    text("panel", "Panel"),
    text("slot", "Slot in the panel"),
    whole("poles", "Poles of the breaker", 1, 3),
    yes_no("handle_tie", "Handles tied together"),
    word("fuse_type", "Kind of fuse", "screw-in", "type S", "cartridge"),
    physical("measured_current", _CURRENT, "Measured current with everything on"),
    physical("other_leg_current", _CURRENT, "Current of the other leg"),
    physical("volts_between_hots", KINDS["voltage"].within(0, 600, "240 V"), "Volts between the two hots"),
    physical("loaded_voltage", _VOLTAGE.within(50, 300, "116 V"), "Voltage at the last outlet under load"),
    physical("loaded_current", _CURRENT.within(0, 100, "10 A"), "Current of that load"),
    reference("loaded_at", "Box where the loaded voltage was read", "box"),
    yes_no("loads_complete", "Every load on the circuit is listed"),
    many=False,
    required=True,
)

SITE = section(
    "site",
    "The place and who does the work",
    "site",
    word("room", "Room of the added lights", *ROOMS),
    yes_no("dwelling", "In a dwelling"),
    whole("wired", "Year of the wiring", 1880, 2100),
    yes_no("owner_occupied", "The owner lives there"),
    whole("dwelling_units", "Dwellings in the building", 1, 1000),
    word("work_by", "Who does the work", "owner", "licensed electrician", "tenant", "someone else"),
    word("permit", "Permit", "not asked", "asked", "granted", "not needed"),
    word(
        "attic_access",
        "How one gets into the attic",
        "hatch",
        "pull-down ladder",
        "permanent ladder",
        "permanent stairs",
        "none",
    ),
    whole("garage_bays", "Vehicle bays of the garage", 1, 6),
    whole("stair_risers", "Risers of the stair that is lit", 0, 40),
    word_list(
        "signs",
        "Signs seen that stop the work",
        "loose pebble insulation",
        "brittle insulation",
        "cloth insulation",
        "burning smell",
        "scorch marks",
        "warm plates",
        "flicker",
        "knob and tube",
    ),
    many=False,
)
