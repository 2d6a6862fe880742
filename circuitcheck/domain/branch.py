"""The branch circuit as a tree of nodes, solved as a whole with all loads on at their rated power.

The tree falls into legs, one for each cable that leaves the panel. Without an impedance before the panel they do not
know of one another. A load that is switched through a switch loop is connected to an extra node behind the loop's two
conductors.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple, TypeAlias

from circuitcheck.case import Case, in_order, once
from circuitcheck.case.memory import aside
from circuitcheck.case.parts import Cable, Driver, Load
from circuitcheck.circuit.model import PANEL
from circuitcheck.domain.draws import draw_of, load_draw
from circuitcheck.domain.impedance import cable_impedance
from circuitcheck.domain.switch_loops import switch_loops
from circuitcheck.findings import Part as Share
from circuitcheck.findings import Source, merge_sources
from circuitcheck.physics.branch import BranchSolution, solve_branch

Connected: TypeAlias = Load | Driver


@dataclass(slots=True)
class Node:
    """The far end of ``cables``, fed from node ``above`` (-1: the panel).

    depth: how many nodes lie on the way, this one too. is_loop: the conductors of a switch loop feed it; switched: then
    all loads of that loop's switch. connected: the loads and drivers here. name: of its cables, in a sum.
    """

    above: int
    leg: int
    depth: int
    cables: tuple[Cable, ...]
    is_loop: bool
    name: str
    connected: list[Connected] = field(default_factory=list)
    switched: tuple[Load, ...] = ()


class Branch(NamedTuple):
    """Every node after the node that feeds it; ``at``: where each load and driver is; ``legs``: the nodes of each."""

    nodes: list[Node]
    at: dict[Connected, int]
    legs: list[list[int]]
    at_box: dict[str, int]


@once
def branch(case: Case) -> Branch:
    """How the branch circuit hangs together."""
    made = Branch([], {}, [], {PANEL: -1})
    for cable in case.tree.branch_cables:
        made.at_box[cable.to_id] = _add(made, made.at_box[cable.from_id], (cable,))
    loops = switch_loops(case)
    behind: dict[tuple[str, str], int] = {}
    for load in case.loads:
        if load.box not in made.at_box:
            continue
        node = made.at_box[load.box]
        switch = load.switched_by or ""
        if switch in loops:
            if (switch, load.box) not in behind:
                behind[switch, load.box] = _add(made, node, loops[switch], is_loop=True)
            node = behind[switch, load.box]
        _connect(made, node, load)
    of_switch: dict[str, list[Load]] = {}
    for load in case.loads if behind else ():
        turned_on_by = load.switched_by
        if turned_on_by is not None and load.box in made.at_box:
            of_switch.setdefault(turned_on_by, []).append(load)
    for (switch, _), node in behind.items():
        made.nodes[node].switched = tuple(of_switch[switch])
    for driver in case.drivers:
        if driver.box in made.at_box:
            _connect(made, made.at_box[driver.box], driver)
    return made


def _add(made: Branch, above: int, cables: tuple[Cable, ...], *, is_loop: bool = False) -> int:
    """The number of the new node at the far end of ``cables``."""
    if above < 0:
        made.legs.append([])
    leg = len(made.legs) - 1 if above < 0 else made.nodes[above].leg
    depth = 1 if above < 0 else made.nodes[above].depth + 1
    name = " and ".join([cable.id for cable in cables])
    made.nodes.append(Node(above, leg, depth, cables, is_loop, f"{name} (switch loop)" if is_loop else name))
    made.legs[leg].append(len(made.nodes) - 1)
    return len(made.nodes) - 1


def _connect(made: Branch, node: int, part: Connected) -> None:
    made.at[part] = node
    if node >= 0:
        made.nodes[node].connected.append(part)


def node_impedance(case: Case, number: int) -> complex | None:
    """Impedance of what feeds a node [ohm]; None where the tables hold no such conductor.

    All loads of one switch share its loop. A box with only some of them gets the loop's impedance times the watts of
    all over its own watts: that loses the same volts as the one loop that carries the current of all, since the part of
    a current that is in step with the voltage goes by the watts, and resistance is nearly all of the impedance.
    """
    node = branch(case).nodes[number]
    ohm = 0j
    for cable in node.cables:
        impedance = cable_impedance(case, cable)
        if impedance is None:
            return None
        ohm += impedance.ohm
    if node.switched:
        own = sum(draw_of(case, part).power.real for part in node.connected)
        ohm *= sum(load_draw(case, load).power.real for load in node.switched) / own if own else 1.0
    return ohm


class InTables(NamedTuple):
    """Conductors in a row of whom the tables tell in the same places: where, how many, and those before them."""

    sources: tuple[Source, ...]
    conductors: int
    before: InTables | None


@once
def way_in_tables(case: Case, number: int) -> InTables | None:
    """The conductors all the way to a node, the last first; None where the tables do not hold them all.

    Asked of the nodes ``in_order``.
    """
    node, before = branch(case).nodes[number], None
    if node_impedance(case, number) is None:
        return None
    if node.above >= 0:
        before = way_in_tables(case, node.above)
        if before is None:
            return None
    impedance = cable_impedance(case, node.cables[-1])
    sources = impedance.sources if impedance is not None else ()
    if before is not None and before.sources == sources:
        return InTables(sources, before.conductors + 1, before.before)
    return InTables(sources, 1, before)


class Solved(NamedTuple):
    """A leg, or all of them, solved; lists in the order of ``numbers``.

    panel_v: volts at the panel, behind the impedance before it. lost_v: from the panel to each node. own_v: in what
    feeds the node. current_a: in what feeds it. largest: the node on the way there that loses most. lines: what feeds a
    node and loses so much, for those who tell it, since many ways lead through the same cables.
    """

    panel_v: float
    place: dict[int, int]
    lost_v: list[float]
    own_v: list[float]
    current_a: list[float]
    largest: list[int]
    lines: dict[int, Share]

    def line(self, number: int, node: Node) -> Share:
        """What feeds a node, and what is lost in it [V]."""
        line = self.lines.get(number)
        if line is None:
            own_v = self.own_v[self.place[number]]
            line = self.lines[number] = Share(node.name, own_v, node.cables[-1].id)
        return line


def _numbers(case: Case, leg: int | None) -> list[int]:
    """The nodes of a leg, or of all legs."""
    tree = branch(case)
    return tree.legs[leg] if leg is not None else list(range(len(tree.nodes)))


@once
def _powers(case: Case, leg: int | None) -> list[complex]:
    """What is connected at each of them, P + jQ [W, var]: apart, since it stays as it is while a length is another."""
    nodes = branch(case).nodes
    return [sum([draw_of(case, part).power for part in nodes[number].connected], 0j) for number in _numbers(case, leg)]


@once
def _ohms(case: Case, leg: int | None) -> list[complex]:
    """The impedance of what feeds each of them [ohm]: apart, since it stays as it is while a load is another."""
    return [node_impedance(case, number) or 0j for number in _numbers(case, leg)]


@once
def solved(case: Case, leg: int | None, source_v: float, source_ohm: float) -> Solved | None:
    """A leg (None: all together) solved from a voltage [V] before an impedance [ohm]; None where no voltages serve it.

    Whoever asks depends on all loads of the leg, and on the cables only as far as they lie on his own way: an unknown
    length elsewhere leaves that cable's own losses out, and nobody is asked for it.
    """
    tree = branch(case)
    numbers, power = _numbers(case, leg), _powers(case, leg)
    with aside(case):
        ohms = _ohms(case, leg)
    place = {number: index for index, number in enumerate(numbers)}
    above = [place.get(tree.nodes[number].above, -1) for number in numbers]
    answer = solve_branch([-1, *(index + 1 for index in above)], [complex(source_ohm), *ohms], [0j, *power], source_v)
    if not isinstance(answer, BranchSolution):
        return None
    panel_v = abs(answer.voltage_v[0])
    made = Solved(panel_v, place, [], [], [abs(current) for current in answer.current_a[1:]], [], {})
    for index, number in enumerate(numbers):
        upstream = above[index]
        lost = panel_v - abs(answer.voltage_v[index + 1])
        own = lost - (made.lost_v[upstream] if upstream >= 0 else 0.0)
        most = made.largest[upstream] if upstream >= 0 else number
        made.lost_v.append(lost)
        made.own_v.append(own)
        made.largest.append(number if upstream < 0 or own > made.own_v[place[most]] else most)
    return made


class Loss(NamedTuple):
    """From the panel to one node, from nominal voltage: volts lost, and the node on the way that loses most."""

    lost_v: float
    before_panel_v: float
    largest: int


def solved_around(case: Case, node: int) -> Solved | None:
    """The leg of a node from nominal voltage; all legs where the file gives an impedance before the panel."""
    return _solved_from(case, node, case.supply.voltage_v)


def _solved_from(case: Case, node: int, source_v: float) -> Solved | None:
    """The same from this voltage; without an impedance there is no state of the panel alone (-1)."""
    impedance_ohm = case.supply.impedance_ohm
    if impedance_ohm is not None:
        return solved(case, None, source_v, impedance_ohm)
    return solved(case, branch(case).nodes[node].leg, source_v, 0.0)


def loss_to(case: Case, node: int) -> Loss | None:
    """What is lost on the way to a node (-1: the panel itself); None where no voltages satisfy the loads."""
    return loss_in(case, solved_around(case, node) if node >= 0 else None, node)


def loss_in(case: Case, state: Solved | None, node: int) -> Loss | None:
    """The same in the solved leg around the node, which may be at hand; None for that where none was found."""
    if node < 0:
        return Loss(0.0, 0.0, -1)
    if state is None:
        return None
    index = state.place[node]
    return Loss(state.lost_v[index], case.supply.voltage_v - state.panel_v, state.largest[index])


def source_v(case: Case) -> float:
    """From how many volts it is told what arrives: those that were measured, else the nominal ones."""
    supply = case.supply
    return supply.voltage_v if supply.measured_voltage_v is None else supply.measured_voltage_v


def arriving_v(case: Case, node: int) -> float | None:
    """Volts at a node: behind the file's impedance, and from the measured voltage where there is one."""
    source = source_v(case)
    if node < 0 and (case.supply.impedance_ohm is None or not branch(case).nodes):
        return source
    state = _solved_from(case, node, source)
    if state is None:
        return None
    return state.panel_v - (state.lost_v[state.place[node]] if node >= 0 else 0.0)


def way_is_in_tables(case: Case, node: int) -> bool:
    """Whether the tables hold every conductor on the way to a node. Whoever asks depends on every cable there."""
    if node < 0:
        return True
    return _in_tables(case, node) is not None


def _in_tables(case: Case, node: int) -> InTables | None:
    in_order(case, way_in_tables, lambda: range(len(branch(case).nodes)))
    return way_in_tables(case, node)


def way_to(case: Case, node: int, most: int) -> list[int]:
    """The last ``most`` nodes on the way from the panel to a node, upstream first."""
    nodes = branch(case).nodes
    way: list[int] = []
    while node >= 0 and len(way) < most:
        way.append(node)
        node = nodes[node].above
    return way[::-1]


@once
def way_sources(case: Case, node: int, most: int) -> tuple[Source, ...]:
    """Where the numbers of the last ``most`` conductors on the way to a node stand; of a way that the tables hold."""
    row = _in_tables(case, node) if node >= 0 else None
    groups: list[tuple[Source, ...]] = []
    while row is not None and most > 0:
        groups.append(row.sources)
        most -= row.conductors
        row = row.before
    return merge_sources(*reversed(groups))
