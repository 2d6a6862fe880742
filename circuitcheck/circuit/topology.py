"""How the parts of a circuit hang together: the branch-circuit tree and the low-voltage trees behind drivers."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, Protocol, TypeAlias, TypeVar

if TYPE_CHECKING:
    from circuitcheck.circuit.model import Box, Cable, Driver, Load, LowVoltageLoad


class Named(Protocol):
    """A part with an id."""

    @property
    def id(self) -> str:
        """The name that the file gives it."""


class InBox(Named, Protocol):
    """A part that is connected in a box."""

    @property
    def box(self) -> str:
        """The box's id."""


class Run(Protocol):
    """A cable as far as the trees need it: its own id and the ids of its two ends."""

    @property
    def id(self) -> Hashable:
        """What tells this cable from the others."""

    @property
    def from_id(self) -> str:
        """The upstream end."""

    @property
    def to_id(self) -> str:
        """The downstream end."""


class NamedRun(Named, Protocol):
    """A cable with an id of the file."""

    @property
    def from_id(self) -> str:
        """The upstream end."""

    @property
    def to_id(self) -> str:
        """The downstream end."""


BoxT = TypeVar("BoxT", bound=Named)
CableT = TypeVar("CableT", bound=NamedRun)
LoadT = TypeVar("LoadT", bound=InBox)
DriverT = TypeVar("DriverT", bound=InBox)
LightT = TypeVar("LightT", bound=Named)
BoxIn = TypeVar("BoxIn", bound=Named, covariant=True)
CableIn = TypeVar("CableIn", bound=NamedRun, covariant=True)
LoadIn = TypeVar("LoadIn", bound=InBox, covariant=True)
DriverIn = TypeVar("DriverIn", bound=InBox, covariant=True)
LightIn = TypeVar("LightIn", bound=Named, covariant=True)


class Parts(Protocol[BoxIn, CableIn, LoadIn, DriverIn, LightIn]):
    """A circuit as far as the trees need it: as the file has it, or with every entry known."""

    @property
    def boxes(self) -> tuple[BoxIn, ...]:
        """The boxes."""

    @property
    def cables(self) -> tuple[CableIn, ...]:
        """The cables."""

    @property
    def loads(self) -> tuple[LoadIn, ...]:
        """The loads on the branch circuit."""

    @property
    def drivers(self) -> tuple[DriverIn, ...]:
        """The drivers."""

    @property
    def low_voltage_loads(self) -> tuple[LightIn, ...]:
        """The lights behind drivers."""


@dataclass(frozen=True, slots=True)
class TreeOf(Generic[BoxT, CableT, LoadT, DriverT, LightT]):
    """Lookups over a circuit, computed once.

    order: ids of the branch-circuit nodes, "panel" first, every node after the one that feeds it.
    feed: node id -> the branch cable that feeds it (not for "panel").
    children: node id -> the branch cables that leave it downstream, in file order.
    branch_cables: the cables of the branch circuit, in the order of ``order``.
    low_voltage_cables: cables behind a driver, every one after the one that feeds it.
    driver_of: low-voltage cable id -> the driver id at the root of its tree.
    cables_at: box id -> every cable with an end in that box, branch or low-voltage.
    loads_at, drivers_at: box id -> what is connected in it.
    """

    order: tuple[str, ...]
    feed: Mapping[str, CableT]
    children: Mapping[str, tuple[CableT, ...]]
    branch_cables: tuple[CableT, ...]
    low_voltage_cables: tuple[CableT, ...]
    driver_of: Mapping[str, str]
    cables_at: Mapping[str, tuple[CableT, ...]]
    loads_at: Mapping[str, tuple[LoadT, ...]]
    drivers_at: Mapping[str, tuple[DriverT, ...]]
    box: Mapping[str, BoxT]
    cable: Mapping[str, CableT]
    load: Mapping[str, LoadT]
    driver: Mapping[str, DriverT]
    low_voltage_load: Mapping[str, LightT]

    def path(self, node_id: str) -> tuple[CableT, ...]:
        """The branch cables from the panel to ``node_id``, upstream first."""
        cables: list[CableT] = []
        while node_id in self.feed:
            cable = self.feed[node_id]
            cables.append(cable)
            node_id = cable.from_id
        return tuple(reversed(cables))


#: The tree of a circuit as the file has it.
Tree: TypeAlias = "TreeOf[Box, Cable, Load, Driver, LowVoltageLoad]"


def low_voltage_cables(cables: Sequence[Run], drivers: Iterable[str], lights: Iterable[str]) -> set[Hashable]:
    """Ids of the cables behind drivers, given the ids of drivers and of low-voltage loads.

    A cable is low-voltage when it leaves a driver or a low-voltage load, or ends at a low-voltage load, or leaves a box
    that only low-voltage cables feed. A box with both kinds of feed passes on to another box the kind that box needs:
    low voltage when a low-voltage load hangs below it, else the branch circuit.
    """
    loads = set(lights)
    sources = loads.union(drivers)
    if not sources:
        return set()
    incoming: dict[str, list[Run]] = {}
    outgoing: dict[str, list[Run]] = {}
    for cable in cables:
        incoming.setdefault(cable.to_id, []).append(cable)
        outgoing.setdefault(cable.from_id, []).append(cable)
    leads_to_load: set[str] = set()
    waiting = list(loads)
    while waiting:
        for cable in incoming.get(waiting.pop(), ()):
            if cable.from_id not in leads_to_load and cable.from_id not in sources:
                leads_to_load.add(cable.from_id)
                waiting.append(cable.from_id)
    waiting = [cable.to_id for cable in cables if cable.from_id in sources or cable.to_id in loads]
    found = {cable.id for cable in cables if cable.from_id in sources or cable.to_id in loads}
    while waiting:
        node = waiting.pop()
        only_low = all(cable.id in found for cable in incoming.get(node, ()))
        for cable in outgoing.get(node, ()):
            if cable.id not in found and (only_low or cable.to_id in leads_to_load):
                found.add(cable.id)
                waiting.append(cable.to_id)
    return found


def _reach(roots: list[str], outgoing: Mapping[str, list[CableT]]) -> tuple[list[str], list[CableT]]:
    """Nodes and cables reached from ``roots``, parents first. Iterative, since a chain may be 10,000 long."""
    order: list[str] = []
    cables: list[CableT] = []
    waiting = list(reversed(roots))
    seen: set[str] = set()
    while waiting:
        node = waiting.pop()
        if node in seen:
            continue
        seen.add(node)
        order.append(node)
        leaving = outgoing.get(node, [])
        cables.extend(leaving)
        waiting.extend(cable.to_id for cable in reversed(leaving))
    return order, cables


def _by_start(cables: list[CableT]) -> dict[str, list[CableT]]:
    starts: dict[str, list[CableT]] = {}
    for cable in cables:
        starts.setdefault(cable.from_id, []).append(cable)
    return starts


def build_tree(
    circuit: Parts[BoxT, CableT, LoadT, DriverT, LightT],
) -> TreeOf[BoxT, CableT, LoadT, DriverT, LightT]:
    """The lookups of a circuit that the reader has already found to be a tree.

    Raises: ValueError when a branch node has two feeds (the reader reports it with both cables).
    """
    low_ids = low_voltage_cables(
        circuit.cables,
        [driver.id for driver in circuit.drivers],
        [load.id for load in circuit.low_voltage_loads],
    )
    branch_out = _by_start([cable for cable in circuit.cables if cable.id not in low_ids])
    low_out = _by_start([cable for cable in circuit.cables if cable.id in low_ids])
    order, branch = _reach(["panel"], branch_out)
    feed: dict[str, CableT] = {}
    for cable in branch:
        if cable.to_id in feed:
            raise ValueError(f"{cable.to_id} is fed by {feed[cable.to_id].id} and {cable.id}")
        feed[cable.to_id] = cable
    low: list[CableT] = []
    driver_of: dict[str, str] = {}
    for driver in circuit.drivers:
        for cable in _reach([driver.id], low_out)[1]:
            if cable.id not in driver_of:
                driver_of[cable.id] = driver.id
                low.append(cable)
    cables_at: dict[str, list[CableT]] = {}
    for cable in circuit.cables:
        cables_at.setdefault(cable.from_id, []).append(cable)
        cables_at.setdefault(cable.to_id, []).append(cable)
    loads_at: dict[str, list[LoadT]] = {}
    for load in circuit.loads:
        loads_at.setdefault(load.box, []).append(load)
    drivers_at: dict[str, list[DriverT]] = {}
    for driver in circuit.drivers:
        drivers_at.setdefault(driver.box, []).append(driver)
    return TreeOf(
        order=tuple(order),
        feed=feed,
        children={node: tuple(branch_out.get(node, ())) for node in order},
        branch_cables=tuple(branch),
        low_voltage_cables=tuple(low),
        driver_of=driver_of,
        cables_at={node: tuple(cables) for node, cables in cables_at.items()},
        loads_at={node: tuple(loads) for node, loads in loads_at.items()},
        drivers_at={node: tuple(found) for node, found in drivers_at.items()},
        box={box.id: box for box in circuit.boxes},
        cable={cable.id: cable for cable in circuit.cables},
        load={load.id: load for load in circuit.loads},
        driver={driver.id: driver for driver in circuit.drivers},
        low_voltage_load={load.id: load for load in circuit.low_voltage_loads},
    )
