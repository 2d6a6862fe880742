"""What each insulated conductor of each branch cable is part of, from what the file says it carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from circuitcheck.advice.nets import HOT, NEUTRAL, Net, switched, untold
from circuitcheck.advice.switching import Switching
from circuitcheck.case import expected
from circuitcheck.circuit.model import PANEL, Box, Cable, Circuit, Control

#: Kinds of devices that turn something on and off.
SWITCHES = ("switch", "dimmer", "sensor", "timer")

PAIR = 2

CHOSEN = "its third conductor could as well be used the other way round"


@dataclass(frozen=True, slots=True)
class Carried:
    """What a cable carries: a net for each insulated conductor, None where their number is not known.

    ``taken``: empty where the file says it, else why it was taken so.
    """

    nets: tuple[Net, ...] | None
    taken: str = ""


def carried_by_cable(circuit: Circuit, switching: Switching) -> Mapping[str, Carried]:
    """What every cable of the branch circuit carries, in the order of the tree."""
    work = _Carrying(circuit, switching)
    for cable in circuit.tree.branch_cables:
        work.found[cable.id] = work.carried(cable)
    return work.found


class _Carrying:
    def __init__(self, circuit: Circuit, switching: Switching) -> None:
        self.tree = circuit.tree
        self.switching = switching
        self.shared_neutral = circuit.supply.shared_neutral
        self.found: dict[str, Carried] = {}
        self.names_switches = bool(circuit.controls)
        self.loads_below = self._boxes_with_loads_below(circuit)

    def carried(self, cable: Cable) -> Carried:
        """What one cable carries; those upstream of it are known by now."""
        if cable.conductors is None:
            return Carried(None)
        if cable.id in self.switching.nets_of:
            chosen = cable.id in self.switching.chosen
            return Carried(self.switching.nets_of[cable.id], CHOSEN if chosen else "")
        carries, taken = cable.carries, ""
        if carries is None and cable.switched_by is not None:
            carries, taken = "switched", "the file names the switch that turns it off"
        if carries is None:
            return self._taken(cable)
        return Carried(self._padded(cable, self._said(cable, carries)), taken)

    def _said(self, cable: Cable, carries: str) -> tuple[Net, ...]:
        """The nets that the words in the file mean, before the number of conductors is looked at."""
        count = expected(cable.conductors, cable, "conductors")
        if carries == "feed":
            return (HOT, NEUTRAL)
        if carries == "switched":
            return (self._switched(cable, cable.from_id), NEUTRAL)
        if carries == "feed and switched":
            if count <= PAIR:
                return (untold("feed and switched needs three conductors, and the cable has fewer"),) * count
            return (HOT, self._switched(cable, cable.from_id), NEUTRAL)
        if carries == "two circuits":
            if count <= PAIR:
                return (untold("the hots of two circuits need three conductors, and the cable has fewer"),) * count
            return (HOT, untold("it is the hot conductor of the other circuit"), NEUTRAL)
        if carries == "switch loop":
            back = self._switched(cable, cable.to_id)
            box = self.tree.box.get(cable.to_id)
            third = () if box is None or not box.neutral else (NEUTRAL,)
            return (HOT, back, *third)
        open_sets = self.switching.open_sets
        whys = [open_sets[one.id] for one in self._controls_near(cable) if one.id in open_sets]
        return (untold(whys[0] if whys else "between which switches it runs is not given"),) * count

    def _taken(self, cable: Cable) -> Carried:
        """What a cable carries of which the file does not say it, where only one thing can be meant."""
        why = self._why_untold(cable)
        if why:
            return Carried((untold(why),) * expected(cable.conductors, cable, "conductors"))
        if cable.from_id == PANEL:
            return Carried(self._padded(cable, (HOT, NEUTRAL)), "it comes from the panel")
        hot = self._hot_into(cable.from_id)
        return Carried(self._padded(cable, (hot, NEUTRAL)), "no switch that the file names stands before it")

    def _why_untold(self, cable: Cable) -> str:
        """Why a cable without a word on what it carries cannot be told; empty where it can."""
        if not self.names_switches:
            return "the file names no switch at all, so what is always hot and what is switched is open"
        if cable.from_id == PANEL:
            return ""
        if self._is_switch_box(cable.from_id):
            return f"it leaves a box with a switch ({cable.from_id}); what it carries is not given"
        for sibling in self.tree.children.get(cable.from_id, ()):
            if sibling.id != cable.id and sibling.carries in ("switch loop", "travelers"):
                return f"{sibling.id} brings a switched conductor to its box; which it carries is not given"
        below = self.tree.box.get(cable.to_id)
        if self._is_switch_box(cable.to_id) and cable.to_id not in self.loads_below and not (below and below.neutral):
            return "it may be a switch loop; that is not given"
        if not self._hot_into(cable.from_id).ungrounded:
            return "what feeds its box is unknown"
        return ""

    def _hot_into(self, node: str) -> Net:
        """The one net that feeds a box with something to hang loads on."""
        feed = self.tree.feed.get(node)
        if feed is None:
            return HOT if node == PANEL else untold("nothing feeds its box")
        nets = self.found[feed.id].nets or ()
        ungrounded = [net for net in nets if net.ungrounded]
        return ungrounded[0] if len(ungrounded) == 1 and all(net.told for net in nets) else untold("")

    def _switched(self, cable: Cable, box_id: str) -> Net:
        """The net of the switch that turns a cable off: named, or the only one in that box, or the feed's own."""
        if cable.switched_by is not None:
            return switched(self.switching.name_of.get(cable.switched_by, cable.switched_by))
        names = {self.switching.name_of[one.id] for one in self.switching.controls_at.get(box_id, ())}
        if len(names) == 1:
            return switched(names.pop())
        if not names and box_id != cable.to_id and not self._is_switch_box(box_id):
            above = self._hot_into(box_id)
            if above.ungrounded and above != HOT:
                return above
        return untold("which switch turns it off is not given")

    def _padded(self, cable: Cable, nets: tuple[Net, ...]) -> tuple[Net, ...]:
        """The nets for as many conductors as the cable has; what is over cannot be told."""
        count = expected(cable.conductors, cable, "conductors")
        if count < len(nets):
            return (untold(f"{cable.id} has {count} insulated, fewer than what it is said to carry"),) * count
        why = "what it is for is not given"
        if self.shared_neutral:
            why = "with a shared neutral it may be the hot conductor of the other circuit"
        return (*nets, *[untold(why)] * (count - len(nets)))

    def _is_switch_box(self, box_id: str) -> bool:
        box: Box | None = self.tree.box.get(box_id)
        holds = box is not None and any(device.kind in SWITCHES for device in box.devices or ())
        return holds or box_id in self.switching.controls_at

    def _controls_near(self, cable: Cable) -> tuple[Control, ...]:
        at = self.switching.controls_at
        return (*at.get(cable.from_id, ()), *at.get(cable.to_id, ()))

    def _boxes_with_loads_below(self, circuit: Circuit) -> frozenset[str]:
        """Boxes at or below which there is a load or a driver."""
        found = {load.box for load in circuit.loads} | {driver.box for driver in circuit.drivers}
        for cable in reversed(circuit.tree.branch_cables):
            if cable.to_id in found:
                found.add(cable.from_id)
        return frozenset(found)
