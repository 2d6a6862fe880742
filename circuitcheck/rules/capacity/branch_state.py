"""The branch circuit as numbers: every node, cable and load at its best and at its worst end, solved as a whole.

The tree falls into legs, one for each cable that leaves the panel. What is unknown in one leg leaves the others alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from circuitcheck.circuit.model import Cable
from circuitcheck.findings import Source
from circuitcheck.physics.branch import BranchSolution, solve_branch
from circuitcheck.rules.cable_impedance import CableImpedance
from circuitcheck.rules.capacity.drop_demand import DropDemand

#: Lists of keys and sentences that grow along a path stop growing here, so that a chain of thousands stays linear.
_MOST = 40


@dataclass(slots=True)
class Stretch:
    """What feeds one node: a cable, or the conductors of a switch loop; with the node at its far end.

    ``needs``, ``loose``, ``assumed`` and ``assumed_keys`` are gathered from the panel down to this node. At the worst
    end this stretch loses ``own_loss_v`` at ``current_a``. ``low_loss_v`` and ``high_loss_v`` are the two ends of what
    is lost from the panel to this node, None where no voltages satisfy the loads. ``dearest`` is the stretch on the way
    here that loses most, ``depth`` the number of stretches. ``lean_a`` is the current as seen from the voltage at this
    node: its real part in step with it, its imaginary part negative where it lags.
    """

    node: int
    above: int
    leg: int
    cables: tuple[Cable, ...]
    impedance: CableImpedance
    needs: tuple[str, ...]
    loose: tuple[str, ...]
    assumed: tuple[str, ...]
    assumed_keys: tuple[str, ...]
    own_loss_v: float = 0.0
    current_a: float = 0.0
    low_loss_v: float | None = None
    high_loss_v: float | None = None
    dearest: int = -1
    depth: int = 0
    lean_a: complex = 0j


@dataclass(slots=True)
class Leg:
    """Everything behind one cable that leaves the panel.

    ``needs``: powers that are not known. ``loose``: keys of its loads that keep the two ends apart.
    ``unknown_factors``: keys of power factors that are not given. ``losses_left_out``: unknown lengths and sizes of
    cables, whose own losses are missing from the currents upstream. ``served_low``, ``served_high``: whether voltages
    exist at the best and at the worst end.
    """

    nodes: list[int] = field(default_factory=list)
    needs: list[str] = field(default_factory=list)
    loose: list[str] = field(default_factory=list)
    unknown_factors: list[str] = field(default_factory=list)
    losses_left_out: list[str] = field(default_factory=list)
    served_low: bool = True
    served_high: bool = True


def _grown(so_far: tuple[str, ...], more: tuple[str, ...]) -> tuple[str, ...]:
    return so_far + more if more and len(so_far) < _MOST else so_far


class Terminals(NamedTuple):
    """Volts at every node, best and worst end; None where no voltages satisfy the loads."""

    best_v: list[float] | None
    worst_v: list[float] | None

    def at(self, node: int) -> tuple[float | None, float | None]:
        """Best and worst end at one node."""
        return (
            self.best_v[node] if self.best_v is not None else None,
            self.worst_v[node] if self.worst_v is not None else None,
        )


@dataclass(slots=True)
class BranchState:
    """The whole circuit: stretches by node, legs, where each load and driver hangs, and what it takes.

    ``volts``: the two ends of the nominal voltage. ``power``: P + jQ at each node, best end and worst end. Node -1 is
    the panel.
    """

    volts: tuple[float, float]
    stretches: list[Stretch] = field(default_factory=list)
    legs: list[Leg] = field(default_factory=list)
    node_of: dict[str, int] = field(default_factory=dict)
    demand: dict[str, DropDemand] = field(default_factory=dict)
    power: tuple[list[complex], list[complex]] = field(default_factory=lambda: ([], []))
    sources: tuple[Source, ...] = ()

    def add(self, above: int, cables: tuple[Cable, ...], impedance: CableImpedance) -> int:
        """Append the node at the far end of a stretch that leaves node ``above`` (-1: the panel), and number it."""
        node = len(self.stretches)
        upstream = self.stretches[above] if above >= 0 else None
        if upstream is None:
            leg = len(self.legs)
            self.legs.append(Leg())
        else:
            leg = upstream.leg
        self.stretches.append(
            Stretch(
                node=node,
                above=above,
                leg=leg,
                cables=cables,
                impedance=impedance,
                needs=_grown(upstream.needs if upstream else (), impedance.needs),
                loose=_grown(upstream.loose if upstream else (), impedance.loose),
                assumed=_grown(upstream.assumed if upstream else (), impedance.assumed),
                assumed_keys=_grown(upstream.assumed_keys if upstream else (), impedance.assumed_keys),
                depth=upstream.depth + 1 if upstream else 1,
            )
        )
        for powers in self.power:
            powers.append(0j)
        self.legs[leg].losses_left_out.extend(impedance.needs)
        self.legs[leg].nodes.append(node)
        return node

    def connect(self, node: int, demand: DropDemand) -> None:
        """Add a load to its node, and what is open about it to its leg. A load at the panel itself loses nothing."""
        if node < 0:
            return
        leg = self.legs[self.stretches[node].leg]
        leg.needs.extend(demand.needs)
        leg.loose.extend(demand.loose)
        if demand.unknown_factor:
            leg.unknown_factors.append(demand.unknown_factor)
        self.power[0][node] += demand.low
        self.power[1][node] += demand.high

    def path(self, node: int, most: int) -> list[Stretch]:
        """The last ``most`` stretches on the way from the panel to ``node``, upstream first."""
        found: list[Stretch] = []
        while node >= 0 and len(found) < most:
            stretch = self.stretches[node]
            found.append(stretch)
            node = stretch.above
        found.reverse()
        return found

    def terminal_volts(self, low_source_v: float, high_source_v: float, low_ohm: float, high_ohm: float) -> Terminals:
        """Volts at every node for another voltage and a loop impedance at the panel: the best and the worst end."""
        parent = [-1, *(stretch.above + 1 for stretch in self.stretches)]
        ends: list[list[float] | None] = []
        for volts, ohms, worst in ((high_source_v, low_ohm, False), (low_source_v, high_ohm, True)):
            impedance = [complex(ohms), *self._impedance(worst)]
            answer = solve_branch(parent, impedance, [0j, *self.power[worst]], volts)
            if isinstance(answer, BranchSolution):
                ends.append([abs(one) for one in answer.voltage_v[1:]])
            else:
                ends.append(None)
        return Terminals(best_v=ends[0], worst_v=ends[1])

    def _impedance(self, worst: bool) -> list[complex]:
        return [one.impedance.high if worst else one.impedance.low for one in self.stretches]

    def solve(self) -> None:
        """Solve every leg at both ends, from the nominal voltage at the panel, and lay the losses along the paths."""
        low_v, high_v = self.volts
        same = low_v == high_v and self.power[0] == self.power[1] and self._impedance(False) == self._impedance(True)
        for leg in self.legs:
            worst = self._solve_leg(leg, True, low_v)
            best = worst if same else self._solve_leg(leg, False, high_v)
            leg.served_high, leg.served_low = worst is not None, best is not None
            self._lay(leg, best, worst, low_v, high_v)

    def _solve_leg(self, leg: Leg, worst: bool, source_v: float) -> BranchSolution | None:
        place = {node: index for index, node in enumerate(leg.nodes)}
        place[-1] = -1
        stretches = [self.stretches[node] for node in leg.nodes]
        answer = solve_branch(
            [place[one.above] for one in stretches],
            [one.impedance.high if worst else one.impedance.low for one in stretches],
            [self.power[worst][one.node] for one in stretches],
            source_v,
        )
        return answer if isinstance(answer, BranchSolution) else None

    def _lay(
        self, leg: Leg, best: BranchSolution | None, worst: BranchSolution | None, low_v: float, high_v: float
    ) -> None:
        for index, node in enumerate(leg.nodes):
            stretch = self.stretches[node]
            above = self.stretches[stretch.above] if stretch.above >= 0 else None
            if best is not None:
                stretch.low_loss_v = high_v - abs(best.voltage_v[index])
            if worst is not None:
                stretch.high_loss_v = low_v - abs(worst.voltage_v[index])
                stretch.own_loss_v = stretch.high_loss_v - ((above.high_loss_v or 0.0) if above is not None else 0.0)
                voltage = worst.voltage_v[index]
                stretch.current_a = abs(worst.current_a[index])
                stretch.lean_a = worst.current_a[index] * voltage.conjugate() / abs(voltage)
            dearer = above is None or stretch.own_loss_v > self.stretches[above.dearest].own_loss_v
            stretch.dearest = node if above is None or dearer else above.dearest
