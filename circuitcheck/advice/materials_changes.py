"""What changes to parts that are there take beside the new parts themselves: protection, connectors, rings."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.advice.item import Group, Item
from circuitcheck.circuit.change import ALTER, Change
from circuitcheck.circuit.model import Circuit


def change_items(circuit: Circuit) -> Iterator[Item]:
    """A line for each thing that a change needs. Replaced parts count as added and are listed among those."""
    if circuit.before is None:
        return
    for change in circuit.before.circuit.changes:
        if change.part.section == "supply":
            yield from _at_the_panel(change)
        elif change.part.section == "box" and change.action == ALTER:
            yield from _on_the_box(change, circuit)


def _at_the_panel(change: Change) -> Iterator[Item]:
    protection = change.new.get("protection")
    if protection not in (None, "none"):
        named = {"both": "arc-fault and ground-fault"}.get(protection, protection)
        why = "at the panel: ask the inspector before buying; an electrician fits it"
        what = f"{named} protection, of a kind made for this panel, for the same rating"
        yield Item(Group.PROTECTION, "1", what, "the whole circuit", why)


def _on_the_box(change: Change, circuit: Circuit) -> Iterator[Item]:
    if change.new.get("internal_clamps") is False:
        cables = len(circuit.tree.cables_at.get(change.part.id, ()))
        why = "in place of the clamps inside, so that nothing of them takes room in the box"
        yield Item(Group.BOXES, str(cables), "cable connector that stays outside the box", change.part.id, why)
    for volume in change.new.get("extensions_m3") or ():
        why = "made for this box and marked with its volume"
        yield Item(Group.BOXES, "1", f"extension ring marked {volume.text}", change.part.id, why)
