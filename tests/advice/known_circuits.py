"""Circuit files of which everything is known, and that fit, for tests that change one thing in them."""

from pathlib import Path

ROOT = Path(__file__).parents[2]
CASES = ROOT / "tests" / "cases"
KNOWN = (CASES / "a21-a-light-for-a-light.circuit.toml").read_text("utf-8")
STRIP = (ROOT / "examples" / "shelf-strip.circuit.toml").read_text("utf-8")

NEW_RUN = """
[[box]]
id = "wall"
origin = "added"
volume = "label 20 in^3"
material = "nonmetallic"
internal_clamps = false
fittings = []
devices = []
fixture_wires = [{ size = "18 AWG", count = 2 }]
terminal_blocks = 0
extensions = []
mounting = "framing"
made_for = "luminaire"
room = "bedroom"
location = "dry"
ground = true
neutral = true
reachable = true
covered = true
fixture_ground = "18 AWG"
canopy = true
support_limit = "label 50 lb"

[[cable]]
id = "to wall"
from = "ceiling"
to = "wall"
origin = "added"
type = "NM-B"
size = "14 AWG"
conductors = 2
ground = true
material = "copper"
stranding = "solid"
length = "10 ft"
place = "inside"
run = "through framing"
concealed = true
plates = true
edge_distance = "1-1/2 in"
support_spacing = "4 ft"
support_from_box = "8 in"
free_length = "8 in"
bundled_with = 0
sealed_hole_with = 0
in_insulation = false
carries = "switched"
switched_by = "door"

[[load]]
id = "wall light"
box = "wall"
origin = "added"
kind = "light"
quantity = 1
power = "label 40 W"
power_factor = 1.0
continuous = false
connection = "hardwired"
grounding = "wire"
mounting = "wall"
lamp = "incandescent"
converted = false
min_voltage = "label 108 V"
weight = "label 2 lb"
listed = true
location_marked = "dry"
metal_parts = true
supply_temperature = "label 90 degC"
switched_by = "door"
"""


def bedroom(text="", **replaced):
    """A circuit that fits once it has arc-fault protection, with one new run."""
    whole = KNOWN.replace('protection = "none"', 'protection = "arc-fault"') + NEW_RUN + text
    for old, new in replaced.values():
        assert old in whole
        whole = whole.replace(old, new)
    return whole


def changed(text, *replaced, after=""):
    """The text with each first string put in place of the other, once, behind the place where ``after`` stands."""
    head, mark, tail = text.partition(after) if after else ("", "", text)
    for old, new in replaced:
        assert old in tail, old
        tail = tail.replace(old, new, 1)
    return head + mark + tail
