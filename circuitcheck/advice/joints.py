"""The joints of one box: every end that is in it, put together with the others of its net."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from circuitcheck.advice.colors import Color
from circuitcheck.advice.nets import Net, NetKind

NO_COLOR = Color()


class EndKind(StrEnum):
    """What an end in a box belongs to."""

    CABLE = "conductor of a cable"
    LEAD = "wire that comes with the part"
    TERMINAL = "screw or clamp on a part"


@dataclass(frozen=True, slots=True)
class End:
    """One end in a box.

    ``part``: the cable, switch, luminaire or box it belongs to, in words; ``cable``: the id of its cable, or empty.
    ``size`` and ``metal`` are None where nobody knows them. ``perhaps``: the file does not say that it is there.
    ``feeds``: the part brings its net into the box (a switch's outgoing side), so that the net needs no cable here.
    ``key``: the entry of the file that would tell what is open about it. ``color``: of a conductor of a cable.
    ``device``: the id of the control that a terminal or lead belongs to.
    """

    kind: EndKind
    part: str
    net: Net
    size: str | None = None
    metal: str | None = None
    cable: str = ""
    added: bool = False
    perhaps: bool = False
    feeds: bool = False
    key: str = ""
    color: Color = NO_COLOR
    device: str = ""


class JointKind(StrEnum):
    """What becomes of the ends of a net."""

    SPLICE = "splice"
    TERMINAL = "to the terminal, or spliced to the lead"
    CAPPED = "capped"
    THROUGH = "runs through uncut"


@dataclass(frozen=True, slots=True)
class Joint:
    """Ends that are joined. In a splice a terminal is reached by a pigtail of ``pigtail_size``."""

    kind: JointKind
    net: Net
    ends: tuple[End, ...]
    pigtail_size: str | None = None

    @property
    def pigtails(self) -> int:
        """How many short wires go from the splice to a terminal."""
        return sum(end.kind is EndKind.TERMINAL for end in self.ends) if self.kind is JointKind.SPLICE else 0

    @property
    def is_new(self) -> bool:
        """Whether the work adds something to it."""
        return any(end.added for end in self.ends)

    @property
    def in_splice(self) -> tuple[tuple[str | None, str | None, bool], ...]:
        """Size, metal and whether it is only perhaps there, for each conductor in the splice."""
        metal = next((end.metal for end in self.ends if end.kind is EndKind.CABLE), None)
        return tuple(
            (self.pigtail_size, metal, end.perhaps)
            if end.kind is EndKind.TERMINAL
            else (end.size, end.metal, end.perhaps)
            for end in self.ends
        )

    @property
    def sizes(self) -> Counter[str | None]:
        """How many conductors of each size the splice surely holds; None counts those of unknown size."""
        return Counter(size for size, _, perhaps in self.in_splice if not perhaps)


@dataclass(frozen=True, slots=True)
class Untold:
    """An end of which it cannot be told where it goes, and why."""

    end: End
    why: str


@dataclass(frozen=True, slots=True)
class Joints:
    """Everything in a box, each end once: in a joint, or among the untold."""

    joints: tuple[Joint, ...]
    untold: tuple[Untold, ...]

    @property
    def splices(self) -> tuple[Joint, ...]:
        """The splices alone."""
        return tuple(joint for joint in self.joints if joint.kind is JointKind.SPLICE)


_ORDER = tuple(NetKind)


def joints_of(ends: Sequence[End]) -> Joints:
    """Put the ends of a box together, net by net."""
    nets: dict[Net, list[End]] = {}
    untold: list[Untold] = []
    for end in ends:
        if end.net.told:
            nets.setdefault(end.net, []).append(end)
        else:
            untold.append(Untold(end, end.net.why))
    joints: list[Joint] = []
    for net in sorted(nets, key=lambda one: _ORDER.index(one.kind)):
        why = _why_alone(net, nets[net], any(one.end.kind is EndKind.CABLE for one in untold))
        if why:
            untold += [Untold(end, why) for end in nets[net]]
        else:
            joints.append(_joint(net, nets[net]))
    return Joints(tuple(joints), tuple(untold))


def _why_alone(net: Net, ends: list[End], some_open: bool) -> str:
    """Why the ends of a net cannot be joined as they stand; empty where they can.

    ``some_open``: the box has conductors that cannot be told, so that one of them may bring the net.
    """
    if any(end.kind is EndKind.CABLE for end in ends):
        return ""
    if not any(end.feeds for end in ends):
        if some_open:
            return f"which conductor brings it the {net.words} is unknown"
        return f"nothing in this box brings it the {net.words}"
    return "" if len(ends) > 1 else "nothing that the file names takes what it switches"


def _joint(net: Net, ends: list[End]) -> Joint:
    sure = [end for end in ends if not end.perhaps]
    if len(ends) == 1:
        return Joint(JointKind.CAPPED, net, tuple(ends))
    cables = [end for end in ends if end.kind is EndKind.CABLE]
    terminals = [end for end in ends if end.kind is EndKind.TERMINAL]
    if len(cables) == len(terminals) == 1 and len(ends) == len(sure) == 1 + len(terminals):
        return Joint(JointKind.TERMINAL, net, tuple(ends))
    return Joint(JointKind.SPLICE, net, tuple(ends), _thickest(end.size for end in cables or ends))


def _thickest(sizes: Iterable[str | None]) -> str | None:
    """The thickest of the sizes, for a pigtail that carries what the splice carries; None where one is not known."""
    known = list(sizes)
    if not known or None in known:
        return None
    return min((size for size in known if size is not None), key=_gauge)


def _gauge(size: str) -> tuple[int, str]:
    number, unit = size.partition(" ")[::2]
    return (int(number), size) if unit == "AWG" and number.isdigit() else (0, size)


def without_supply(joints: Joints, dead: frozenset[Net]) -> Joints:
    """The joints with those nets moved among the untold that no way through the file's cables brings here."""
    if not dead:
        return joints
    kept = tuple(joint for joint in joints.joints if joint.net not in dead)
    moved = tuple(
        Untold(end, f"no cable of the file brings the {joint.net.words} to this box")
        for joint in joints.joints
        if joint.net in dead
        for end in joint.ends
    )
    return replace(joints, joints=kept, untold=(*joints.untold, *moved))
