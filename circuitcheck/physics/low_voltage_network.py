"""Voltages in the wiring behind a driver: a tree of resistances with lamps that answer to their voltage.

The driver holds its output voltage; every resistance is that of both conductors of a run together. Reactance is left
out: at 60 Hz it changes the voltage across wires of the sizes that low-voltage lights use by less than a thousandth.

Every lamp's current is a convex function of its voltage, so the tangent method started at the driver's voltage comes
down to the highest solution and cannot skip it; where it loses its footing there is none, and no number is given.
"""

from __future__ import annotations

from dataclasses import dataclass, field

#: Voltages have settled when none moves by more than this share of the driver's voltage: far below what anyone reads.
SETTLED = 1e-11

#: Steps before a case is given up. Ordinary cases take three to six; at the very edge of what can be served each step
#: halves what is left, so that forty decide. Not deciding counts as not served.
MOST_STEPS = 80

DRIVER = 0


@dataclass(frozen=True, slots=True)
class Ring:
    """A strip fed at both ends from one point: nodes ``near`` to ``far`` in a row, and the lead back to ``point``."""

    point: int
    near: int
    far: int
    return_ohm: float


@dataclass(slots=True)
class Network:
    """Nodes in the order in which they are fed; node 0 is the driver.

    parent: the node that feeds each node. resistance_ohm: of both conductors between the two [ohm].
    Each node draws power/V + current + conductance x (V - threshold), the last never under zero.
    """

    parent: list[int] = field(default_factory=lambda: [DRIVER])
    resistance_ohm: list[float] = field(default_factory=lambda: [0.0])
    power_w: list[float] = field(default_factory=lambda: [0.0])
    current_a: list[float] = field(default_factory=lambda: [0.0])
    conductance_s: list[float] = field(default_factory=lambda: [0.0])
    threshold_v: list[float] = field(default_factory=lambda: [0.0])
    rings: list[Ring] = field(default_factory=list)

    def add(
        self,
        parent: int,
        resistance_ohm: float,
        *,
        power_w: float = 0.0,
        current_a: float = 0.0,
        conductance_s: float = 0.0,
        threshold_v: float = 0.0,
    ) -> int:
        """Add a node fed from ``parent`` through ``resistance_ohm``; its number."""
        self.parent.append(parent)
        self.resistance_ohm.append(resistance_ohm)
        self.power_w.append(power_w)
        self.current_a.append(current_a)
        self.conductance_s.append(conductance_s)
        self.threshold_v.append(threshold_v)
        return len(self.parent) - 1

    def drawn_a(self, node: int, voltage_v: float) -> float:
        """What the lamp at ``node`` draws at ``voltage_v`` [A]."""
        drawn = self.current_a[node] + max(0.0, self.conductance_s[node] * (voltage_v - self.threshold_v[node]))
        return drawn + self.power_w[node] / voltage_v if self.power_w[node] else drawn


@dataclass(frozen=True, slots=True)
class Flow:
    """Voltage at every node [V], and the current that enters every node through its own feed [A].

    The current of node 0 is the driver's. ``lost_w`` is what the wires turn into heat [W].
    """

    voltage_v: tuple[float, ...]
    current_a: tuple[float, ...]
    lost_w: float


def flow(network: Network, output_v: float) -> Flow | None:
    """Voltages and currents with the driver at ``output_v`` [V], or None when no voltage serves every lamp.

    Source: node equations of a resistive tree, solved by Newton's method; monotone by the convexity of each lamp's
    current (Ortega and Rheinboldt, Iterative Solution of Nonlinear Equations in Several Variables, section 13.3).
    """
    voltages = [output_v] * len(network.parent)
    for _ in range(MOST_STEPS):
        lower = _step(network, voltages)
        if lower is None:
            return None
        change = max(before - after for before, after in zip(voltages, lower, strict=True))
        voltages = lower
        if change <= SETTLED * output_v:
            return _flow_at(network, voltages)
    return None


def _tangents(network: Network, voltages: list[float]) -> tuple[list[float], list[float]]:
    """Each lamp's current as offset + slope x V, touching its curve at the present voltage."""
    offset = list(network.current_a)
    slope = [0.0] * len(offset)
    for node, power in enumerate(network.power_w):
        if power:
            share = power / voltages[node]
            offset[node] += 2.0 * share
            slope[node] -= share / voltages[node]
    for node, conductance in enumerate(network.conductance_s):
        threshold = network.threshold_v[node]
        if conductance and voltages[node] > threshold:
            offset[node] -= conductance * threshold
            slope[node] += conductance
    return offset, slope


def _step(network: Network, voltages: list[float]) -> list[float] | None:
    """One tangent step: voltages that fit the tangents, or None where the tangents have no answer.

    Seen from its feed, everything behind node k draws offset + slope x V + pull x V(point of its ring).
    """
    parent, resistance = network.parent, network.resistance_ohm
    offset, slope = _tangents(network, voltages)
    count = len(parent)
    pull = [0.0] * count
    ring_at = {ring.near: ring for ring in network.rings}
    for ring in network.rings:
        slope[ring.far] += 1.0 / ring.return_ohm
        pull[ring.far] -= 1.0 / ring.return_ohm
    footing = [1.0] * count
    for node in range(count - 1, 0, -1):
        below = 1.0 + slope[node] * resistance[node]
        if below <= 0.0:
            return None
        footing[node] = below
        feed = parent[node]
        offset[feed] += offset[node] / below
        if pull[node] == 0.0:
            slope[feed] += slope[node] / below
        elif node in ring_at:
            slope[feed] += (slope[node] + pull[node]) / below
            _close(ring_at[node], resistance, footing, offset, slope, pull)
        else:
            slope[feed] += slope[node] / below
            pull[feed] += pull[node] / below
    found = [voltages[DRIVER]] * count
    ring_of = {node: ring for ring in network.rings for node in range(ring.near, ring.far + 1)}
    for node in range(1, count):
        taken = offset[node]
        if node in ring_of:
            taken += pull[node] * found[ring_of[node].point]
        voltage = (found[parent[node]] - resistance[node] * taken) / footing[node]
        if voltage <= 0.0:
            return None
        found[node] = voltage
    return found


def _close(
    ring: Ring,
    resistance: list[float],
    footing: list[float],
    offset: list[float],
    slope: list[float],
    pull: list[float],
) -> None:
    """Count what the return lead of a ring takes from its point: the far end's voltage follows from the point's."""
    constant, share = 0.0, 1.0
    for node in range(ring.near, ring.far + 1):
        constant = (constant - resistance[node] * offset[node]) / footing[node]
        share = (share - resistance[node] * pull[node]) / footing[node]
    offset[ring.point] -= constant / ring.return_ohm
    slope[ring.point] += (1.0 - share) / ring.return_ohm


def _flow_at(network: Network, voltages: list[float]) -> Flow:
    currents = [network.drawn_a(node, voltage) for node, voltage in enumerate(voltages)]
    used = sum(voltage * current for voltage, current in zip(voltages, currents, strict=True))
    for ring in network.rings:
        returned = (voltages[ring.point] - voltages[ring.far]) / ring.return_ohm
        currents[ring.far] -= returned
        currents[ring.point] += returned
    for node in range(len(currents) - 1, 0, -1):
        currents[network.parent[node]] += currents[node]
    given = voltages[DRIVER] * currents[DRIVER]
    return Flow(tuple(voltages), tuple(currents), max(0.0, given - used))
