"""What follows about the conditions in which a cable is used: its insulation, and what lies beside it."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.possible.entry import Inference, Possible
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook


def current_carrying(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Beside other cables whose conductors nobody counted: its own, and two to three in each other cable.

    Where nobody says how many lie alongside, none to as many as is usual in houses.

    Of a pair of travelers only one carries current at a time.
    """
    if cable.current_carrying is not None:
        return None
    alongside = book.value("unknown-cables-alongside")
    ways = [int(item) for item in alongside.items] if cable.bundled_with is None else [cable.bundled_with]
    fewest, beside = min(ways), max(ways)
    shared = cable.sealed_hole_with or 0
    most_shared = shared + (cable.known_by.get("sealed_hole_with") == How.GUESS)
    several = book.value("sealed-hole-cables").number
    fewest = max(fewest, shared if shared + 1 > several else 0)
    beside = max(beside, most_shared if most_shared + 1 > several else 0)
    if not beside:
        return None
    unknown = book.value("unknown-cable-conductors")
    usual = [int(item) for item in unknown.items]
    guessed = [name for name in ("conductors", "bundled_with") if cable.known_by.get(name) == How.GUESS]
    least = min(usual) if cable.conductors is None else cable.conductors
    most = max(usual) if cable.conductors is None else cable.conductors + ("conductors" in guessed)
    if cable.carries == "travelers" and least > 2:
        least, most = least - 1, most - 1
    ends = least + fewest * min(usual), most + (beside + ("bundled_with" in guessed)) * max(usual)
    unsaid = "how many cables lie alongside" if cable.bundled_with is None else "what the cables alongside carry"
    says = f"{unsaid} is unknown; {ends[0]} to {ends[1]} current-carrying conductors are assumed"
    asked = "bundled_with" if cable.bundled_with is None else ""
    return Possible(ends, says, (unknown.source,), ask_for=asked)


def insulation(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """The kind of cable gives it. Of underground feeder cable indoors it is argued where correction starts [degC]."""
    if cable.insulation_temperature_c is not None or cable.type != "UF-B":
        return None
    if cable.place in ("outdoors", "underground"):
        return None
    least, most = book.value("uf-b-ampacity-temperature"), book.value("uf-b-insulation-indoors")
    says = "from which insulation temperature this cable is corrected indoors is for the inspector to say"
    ends = (least.number, most.number)
    return Possible(ends, says, (least.source, most.source), ask_for="" if cable.place else "place")


CONDITIONS: Mapping[str, Inference] = {function.__name__: function for function in (current_carrying, insulation)}
