"""The current that each branch cable carries, added up once from the ends of the circuit to the panel."""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Source, merge_sources
from circuitcheck.rules.branch_loads import Amperes, amperes_of, branch_draws
from circuitcheck.rules.once import once
from circuitcheck.rules.switch_loops import switch_loops
from circuitcheck.tables.rulebook import Rulebook

#: How many keys of loads downstream a cable's finding names at most; load-share names them all.
MOST_KEYS = 8


@dataclass(slots=True)
class CableCurrent:
    """What flows through a cable [A], and which keys of loads downstream leave it open.

    ``plain_low``, ``plain_high``: without the factor for continuous loads, which is for the wire before correction.

    ``open_keys``: loads of unknown size. ``range_keys``: keys that make low and high differ. ``unsaid_keys``: loads
    that nobody calls continuous or not. Each names at most ``MOST_KEYS``.
    """

    low: float = 0.0
    high: float = 0.0
    worst: float = 0.0
    plain_low: float = 0.0
    plain_high: float = 0.0
    open_keys: tuple[str, ...] = ()
    range_keys: tuple[str, ...] = ()
    unsaid_keys: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def amperes(self) -> Amperes:
        """The three readings of the current [A]."""
        return Amperes(self.low, self.high, self.worst)

    def take(self, other: CableCurrent) -> None:
        """Add what flows through a cable further down."""
        self.low += other.low
        self.high += other.high
        self.worst += other.worst
        self.plain_low += other.plain_low
        self.plain_high += other.plain_high
        self.open_keys = _joined(self.open_keys, other.open_keys)
        self.range_keys = _joined(self.range_keys, other.range_keys)
        self.unsaid_keys = _joined(self.unsaid_keys, other.unsaid_keys)
        if other.sources and other.sources is not self.sources:
            self.sources = merge_sources(self.sources, other.sources) if self.sources else other.sources


def _joined(mine: tuple[str, ...], others: tuple[str, ...]) -> tuple[str, ...]:
    return mine if not others or len(mine) >= MOST_KEYS else (*mine, *others)[:MOST_KEYS]


@once
def cable_currents(circuit: Circuit, book: Rulebook) -> dict[str, CableCurrent]:
    """Cable id -> the current of everything downstream, for each branch cable. Linear in the size of the circuit.

    A switch loop has nothing downstream; it carries what its switch turns on.
    """
    tree = circuit.tree
    factor = book.value("continuous-load-factor").number
    at: dict[str, CableCurrent] = {}
    loops = switch_loops(circuit)
    switched = {load.id: load.switched_by for load in circuit.loads if load.switched_by in loops}
    in_loops: list[tuple[str, CableCurrent]] = []
    for draw in branch_draws(circuit, book):
        here = at.setdefault(draw.box, CableCurrent())
        one = amperes_of(draw, circuit.supply, factor)
        current = CableCurrent(
            one.low,
            one.high,
            one.worst,
            draw.low_va / circuit.supply.voltage_v.high,
            draw.high_va / circuit.supply.voltage_v.low,
            draw.needs,
            draw.range_keys,
            (f"{draw.key}.continuous",) if draw.continuous is None else (),
            draw.sources,
        )
        here.take(current)
        control = switched.get(draw.id) if draw.section == "load" else None
        if control is not None:
            in_loops += [(cable.id, current) for cable in loops[control]]
    found: dict[str, CableCurrent] = {}
    for node in reversed(tree.order):
        cable = tree.feed.get(node)
        if cable is None:
            continue
        here = at.get(node) or CableCurrent()
        found[cable.id] = here
        at.setdefault(cable.from_id, CableCurrent()).take(here)
    for cable_id, current in in_loops:
        found[cable_id].take(current)
    return found
