"""What follows about cables in the building and cuts in its framing from the other entries."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Cable, Circuit, Framing, Load
from circuitcheck.possible.entry import UNSETTLED, Inference, Possible, is_surely_added
from circuitcheck.tables.rulebook import Rulebook


def concealed(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Old branch cable that nobody describes is inside a wall or a ceiling; new cable and leads can be open or not.

    Cable is fished through what is closed.
    """
    if cable.concealed is not None:
        return None
    if cable.run == "fished":
        return Possible((True,))
    if cable.is_added or cable.id in circuit.tree.driver_of:
        return UNSETTLED
    return Possible((True,), "assumed to be inside walls or ceilings")


def sheath(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Most kinds of cable have one sheath only; the older NM may have a plastic one or woven cloth."""
    if cable.sheath is not None or cable.type is None:
        return UNSETTLED
    if cable.type in book.value("sheath-plastic-types").items:
        return Possible(("plastic",))
    if cable.type in book.value("sheath-armor-types").items:
        return Possible(("metal armor",))
    return Possible(("none",)) if cable.type.endswith("in raceway") else UNSETTLED


def run(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """What is said to run anywhere but underground is not buried."""
    if cable.run is not None:
        return None
    if cable.place in (None, "underground"):
        return UNSETTLED
    words = SECTIONS["cable"].keys["run"].words
    return Possible(tuple(word for word in words if word != "buried"), "unknown how it runs")


def hole_diameter(framing: Framing, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A notch has no diameter."""
    return None if framing.diameter_m is not None or framing.cut == "notch" else UNSETTLED


def notch_depth(framing: Framing, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A hole is no notch."""
    return None if framing.notch_depth_m is not None or framing.cut == "hole" else UNSETTLED


def notch_length(framing: Framing, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A hole is no notch."""
    return None if framing.notch_length_m is not None or framing.cut == "hole" else UNSETTLED


def replaces(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Only a hardwired light on a box that is there already, with no old light listed on it, can take one's place."""
    if load.replaces is not None:
        return None
    box = circuit.tree.box[load.box]
    there = any(not other.is_added and other.kind == "light" for other in circuit.tree.loads_at.get(box.id, ()))
    if not load.is_added or is_surely_added(box) or load.kind not in (None, "light") or there:
        return Possible((False,))
    return UNSETTLED


BUILDING: Mapping[str, Inference] = {
    function.__name__: function
    for function in (concealed, sheath, run, hole_diameter, notch_depth, notch_length, replaces)
}
