"""Which loads each switch turns off, and the cables between two switches: read off the tree, open entries or not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol, TypeVar

#: What a cable carries whose white wire is hot.
LOOPS = ("switch loop", "travelers")
#: Switches one behind the other that are told, nearest the load.
MOST_IN_A_ROW = 8


class _Cable(Protocol):
    @property
    def from_id(self) -> str: ...

    @property
    def to_id(self) -> str: ...


class _SwitchedCable(_Cable, Protocol):
    @property
    def switched_by(self) -> str | None: ...


class _Hung(Protocol):
    @property
    def id(self) -> str: ...

    @property
    def box(self) -> str: ...

    @property
    def switched_by(self) -> str | None: ...


class _Control(Protocol):
    @property
    def id(self) -> str: ...

    @property
    def with_id(self) -> str | None: ...


CableT = TypeVar("CableT", bound=_Cable)


def killed_by(
    branch_cables: Iterable[_SwitchedCable], hung: Iterable[_Hung], controls: Sequence[_Control]
) -> dict[str, list[str]]:
    """Control id -> ids of the loads and drivers that go off with it.

    By their own word, by any cable on the way to them, and, for a three-way pair, by the word about its partner.
    ``branch_cables``: each after the one that feeds it.
    """
    killed: dict[str, list[str]] = {control.id: [] for control in controls}
    above: dict[str, tuple[str, ...]] = {"panel": ()}
    for cable in branch_cables:
        before = above[cable.from_id]
        own = cable.switched_by
        above[cable.to_id] = before if own is None or own in before else (*before, own)[-MOST_IN_A_ROW:]
    for thing in hung:
        for control in dict.fromkeys((*above.get(thing.box, ()), *((thing.switched_by,) if thing.switched_by else ()))):
            killed.setdefault(control, []).append(thing.id)
    for each in controls:
        if each.with_id in killed and not killed[each.id]:
            killed[each.id] = list(killed[each.with_id])
        elif each.with_id in killed and not killed[each.with_id]:
            killed[each.with_id] = list(killed[each.id])
    return killed


def cables_between(feed: Mapping[str, CableT], one: str, other: str) -> list[CableT]:
    """The branch cables on the way from one box to another, through the box where their paths part.

    Both ends climb in turn until their ways meet, so that a pair side by side costs nothing in a long chain.
    """
    ends = [one, other]
    ways: list[list[CableT]] = [[], []]
    seen: list[dict[str, int]] = [{one: 0}, {other: 0}]
    turn = 0
    while ends[0] != ends[1]:
        mine, theirs = turn, 1 - turn
        if ends[mine] in feed:
            cable = feed[ends[mine]]
            ways[mine].append(cable)
            ends[mine] = cable.from_id
            seen[mine][cable.from_id] = len(ways[mine])
            if cable.from_id in seen[theirs]:
                return [*ways[mine], *ways[theirs][: seen[theirs][cable.from_id]]]
        elif ends[theirs] not in feed:
            break
        turn = theirs
    return [*ways[0], *ways[1]]
