"""What the work does to a part that is there, and what a circuit with its changes carried out remembers of before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from circuitcheck.refs import Ref

CircuitT = TypeVar("CircuitT")

REPLACE, REMOVE, MOVE, ALTER = "replace", "remove", "move", "alter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One ``[[change]]``. ``part``: an existing part, or the supply. ``action``: replace, remove, move, alter.

    new: attribute of the part -> its value in the model. brought: attribute of the part's box -> its value, for what a
    new light, driver or switch brings into it (leads, a canopy, the yoke). known_by: how the new entries are known.
    """

    part: Ref
    action: str
    new: Mapping[str, Any] = field(default_factory=dict)
    brought: Mapping[str, Any] = field(default_factory=dict)
    known_by: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class AsFound(Generic[CircuitT]):
    """What a circuit with its changes carried out remembers: the circuit as the file has it, and what became of parts.

    replaced, moved: parts that another one stands for now, or that stand elsewhere. gone: every part that is no more.
    opened: ids of boxes that a change makes somebody open, whatever is added there.
    """

    circuit: CircuitT
    replaced: frozenset[Ref] = frozenset()
    moved: frozenset[Ref] = frozenset()
    gone: frozenset[Ref] = frozenset()
    opened: frozenset[str] = frozenset()
