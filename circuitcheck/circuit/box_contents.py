"""The small tables inside a box, as the rules see them: devices, leads, and what belongs to another circuit."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A switch, receptacle or other yoke in a box. ``gangs``: how many single gangs wide it is."""

    kind: str
    gangs: int = 1
    size: str | None = None

    def __hash__(self) -> int:
        """By what tells nearly all apart: answers are looked up by these all the time."""
        return hash(self.kind)


@dataclass(frozen=True, slots=True, kw_only=True)
class FixtureWires:
    """Luminaire wires that enter the box: size as text (``18 AWG``) and how many."""

    size: str
    count: int

    def __hash__(self) -> int:
        """By what tells nearly all apart: answers are looked up by these all the time."""
        return hash(self.size)


@dataclass(frozen=True, slots=True, kw_only=True)
class Unbroken:
    """Conductors that run through a box without a splice. ``loop``: coiled with twice the free length or more.

    ``other_circuit``: they belong to another circuit, so they are no conductors of the cables listed here.
    """

    size: str
    count: int
    loop: bool = False
    other_circuit: bool | None = None

    def __hash__(self) -> int:
        """By what tells nearly all apart: answers are looked up by these all the time."""
        return hash(self.size)


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherCable:
    """A cable of another circuit that ends in a box; one of which nobody says otherwise has an equipment ground."""

    size: str
    conductors: int
    ground: bool = True

    def __hash__(self) -> int:
        """By what tells nearly all apart: answers are looked up by these all the time."""
        return hash(self.size)
