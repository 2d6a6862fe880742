"""A case: the parts of a circuit with every entry known, as the rules see it."""

from __future__ import annotations

from functools import cached_property
from typing import Any, NamedTuple, TypeAlias

from circuitcheck.case import parts
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.reading import Reading
from circuitcheck.case.results import Kept
from circuitcheck.case.waiting import entry_of, open_entries
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.topology import TreeOf, build_tree
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

KnownTree: TypeAlias = TreeOf[parts.Box, parts.Cable, parts.Load, parts.Driver, parts.LowVoltageLoad]


class Gone(NamedTuple):
    """A load that the work takes away, replaces or moves, as it was found.

    has_watts: the file gives watts, which of a light are those of the largest lamp.
    """

    load: parts.Load
    has_watts: bool


class Case:
    """One circuit in which every entry is known, and the rulebook by which it is judged.

    The parts carry the names of the file's keys. What is open in the file has in it the value that the engine chose; a
    rule cannot tell the difference, and asks for nothing else.
    """

    def __init__(self, book: Rulebook, reading: Reading, sections: dict[str, Any]) -> None:
        """``sections``: the parts by the circuit's attribute (``boxes`` …)."""
        self.book = book
        self.reading = reading
        #: Loads that were there before the work and are no more, or stand elsewhere.
        self.gone: tuple[Gone, ...] = ()
        #: Existing parts in whose place another one stands, and those that the work moves; both count as added.
        self.replaced: frozenset[Ref] = frozenset()
        self.moved: frozenset[Ref] = frozenset()
        #: Ids of boxes that a change makes somebody open.
        self.opened: frozenset[str] = frozenset()
        self.worked_out: dict[Any, Kept] = {}
        self.job: parts.Job = sections["job"]
        self.supply: parts.Supply = sections["supply"]
        self.site: parts.Site = sections["site"]
        self.boxes: tuple[parts.Box, ...] = sections["boxes"]
        self.cables: tuple[parts.Cable, ...] = sections["cables"]
        self.loads: tuple[parts.Load, ...] = sections["loads"]
        self.drivers: tuple[parts.Driver, ...] = sections["drivers"]
        self.low_voltage_loads: tuple[parts.LowVoltageLoad, ...] = sections["low_voltage_loads"]
        self.controls: tuple[parts.Control, ...] = sections["controls"]
        self.framing: tuple[parts.Framing, ...] = sections["framing"]

    @cached_property
    def entries(self) -> tuple[OpenEntry, ...]:
        """All that is open, as the file has it; whoever asks for all makes all."""
        return tuple(
            entry for section in SECTIONS for part in self.parts_of(section) for entry in open_entries(part).values()
        )

    def entries_of(self, section: str, key: str) -> tuple[OpenEntry, ...]:
        """What is open of one key."""
        attribute = SECTIONS[section].keys[key].attribute
        entries = (entry_of(part, attribute) for part in self.parts_of(section))
        return tuple(entry for entry in entries if entry is not None)

    def parts_of(self, section: str) -> tuple[parts.Part, ...]:
        """The parts of a section, or the one that stands once."""
        held = getattr(self, SECTIONS[section].attribute)
        return held if SECTIONS[section].many else (held,)

    @cached_property
    def tree(self) -> KnownTree:
        """How the parts hang together."""
        return build_tree(self)

    @cached_property
    def control(self) -> dict[str, parts.Control]:
        """The controls by their ids."""
        return {control.id: control for control in self.controls}
