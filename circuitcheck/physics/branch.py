"""The steady state of a whole branch circuit: every voltage and every current, all loads at constant power.

The method is Newton's on the branch-flow equations of a radial network, in squared voltages and squared currents.
Written so, each squared current is a convex, rising function of all the others. Hence, started from no current at all,
every step rises and none can pass a true solution. The steps therefore reach the solution with the least current, which
is the one that a real circuit takes, or they prove that there is none: either some voltage would have to be zero, or
some stretch of the tree is past the point where more current still brings more power. Each step is two passes over the
tree, up and down, without recursion, so the time grows linearly with the number of nodes.

Source: M. E. Baran and F. F. Wu, Optimal sizing of capacitors placed on a radial distribution system, IEEE Transactions
on Power Delivery 4(1), 1989 (the branch-flow equations); J. M. Ortega and W. C. Rheinboldt, Iterative Solution of
Nonlinear Equations in Several Variables, 1970, section 13.3 (monotone convergence of Newton's method).
"""

from __future__ import annotations

import cmath
from collections.abc import Sequence
from typing import NamedTuple

#: When the next step would move no squared voltage by more than this share of the source's, it is left out.
_STILL = 1e-13
#: Each step doubles the digits; only on the limit of what can be served, to a millionth of a millionth, does it merely
#: halve the error. A tree that needs more steps than this is there, and counts as one that cannot be served.
_MOST_STEPS = 60


class BranchSolution(NamedTuple):
    """The state of a tree, one entry a node: its voltage [V] and the current [A] in the cable that feeds it."""

    voltage_v: tuple[complex, ...]
    current_a: tuple[complex, ...]


class Unserved(NamedTuple):
    """Proof that no voltages satisfy the loads of a tree. ``node`` is where the proof was met."""

    node: int


def _checked(parent: Sequence[int], impedance_ohm: Sequence[complex], power_va: Sequence[complex]) -> None:
    if len(parent) != len(impedance_ohm) or len(parent) != len(power_va):
        raise ValueError("parents, impedances and powers must be one a node")
    for node, above in enumerate(parent):
        if not -1 <= above < node:
            raise ValueError(f"node {node} must come after the node that feeds it")
    for node, (impedance, power) in enumerate(zip(impedance_ohm, power_va, strict=True)):
        if not (cmath.isfinite(impedance) and cmath.isfinite(power)):
            raise ValueError(f"node {node} has an impedance or a power that is not finite")
        if min(impedance.real, impedance.imag, power.real, power.imag) < 0.0:
            raise ValueError(f"node {node} has a negative resistance, reactance, power or reactive power")


def solve_branch(
    parent: Sequence[int],
    impedance_ohm: Sequence[complex],
    power_va: Sequence[complex],
    source_v: float,
) -> BranchSolution | Unserved:
    """Voltages and currents of a tree of constant-power loads, or the proof that there are none.

    parent: for each node the node that feeds it, -1 for the stiff source; a node comes after its parent.
    impedance_ohm: for each node R + jX [ohm] of the cable that feeds it, both conductors together.
    power_va: for each node the load there, P + jQ [W, var], lagging.
    source_v: voltage of the stiff source [V].

    Rises with: nothing that draws power; every voltage falls as any impedance or load grows.

    Raises: ValueError when a node precedes its parent, or anything is negative or not a number.
    """
    _checked(parent, impedance_ohm, power_va)
    if not source_v > 0.0:
        raise ValueError("the source needs a voltage")
    # Squared voltages are counted in squares of the source's, and impedances to match, so that the source's is one.
    scale = 1.0 / source_v**2
    count = len(parent)
    resistance = [impedance.real * scale for impedance in impedance_ohm]
    reactance = [impedance.imag * scale for impedance in impedance_ohm]
    squared = [r * r + x * x for r, x in zip(resistance, reactance, strict=True)]
    # Without any loss: the power into each node is the sum of the loads at and below it.
    real = [power.real for power in power_va]
    reactive = [power.imag for power in power_va]
    for node in range(count - 1, -1, -1):
        above = parent[node]
        if above >= 0:
            real[above] += real[node]
            reactive[above] += reactive[node]
    voltage = [1.0] * count
    current = [0.0] * count
    for node in range(count):
        above = parent[node]
        lost = 2.0 * (resistance[node] * real[node] + reactance[node] * reactive[node])
        voltage[node] = (voltage[above] if above >= 0 else 1.0) - lost
        if voltage[node] <= 0.0:
            return Unserved(node)
    before = 0.0
    for _ in range(_MOST_STEPS):
        moved = _step(parent, resistance, reactance, squared, real, reactive, voltage, current)
        if isinstance(moved, Unserved):
            return moved
        # Steps shrink with the square of the one before, and from the last two the next one can be told.
        if moved < _STILL or (before > 0.0 and moved * (moved / before) ** 2 < _STILL):
            return _phasors(parent, impedance_ohm, real, reactive, current, scale, source_v)
        before = moved
    return Unserved(min(range(count), key=voltage.__getitem__))


def _step(
    parent: Sequence[int],
    resistance: list[float],
    reactance: list[float],
    squared: list[float],
    real: list[float],
    reactive: list[float],
    voltage: list[float],
    current: list[float],
) -> float | Unserved:
    """One Newton step in place; the greatest change of a squared voltage, or the proof that no solution exists.

    Up: each cable's change of power and squared current as a straight line over the change of the squared voltage that
    feeds it (constant and slope). Down: the source's voltage does not change, and so every change follows.
    """
    count = len(parent)
    real_constant = [0.0] * count
    real_slope = [0.0] * count
    reactive_constant = [0.0] * count
    reactive_slope = [0.0] * count
    current_constant = [0.0] * count
    current_slope = [0.0] * count
    offset = [0.0] * count
    gain = [0.0] * count
    for node in range(count - 1, -1, -1):
        p, q, v = real[node], reactive[node], voltage[node]
        r, x = resistance[node], reactance[node]
        p0, p1, q0, q1 = real_constant[node], real_slope[node], reactive_constant[node], reactive_slope[node]
        over = 1.0 / v
        flow = (p * p + q * q) * over
        c0 = flow - current[node] + 2.0 * (p * p0 + q * q0) * over
        c1 = (2.0 * (p * p1 + q * q1) - flow) * over
        slope = 1.0 + 2.0 * (r * p1 + x * q1) + squared[node] * c1
        if slope <= 0.0:
            return Unserved(node)
        constant = 2.0 * (r * p0 + x * q0) + squared[node] * c0
        offset[node], gain[node] = constant, 1.0 / slope
        current_constant[node], current_slope[node] = c0, c1
        above = parent[node]
        if above >= 0:
            steep = (p1 + r * c1) / slope
            real_slope[above] += steep
            real_constant[above] += p0 + r * c0 - steep * constant
            steep = (q1 + x * c1) / slope
            reactive_slope[above] += steep
            reactive_constant[above] += q0 + x * c0 - steep * constant
    change = [0.0] * count
    moved = 0.0
    for node in range(count):
        above = parent[node]
        dv = ((change[above] if above >= 0 else 0.0) - offset[node]) * gain[node]
        change[node] = dv
        v = voltage[node] + dv
        if v <= 0.0:
            return Unserved(node)
        voltage[node] = v
        real[node] += real_constant[node] + real_slope[node] * dv
        reactive[node] += reactive_constant[node] + reactive_slope[node] * dv
        current[node] += current_constant[node] + current_slope[node] * dv
        if dv < -moved or dv > moved:
            moved = abs(dv)
    return moved


def _phasors(
    parent: Sequence[int],
    impedance_ohm: Sequence[complex],
    real: list[float],
    reactive: list[float],
    current: list[float],
    scale: float,
    source_v: float,
) -> BranchSolution:
    """Complex voltages and currents from the squared ones: down the tree, the source's angle being zero."""
    voltages: list[complex] = []
    currents: list[complex] = []
    for node, above in enumerate(parent):
        feeding = voltages[above] if above >= 0 else complex(source_v)
        impedance = impedance_ohm[node]
        # Squared amperes: the squared current was counted in squares of watts per squared source voltage.
        power = complex(real[node], reactive[node]) + impedance * (current[node] * scale)
        amperes = (power / feeding).conjugate()
        currents.append(amperes)
        voltages.append(feeding - impedance * amperes)
    return BranchSolution(tuple(voltages), tuple(currents))
