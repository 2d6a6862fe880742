"""What a current costs that was read at the panel and that no listed load explains."""

from __future__ import annotations

from typing import NamedTuple

from circuitcheck.case import Case, in_order, once
from circuitcheck.case.memory import aside
from circuitcheck.circuit.model import PANEL
from circuitcheck.domain.branch import branch
from circuitcheck.domain.existing_load import most_unlisted
from circuitcheck.domain.impedance import cable_impedance, ohm_before_panel


class UnlistedLoss(NamedTuple):
    """What a current costs that was read at the panel and that no listed load explains [A, V].

    certain_v: lost in the only cable that leaves the panel, through which everything flows. more_v: lost besides on the
    way to a node, if the current flows all that way; nobody knows its place. before_panel_v: lost before the panel.
    """

    amperes: float
    certain_v: float
    more_v: float
    before_panel_v: float


def unlisted_loss(case: Case, node: int) -> UnlistedLoss | None:
    """What the reading costs beyond the listed loads, on the way to a node that the tables hold; None where nothing.

    Its loss is added to the solved state: resistance times current, in step with the voltage.
    """
    if case.supply.measured_current_a is None or node < 0:
        return None
    with aside(case):  # a load of which nothing is known is asked for elsewhere
        amperes = most_unlisted(case)
    if amperes <= 0.0:
        return None
    in_order(case, _way_ohm, lambda: range(len(branch(case).nodes)))
    homeruns = case.tree.children.get(PANEL, ())
    way = _way_ohm(case, node)
    first = 0.0
    if len(homeruns) == 1:
        impedance = cable_impedance(case, homeruns[0])
        first = impedance.ohm.real if impedance is not None else 0.0
    return UnlistedLoss(amperes, amperes * first, amperes * (way - first), amperes * ohm_before_panel(case))


@once
def _way_ohm(case: Case, number: int) -> float:
    """Resistance of the cables on the way to a node, there and back [ohm]; asked of the nodes ``in_order``."""
    node = branch(case).nodes[number]
    impedances = (cable_impedance(case, cable) for cable in node.cables)
    own = sum(impedance.ohm.real for impedance in impedances if impedance is not None)
    return own + (_way_ohm(case, node.above) if node.above >= 0 else 0.0)
