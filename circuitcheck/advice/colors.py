"""The color of each insulated conductor of a cable, by what it carries: how it is planned, or what is to be proved.

White is the neutral. Where a cable has none, white is re-identified and takes the supply toward a switch or a traveler,
never the return from a switch (NFPA 70, 200.7(C)). Of the others black comes first: always hot, then switched.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from circuitcheck.advice.nets import Net, NetKind

WHITE = "white"

#: Insulated conductors of a cable besides the white one, in the order in which they are given out.
OTHERS = ("black", "red", "blue")

#: What the white wire of a cable is used for, the first that the cable has. The return from a switch is not among them.
FOR_WHITE = (NetKind.NEUTRAL, NetKind.HOT, NetKind.TRAVELER)

_ORDER = (NetKind.HOT, NetKind.SWITCHED, NetKind.TRAVELER)


@dataclass(frozen=True, slots=True)
class Color:
    """A color, and whether it is a white wire marked as hot. Empty where it cannot be told."""

    name: str = ""
    reidentified: bool = False

    @property
    def words(self) -> str:
        """The color as the plan says it."""
        return f"{self.name} (re-identified, hot)" if self.reidentified else self.name


def colors_of(nets: Sequence[Net]) -> tuple[Color, ...]:
    """A color for each conductor of a cable, in the order of ``nets``; none where they cannot all be told.

    A cable of one conductor, or of more than there are colors for, is not colored here, nor one that could only bring
    the return from a switch on white.
    """
    untold = (Color(),) * len(nets)
    if len(nets) not in (2, 3, 4) or not all(net.told for net in nets):
        return untold
    white = next((place for kind in FOR_WHITE for place in _places(nets, kind)[-1:]), None)
    if white is None:
        return untold
    rest = sorted((place for place in range(len(nets)) if place != white), key=lambda place: _rank(nets[place]))
    named = {place: Color(name) for place, name in zip(rest, OTHERS, strict=False)}
    named[white] = Color(WHITE, nets[white].kind is not NetKind.NEUTRAL)
    return tuple(named[place] for place in range(len(nets)))


def _places(nets: Sequence[Net], kind: NetKind) -> list[int]:
    return [place for place, net in enumerate(nets) if net.kind is kind]


def _rank(net: Net) -> int:
    return _ORDER.index(net.kind) if net.kind in _ORDER else len(_ORDER)
