"""From a circuit and a rulebook to the numbers of its branch circuit.

A load that is switched through a switch loop hangs on an extra node behind the loop's two conductors.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.model import PANEL, Cable, Circuit, Load
from circuitcheck.findings import Source, merge_sources
from circuitcheck.rules.cable_impedance import CABLE_IMPEDANCE_USES, CableImpedance, Impedances
from circuitcheck.rules.capacity.branch_state import BranchState
from circuitcheck.rules.capacity.drop_demand import DROP_DEMAND_USES, driver_demand, load_demand
from circuitcheck.rules.once import once
from circuitcheck.rules.switch_loops import switch_loops
from circuitcheck.tables.rulebook import Rulebook

#: What ``branch_state`` may cite; a rule that calls it adds them to its ``uses``.
BRANCH_STATE_USES = tuple(dict.fromkeys((*CABLE_IMPEDANCE_USES, *DROP_DEMAND_USES)))


@once
def branch_state(circuit: Circuit, book: Rulebook) -> BranchState:
    """The branch circuit of ``circuit`` solved under ``book``, from nominal voltage at the panel."""
    tree = circuit.tree
    impedances = Impedances(book)
    supply = circuit.supply
    state = BranchState((supply.voltage_v.low, supply.voltage_v.high))
    node_of_box = {PANEL: -1}
    of_cable: dict[str, CableImpedance] = {}
    for cable in tree.branch_cables:
        of_cable[cable.id] = impedance = impedances.cable(cable)
        node_of_box[cable.to_id] = state.add(node_of_box[cable.from_id], (cable,), impedance)
    for load in circuit.loads:
        state.demand[load.id] = load_demand(load, supply, book)
        if load.box in node_of_box:
            state.node_of[load.id] = node_of_box[load.box]
    for driver in circuit.drivers:
        state.demand[driver.id] = driver_demand(driver, supply, book)
        if driver.box in node_of_box:
            state.node_of[driver.id] = node_of_box[driver.box]
    _hang_behind_loops(circuit, state, of_cable)
    for subject, node in state.node_of.items():
        state.connect(node, state.demand[subject])
    state.sources = merge_sources(
        *_conductor_sources(of_cable.values()),
        *dict.fromkeys(demand.sources for demand in state.demand.values()),
    )
    state.solve()
    return state


def _conductor_sources(impedances: Iterable[CableImpedance]) -> Iterable[tuple[Source, ...]]:
    """The sources of each kind of conductor once: a circuit of thousands of cables has few kinds."""
    kinds = {id(one.conductor): one.conductor for one in impedances if one.conductor is not None}
    return (conductor.sources for conductor in kinds.values())


def _hang_behind_loops(circuit: Circuit, state: BranchState, of_cable: dict[str, CableImpedance]) -> None:
    """Move the loads that a switch loop switches to nodes of their own behind its two conductors.

    All loads of one switch share its loop. A box with only some of them gets the loop's impedance times the watts of
    all over its own watts: that loses the same volts as the one loop that carries the current of all, since the part of
    a current that is in step with the voltage goes by the watts, and resistance is nearly all of the impedance.
    """
    loops = switch_loops(circuit)
    if not loops:
        return
    switched: dict[str, dict[str, list[Load]]] = {}
    for load in circuit.loads:
        if load.switched_by in loops and load.id in state.node_of:
            switched.setdefault(load.switched_by, {}).setdefault(load.box, []).append(load)
    for control_id, boxes in switched.items():
        shares = {box: _total(state, loads) for box, loads in boxes.items()}
        whole = (sum(low.real for low, _ in shares.values()), sum(high.real for _, high in shares.values()))
        open_needs = tuple(
            dict.fromkeys(key for loads in boxes.values() for one in loads for key in state.demand[one.id].needs)
        )
        for box, loads in boxes.items():
            low, high = (end.real for end in shares[box])
            factor = (whole[0] / low if low else 1.0, whole[1] / high if high else 1.0)
            above = state.node_of[loads[0].id]
            node = state.add(above, loops[control_id], _loop_impedance(loops[control_id], of_cable, factor))
            state.legs[state.stretches[node].leg].needs.extend(open_needs)
            for load in loads:
                state.node_of[load.id] = node


def _total(state: BranchState, loads: list[Load]) -> tuple[complex, complex]:
    demands = [state.demand[load.id] for load in loads]
    return sum((one.low for one in demands), 0j), sum((one.high for one in demands), 0j)


def _loop_impedance(
    cables: tuple[Cable, ...], of_cable: dict[str, CableImpedance], factor: tuple[float, float]
) -> CableImpedance:
    parts = [of_cable[cable.id] for cable in cables]
    needs = tuple(key for part in parts for key in part.needs)
    return CableImpedance(
        low=0j if needs else factor[0] * sum(part.low for part in parts),
        high=0j if needs else factor[1] * sum(part.high for part in parts),
        conductor=parts[0].conductor,
        needs=needs,
        loose=tuple(key for part in parts for key in part.loose),
        assumed=tuple(one for part in parts for one in part.assumed),
        assumed_keys=tuple(key for part in parts for key in part.assumed_keys),
    )
