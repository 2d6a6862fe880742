"""The keys of ``[[box]]``."""

from __future__ import annotations

from circuitcheck.circuit.keys.job import ROOMS
from circuitcheck.circuit.keys.key import (
    identity,
    physical,
    physical_list,
    section,
    size,
    tables,
    text,
    whole,
    word,
    word_list,
    yes_no,
)
from circuitcheck.quantities import KINDS

ORIGIN = word("origin", "Already there or added", "existing", "added")

PRODUCT = text("product", "Product")

#: Places as the rules for luminaires and boxes tell them apart.
LOCATIONS = ("dry", "damp", "wet")

BOX = section(
    "box",
    "Box",
    "boxes",
    identity("Name of the box"),
    ORIGIN,
    word("trade_size", "Trade size of a metal box", vocabulary="box.trade_size"),
    physical("volume", KINDS["volume"].within(2, 400), "Marked volume"),
    physical("depth", KINDS["small length"].within(0.25, 12, "1-1/2 in"), "Inside depth"),
    yes_no("internal_clamps", "Clamps inside"),
    word_list("fittings", "Fixture stud or hickey", "stud", "hickey"),
    tables(
        "devices",
        "Switches and receptacles in it",
        word("kind", "Kind", "switch", "receptacle", "dimmer", "sensor", "timer", "other", required=True),
        whole("gangs", "Gangs wide", 1, 6),
        size("size", "Largest conductor on it"),
    ),
    tables(
        "fixture_wires",
        "Luminaire leads",
        size("size", "Size", required=True),
        whole("count", "How many", 1, 40, required=True),
    ),
    size("fixture_ground", "The luminaire's own ground wire", "none"),
    yes_no("canopy", "Domed canopy over the box"),
    whole("terminal_blocks", "Terminal blocks", 0, 20),
    tables(
        "unbroken",
        "Conductors run through without a splice",
        size("size", "Size", required=True),
        whole("count", "How many", 1, 40, required=True),
        yes_no("loop", "Coiled with twice the free length"),
        yes_no("other_circuit", "Belongs to another circuit"),
    ),
    tables(
        "other_cables",
        "Cables of another circuit that end in it",
        size("size", "Size", required=True),
        whole("conductors", "Insulated conductors", 1, 12, required=True),
        yes_no("ground", "Has an equipment ground"),
    ),
    whole("gangs", "Gangs wide", 1, 6),
    physical_list("extensions", KINDS["volume"].within(0.5, 100, "4.0 in^3"), "Marked rings and covers"),
    word("material", "Material", "metal", "nonmetallic"),
    word("mounting", "How it is held", "framing", "bar hanger", "retrofit", "surface"),
    word("made_for", "What it is made for", "luminaire", "fan", "device", "junction"),
    yes_no("fan_could_hang", "A paddle fan could hang there"),
    physical("support_limit", KINDS["weight"].within(1, 500, "50 lb"), "Weight it is marked for"),
    word("room", "Room", *ROOMS),
    word("location", "Dry, damp or wet", *LOCATIONS),
    yes_no("ground", "An equipment ground arrives"),
    yes_no("bonded", "The metal box is joined to the ground"),
    yes_no("neutral", "A neutral is in it"),
    yes_no("reachable", "Stays reachable"),
    yes_no("covered", "Has a cover or canopy"),
    yes_no("class_2_barrier", "Barrier between power and class 2 wires"),
    PRODUCT,
)
