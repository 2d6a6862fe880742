"""What a current costs whose place is unknown: it was read at the panel, or no branch cable feeds the load."""

from __future__ import annotations

from typing import NamedTuple

from circuitcheck.case import Amount, Case, Said, in_order, once, said
from circuitcheck.case.memory import aside
from circuitcheck.circuit.model import PANEL
from circuitcheck.domain.branch import branch
from circuitcheck.domain.cable_currents import leads_to_what_was_there
from circuitcheck.domain.existing_load import most_unlisted, unfed, unfed_draw
from circuitcheck.domain.impedance import cable_impedance, ohm_before_panel


class UnlistedLoss(NamedTuple):
    """What a current costs that no load explains which hangs on a cable of the branch circuit [A, V].

    certain_v: lost in the only cable that leaves the panel, through which everything flows; 0 where a load hangs on no
    cable, so that another one may leave it. more_v: lost besides on the way to a node, if the current flows that way as
    far as it may; nobody knows its place. before_panel_v: lost before the panel. is_unfed: a load hangs on no cable.
    """

    amperes: float
    certain_v: float
    more_v: float
    before_panel_v: float
    is_unfed: bool = False

    @property
    def why(self) -> str:
        """Where it comes from, for a sentence that names the ``unlisted`` amperes."""
        if self.is_unfed:
            return "the circuit carries {unlisted} whose place is unknown, since no branch cable feeds every load"
        return "the meter showed {unlisted} more than the listed loads draw"

    def written(self) -> Said:
        """A line of the working."""
        unlisted, more = Amount(self.amperes, "A"), Amount(self.more_v, "V")
        if self.is_unfed:
            line = "on no branch cable: {unlisted}; flowing all this way it would lose {more}"
            return said(line, unlisted=unlisted, more=more)
        return said(
            "measured beyond the listed loads: {unlisted}; {certain} is lost by it in the only cable that leaves the "
            "panel, and up to {more} besides where it flows farther",
            unlisted=unlisted,
            certain=Amount(self.certain_v, "V"),
            more=more,
        )


def unlisted_loss(case: Case, node: int) -> UnlistedLoss | None:
    """What such a current costs on the way to a node that the tables hold; None where there is none.

    Its loss is added to the solved state: resistance times current, in step with the voltage. What was read does not
    flow to what is only added; what an added load draws that hangs on no cable may.
    """
    off_the_tree = unfed(case)
    if node < 0 or (case.supply.measured_current_a is None and not off_the_tree):
        return None
    with aside(case):  # a load of which nothing is known is asked for elsewhere
        amperes = most_unlisted(case)
        anywhere = unfed_draw(case) if all(part.is_added for part in off_the_tree) else amperes
    if amperes <= 0.0:
        return None
    in_order(case, _way_ohm, lambda: range(len(branch(case).nodes)))
    homeruns = case.tree.children.get(PANEL, ())
    there, new = _way_ohm(case, node)
    first = 0.0
    if len(homeruns) == 1 and not off_the_tree:
        impedance = cable_impedance(case, homeruns[0])
        first = impedance.ohm.real if impedance is not None else 0.0
    more_v = amperes * (there - first) + anywhere * new
    return UnlistedLoss(amperes, amperes * first, more_v, amperes * ohm_before_panel(case), bool(off_the_tree))


class _WayOhm(NamedTuple):
    """Resistance of the cables on a way, there and back [ohm].

    there: of those that lead to what was there before the work. new: of the others.
    """

    there: float
    new: float


@once
def _way_ohm(case: Case, number: int) -> _WayOhm:
    """The resistance of the way to a node; asked of the nodes ``in_order``.

    Through the only cable that leaves the panel everything flows, whatever it leads to.
    """
    node = branch(case).nodes[number]
    there, new = _way_ohm(case, node.above) if node.above >= 0 else _WayOhm(0.0, 0.0)
    for cable in node.cables:
        impedance = cable_impedance(case, cable)
        own = impedance.ohm.real if impedance is not None else 0.0
        if (node.above < 0 and len(case.tree.children.get(PANEL, ())) == 1) or leads_to_what_was_there(case, cable):
            there += own
        else:
            new += own
    return _WayOhm(there, new)
