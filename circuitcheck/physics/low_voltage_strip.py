"""Lamps and light strips as nodes of a low-voltage network: how each kind answers to its voltage.

A strip is a load spread along two conductors that have resistance of their own. Kinds whose current follows the voltage
along a straight line get the exact equivalent circuit of a uniform line, so one piece gives the true voltage; a kind
that keeps its power is cut into pieces fine enough for a millionth of the voltage.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from typing import NamedTuple

from circuitcheck.physics.low_voltage_network import Network, Ring

#: Pieces of a strip that keeps its power, between these two.
FEWEST_PIECES, MOST_PIECES = 8, 96

#: Pieces where lamps may go out along the strip (exact while they do not).
LAMPS_OUT_PIECES = 8

#: Pieces where the lowest point lies somewhere inside the strip.
INNER_PIECES = 32

#: Where the exact circuit of a uniform line ends: a voltage that falls to e^-16 of itself in one piece is nothing, and
#: where it falls to e^-36 the numbers have no digits left that tell it from the one before.
MOST_ANGLE = 16.0


class Law(StrEnum):
    """How the current of a lamp answers to its voltage.

    CURRENT: the same at any voltage. POWER: power / voltage, so it rises as the voltage falls.
    RESISTOR: light-emitting diodes behind a resistor, current in step with the voltage above that of the diodes.
    CONDUCTANCE: in step with the whole voltage, as a plain resistance; near enough for incandescent lamps.
    """

    CURRENT = "constant current"
    POWER = "constant power"
    RESISTOR = "resistor"
    CONDUCTANCE = "incandescent"


class Feed(StrEnum):
    """Where a strip gets its current."""

    ONE_END = "one end"
    BOTH_ENDS = "both ends"
    MIDDLE = "middle"


class Lamp(NamedTuple):
    """A lamp at one point: ``power_w`` at ``rated_v``; ``diode_share`` of it is the voltage of the diodes alone."""

    law: Law
    power_w: float
    rated_v: float
    diode_share: float


class Strip(NamedTuple):
    """A lamp spread along ``length_m``: ``power_w`` in all, at ``rated_v`` all along.

    ``resistance_ohm_per_m`` is that of the strip's own two conductors together [ohm/m].
    """

    law: Law
    power_w: float
    rated_v: float
    length_m: float
    resistance_ohm_per_m: float
    diode_share: float


class Place(NamedTuple):
    """Nodes of a lamp in its network: those along it, and where a further cable joins it."""

    nodes: tuple[int, ...]
    onward: int


def greatest_power_w(source_v: float, resistance_ohm: float) -> float:
    """The most that any lamp can be given through a resistance [W]: V^2 / 4R, with half the voltage lost.

    Source: maximum power transfer theorem.
    """
    return math.inf if resistance_ohm <= 0.0 else source_v * source_v / (4.0 * resistance_ohm)


def drawn_share(voltage_share: float, diode_share: float) -> float:
    """Current of diodes behind a resistor at a share of the rated voltage, as a share of the rated current.

    Their light follows it.
    """
    return max(0.0, (voltage_share - diode_share) / (1.0 - diode_share))


def _line(law: Law, power_w: float, rated_v: float, diode_share: float) -> tuple[float, float, float, float]:
    """Power [W], current [A], conductance [S] and threshold [V] by which a network knows this lamp."""
    if law is Law.POWER:
        return power_w, 0.0, 0.0, 0.0
    rated_a = power_w / rated_v
    if law is Law.CURRENT:
        return 0.0, rated_a, 0.0, 0.0
    threshold_v = diode_share * rated_v if law is Law.RESISTOR else 0.0
    return 0.0, 0.0, rated_a / (rated_v - threshold_v), threshold_v


def add_lamp(network: Network, parent: int, lead_ohm: float, lamp: Lamp) -> Place:
    """Add a lamp at the end of a lead of ``lead_ohm`` (both conductors)."""
    power, current, conductance, threshold = _line(lamp.law, lamp.power_w, lamp.rated_v, lamp.diode_share)
    node = network.add(
        parent, lead_ohm, power_w=power, current_a=current, conductance_s=conductance, threshold_v=threshold
    )
    return Place((node,), node)


def _pieces(strip: Strip, fed_from_both: bool) -> int:
    if fed_from_both:
        return INNER_PIECES
    if strip.law is not Law.POWER:
        return LAMPS_OUT_PIECES if strip.law is Law.RESISTOR else 1
    lost_share = strip.power_w * strip.resistance_ohm_per_m * strip.length_m / strip.rated_v**2
    return min(MOST_PIECES, max(FEWEST_PIECES, math.ceil(144.0 * lost_share)))


def _row(network: Network, parent: int, lead_ohm: float, strip: Strip, pieces: int) -> tuple[int, ...]:
    """The nodes of a strip from its feed to its far end: every piece a resistance between two halves of its load."""
    power, current, conductance, threshold = _line(strip.law, strip.power_w, strip.rated_v, strip.diode_share)
    piece_ohm = strip.resistance_ohm_per_m * strip.length_m / pieces
    half = 0.5 / pieces
    angle = math.sqrt(piece_ohm * conductance / pieces)
    if angle > 0.0:
        most = min(MOST_ANGLE, angle)
        piece_ohm *= math.sinh(most) / most
        conductance *= math.tanh(angle / 2.0) / (angle / 2.0)
    nodes = []
    for index in range(pieces + 1):
        share = half if index in (0, pieces) else 2.0 * half
        parent = network.add(
            parent,
            piece_ohm if index else lead_ohm,
            power_w=power * share,
            current_a=current * share,
            conductance_s=conductance * share,
            threshold_v=threshold,
        )
        nodes.append(parent)
    return tuple(nodes)


def _half(strip: Strip) -> Strip:
    """Both halves of a strip fed in its middle, side by side: half as long, half the resistance, the same power."""
    return Strip(
        law=strip.law,
        power_w=strip.power_w,
        rated_v=strip.rated_v,
        length_m=strip.length_m / 2.0,
        resistance_ohm_per_m=strip.resistance_ohm_per_m / 2.0,
        diode_share=strip.diode_share,
    )


def _single(strip: Strip) -> Strip:
    """One half of a strip fed in its middle."""
    return Strip(
        law=strip.law,
        power_w=strip.power_w / 2.0,
        rated_v=strip.rated_v,
        length_m=strip.length_m / 2.0,
        resistance_ohm_per_m=strip.resistance_ohm_per_m,
        diode_share=strip.diode_share,
    )


def add_strip(
    network: Network,
    parent: int,
    lead_ohm: float,
    strip: Strip,
    feed: Feed = Feed.ONE_END,
    *,
    return_ohm: float | None = None,
    carries_on: bool = False,
) -> Place:
    """Add a strip behind a lead of ``lead_ohm`` (both conductors).

    ``return_ohm`` is a second lead from the same ``parent`` to the far end of a strip fed from both ends; without it
    the lead reaches both ends with the same voltage. ``carries_on``: a further cable leaves the strip's far end.
    """
    if feed is Feed.BOTH_ENDS and return_ohm is not None and max(lead_ohm, return_ohm) > 0.0:
        # The lead with more resistance closes the ring, since a resistance of nothing could not be divided by.
        first, second = sorted((lead_ohm, return_ohm))
        nodes = _row(network, parent, first, strip, _pieces(strip, True))
        network.rings.append(Ring(parent, nodes[0], nodes[-1], second))
        return Place(nodes, nodes[-1] if first == lead_ohm else nodes[0])
    if feed is Feed.BOTH_ENDS:
        half = _half(strip)
        nodes = _row(network, parent, lead_ohm, half, _pieces(half, False))
        return Place(nodes, nodes[0])
    if feed is Feed.MIDDLE and carries_on:
        half = _single(strip)
        middle = network.add(parent, lead_ohm)
        one = _row(network, middle, 0.0, half, _pieces(half, False))
        other = _row(network, middle, 0.0, half, _pieces(half, False))
        return Place((*one, *other), one[-1])
    if feed is Feed.MIDDLE:
        strip = _half(strip)
    nodes = _row(network, parent, lead_ohm, strip, _pieces(strip, False))
    return Place(nodes, nodes[-1])


def lowest_v(place: Place, voltage_v: Sequence[float]) -> float:
    """The lowest voltage anywhere along a lamp [V].

    Between nodes the voltage of a strip sags like a parabola, so the vertex through the lowest three counts: the lowest
    itself, as the first of those as low, has a higher one before it.
    """
    along = [voltage_v[node] for node in place.nodes]
    least = min(range(len(along)), key=along.__getitem__)
    if not 0 < least < len(along) - 1:
        return along[least]
    left, here, right = along[least - 1 : least + 2]
    return here - (left - right) ** 2 / (8.0 * (left - 2.0 * here + right))
