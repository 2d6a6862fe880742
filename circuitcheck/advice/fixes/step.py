"""A step of a fix: one thing done, the edits that it stands for, and what it says to a person."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.edits import Edit, PlanChange, SetEntries, planned_edit
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

EXISTING = "existing"

#: What a step costs, in the order in which a person would rather do it: something is chosen otherwise before it is
#: bought, something is done at a box that is open anyway, something there is replaced, the panel, a light less.
CHOSEN, DONE_AT_BOX, OTHER_ROUTE, REPLACED, AT_PANEL, LESS = 1, 2, 3, 4, 4, 6


@dataclass(frozen=True, slots=True)
class Step:
    """One thing done. ``costs``: for ordering. ``unsets``: keys that it makes unknown, which have to be found out.

    family: steps that do the same by more and more, such as thicker and thicker cable; ``strength`` tells how much.
    Of a family the weakest that is enough counts.
    """

    says: str
    edits: tuple[Edit, ...]
    costs: float
    unsets: frozenset[str] = frozenset()
    family: str = ""
    strength: float = 0.0

    @property
    def key(self) -> str:
        """The same for two steps that do the same."""
        return repr(self.edits)

    @property
    def entries(self) -> dict[tuple[Ref, str], Any]:
        """What it sets, by part and key."""
        return {
            (edit.part, key): value
            for edit in self.edits
            if isinstance(edit, SetEntries | PlanChange)
            for key, value in (edit.entries if isinstance(edit, SetEntries) else edit.new).items()
        }


@dataclass(frozen=True, slots=True)
class Asked:
    """What a kind of step is asked: a finding, the circuit as planned, and the book."""

    finding: Finding
    circuit: Circuit
    book: Rulebook

    def part(self, section: str) -> Any:
        """The part of this section that the finding is about, or None."""
        parts: Iterable[Any] = getattr(self.circuit, section)
        return next((part for part in parts if part.id == self.finding.subject), None)


#: A kind of step: what could be done about a finding, the smallest first.
Kind = Callable[[Asked], Iterable[Step]]


def is_there(part: Any) -> bool:
    """Whether the part is there already; one of unknown origin counts as added."""
    return bool(not part.is_added)


def chosen(circuit: Circuit, section: str, part: Any, entries: Mapping[str, Any]) -> Edit:
    """Other entries of a part that is still to be bought."""
    return planned_edit(circuit, Ref(section, part.id), entries)
