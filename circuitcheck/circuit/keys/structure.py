"""The keys of ``[[framing]]``."""

from __future__ import annotations

from circuitcheck.circuit.keys.box import ORIGIN
from circuitcheck.circuit.keys.key import identity, physical, reference, section, word, yes_no
from circuitcheck.quantities import KINDS

_DISTANCE = KINDS["small length"]

FRAMING = section(
    "framing",
    "Hole or notch in framing",
    "framing",
    identity("Name of the hole or notch"),
    reference("cable", "Cable that runs through", "cable"),
    ORIGIN,
    word("member", "Framing member", "stud", "plate", "joist", "rafter", "truss"),
    yes_no("bearing", "Carries load from above"),
    yes_no("doubled", "Doubled member"),
    physical("depth", _DISTANCE.within(0.5, 24, "3-1/2 in"), "Actual depth of the member"),
    word("cut", "Hole or notch", "hole", "notch"),
    physical("diameter", _DISTANCE.within(0.1, 12, "3/4 in"), "Diameter of the hole"),
    physical("edge_distance", _DISTANCE.within(0, 24), "From the hole's edge to the member's edge"),
    physical("notch_depth", _DISTANCE.within(0, 24, "1/2 in"), "Depth of the notch"),
    physical("notch_length", _DISTANCE.within(0, 120, "2 in"), "Length of the notch"),
    yes_no("in_middle_third", "In the middle third of the span"),
    yes_no("plates", "Steel plates protect the cable"),
)
