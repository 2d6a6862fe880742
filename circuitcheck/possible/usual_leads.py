"""The leads that lights and drivers usually bring into a box where nobody has counted them."""

from __future__ import annotations

from circuitcheck.circuit.model import Box, Circuit, FixtureWires, Load
from circuitcheck.findings import Source
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

#: Ways of dimming that need wires of their own beside the supply.
_CONTROL_WIRES = (None, "0-10 V", "DALI", "pulse width")
_NO_GROUND = ("none", "double-insulated")


def usual_leads(
    box: Box, circuit: Circuit, book: Rulebook, *, thick: bool = False
) -> tuple[tuple[FixtureWires, ...], str | None, Source | None]:
    """The most leads that are usual for what is hardwired in a box, the thickest of their ground leads, the source.

    What plugs in, and a receptacle, bring none. ``thick``: what may be a heater is one, whose leads are fewer and thick
    enough to count under a canopy.
    """
    kinds = [
        (_kind(load, thick=thick), load.grounding not in _NO_GROUND)
        for load in circuit.tree.loads_at.get(box.id, ())
        if _is_wired_in(load)
        for _ in range(_most(load))
    ]
    kinds += [
        ("dimming driver" if driver.dimming in _CONTROL_WIRES else "driver", True)
        for driver in circuit.tree.drivers_at.get(box.id, ())
    ]
    leads = book.table("luminaire-leads")
    found = [(row, grounded) for kind, grounded in kinds if (row := leads.find(kind)) is not None]
    rows = [row for row, _ in found]
    counts: dict[str, int] = {}
    for row in rows:
        size = row.printed_text("size")
        counts[size] = counts.get(size, 0) + int(row.printed_number("leads"))
    wires = tuple(FixtureWires(size=size, count=count) for size, count in counts.items())
    thicker = [row.key[0] for row in book.table("conductors").rows].index
    grounds = [row.printed_text("size") for row, grounded in found if grounded and row.yes("ground")]
    ground = max(grounds, key=thicker, default=None)
    return wires, ground, rows[0].source if rows else None


def wired_in(box: Box, circuit: Circuit) -> tuple[list[str], int]:
    """The lights, fans and drivers that are surely wired in a box, and how many pieces they are."""
    loads = circuit.tree.loads_at.get(box.id, ())
    sure = [load for load in loads if load.connection == "hardwired" and load.kind in ("light", "fan")]
    drivers = circuit.tree.drivers_at.get(box.id, ())
    return [load.id for load in sure] + [driver.id for driver in drivers], sum(load.pieces for load in sure) + len(
        drivers
    )


def _is_wired_in(load: Load) -> bool:
    """Whether it is certain that it neither plugs in nor is a receptacle, or may be."""
    plugs_in = load.connection == "cord" and load.known_by.get("connection") != How.GUESS
    return not plugs_in and not (load.kind == "receptacle" and load.known_by.get("kind") != How.GUESS)


def _most(load: Load) -> int:
    """How many there are at the most: a guess at a count may be short by one."""
    return load.pieces + (load.known_by.get("quantity") == How.GUESS)


def _kind(load: Load, *, thick: bool) -> str:
    """Of a kind that is unknown or a guess what brings the most: a fan but for a light that hangs."""
    if thick and (load.kind is None or load.known_by.get("kind") == How.GUESS):
        return "heater"
    hangs = load.mounting in (None, "pendant") or load.known_by.get("mounting") == How.GUESS
    if load.kind in (None, "light") and hangs:
        return "pendant light"
    return load.kind or "fan"
