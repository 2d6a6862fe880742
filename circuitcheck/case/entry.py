"""An entry that the file leaves open."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from circuitcheck.possible.entry import Possible
from circuitcheck.refs import Ref

if TYPE_CHECKING:
    from circuitcheck.case.parts import Part


@dataclass(frozen=True, slots=True, eq=False)
class OpenEntry:
    """One entry that the file leaves open. ``kind``: ``cable.length``; ``ref``: what a person would have to find out.

    ``title`` is the key's short label, for sentences. ``part`` is the part in the case that it belongs to.
    """

    kind: str
    ref: Ref
    attribute: str
    title: str
    possible: Possible
    part: Part = field(repr=False)
