"""What a conductor is part of: everything that is joined, in whatever box, is one net."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class NetKind(StrEnum):
    """The kinds of nets, in the order in which a box is read."""

    HOT = "always hot"
    SWITCHED = "switched hot"
    TRAVELER = "traveler"
    NEUTRAL = "neutral"
    GROUND = "equipment ground"
    LOW_VOLTAGE = "low voltage"
    UNTOLD = "unknown"


@dataclass(frozen=True, slots=True)
class Net:
    """One net. ``of``: the switch, the switches or the driver that it belongs to. ``number``: which of several.

    ``why``: for a conductor that cannot be told, what is missing.
    """

    kind: NetKind
    of: str = ""
    number: str = ""
    why: str = ""

    @property
    def told(self) -> bool:
        """Whether it is known what the conductor is part of."""
        return self.kind is not NetKind.UNTOLD

    @property
    def ungrounded(self) -> bool:
        """Whether a load could hang on it: always hot, or switched hot."""
        return self.kind in (NetKind.HOT, NetKind.SWITCHED)

    @property
    def words(self) -> str:
        """Its name on a sheet."""
        if self.kind is NetKind.SWITCHED:
            return f"switched hot from {self.of}"
        if self.kind is NetKind.TRAVELER:
            return f"traveler {self.number} of {self.of}"
        if self.kind is NetKind.LOW_VOLTAGE:
            return f"output {self.number} of {self.of}"
        return str(self.kind)


HOT = Net(NetKind.HOT)
NEUTRAL = Net(NetKind.NEUTRAL)
GROUND = Net(NetKind.GROUND)


def switched(name: str) -> Net:
    """The net behind a switch, or behind the switches of a three-way set."""
    return Net(NetKind.SWITCHED, name)


def untold(why: str) -> Net:
    """A conductor of which the file does not say enough."""
    return Net(NetKind.UNTOLD, why=why)
