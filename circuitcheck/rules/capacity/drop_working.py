"""Steps and parts of a finding about voltage drop: each cable on the way, the sum, and the volts that arrive."""

from __future__ import annotations

from circuitcheck.findings import Part
from circuitcheck.rules.capacity.branch_state import Stretch
from circuitcheck.rules.capacity.drop_loss import DropContext, DropLoss
from circuitcheck.rules.capacity.drop_words import percent, span, stretch_line, stretch_name, volts
from circuitcheck.text import shown_number

#: Stretches of a path that a finding lists one by one; what lies upstream of them is one line.
_SHOWN = 24


def shown_way(node: int, context: DropContext) -> list[Stretch]:
    """The stretches on the way to ``node`` that are shown one by one, upstream first."""
    return context.state.path(node, _SHOWN)


def drop_working(subject: str, loss: DropLoss, way: list[Stretch], context: DropContext) -> tuple[str, ...]:
    """The steps: what the load takes, each cable on the shown ``way``, the sum, and the volts that arrive."""
    state = context.state
    demand = state.demand[subject]
    takes = f"{subject}: {span(demand.low.real, demand.high.real, 'W')}"
    if demand.high.imag > 0.0:
        takes += f" and {span(demand.low.imag, demand.high.imag, 'var')}"
    lines = [f"{takes}; all loads of the circuit are on at their rated power"]
    if way and way[0].above >= 0:
        before = state.stretches[way[0].above]
        lines.append(f"{before.depth} cables before that: {shown_number(before.high_loss_v or 0.0)} V")
    for stretch in way:
        line = context.lines.get(stretch.node)
        if line is None:
            line = context.lines[stretch.node] = stretch_line(stretch)
        lines.append(line)
    nominal = span(*state.volts, "V")
    share = loss.high_percent or 0.0
    lines.append(f"together {shown_number(loss.high_v)} V of {nominal} = {percent(share)}")
    if shown_number(loss.low_v) != shown_number(loss.high_v):
        lines.append(f"at best {shown_number(loss.low_v)} V = {percent(loss.low_percent or 0.0)}")
    left = context.total - share
    feeder = (
        f"leaves {percent(left)} for what feeds the panel" if left > 0.0 else "leaves nothing for what feeds the panel"
    )
    lines.append(f"{percent(context.total)} is recommended for feeder and branch circuit together: this {feeder}")
    panel = volts(*context.panel_v)
    if loss.worst_arrives_v is None or loss.best_arrives_v is None:
        lines.append(f"from {panel} {context.measured} no voltage satisfies all loads at worst")
    else:
        arrives = volts(loss.worst_arrives_v, loss.best_arrives_v)
        lines.append(f"from {panel} {context.measured} at the panel, {arrives} arrive")
    return tuple(lines)


def drop_parts(way: list[Stretch], context: DropContext) -> tuple[Part, ...]:
    """Volts lost in each cable on the shown ``way``."""
    parts = []
    for stretch in way:
        part = context.parts.get(stretch.node)
        if part is None:
            part = Part(stretch_name(stretch), stretch.own_loss_v, stretch.cables[-1].id)
            context.parts[stretch.node] = part
        parts.append(part)
    if way and way[0].above >= 0:
        before = context.state.stretches[way[0].above]
        parts.insert(0, Part(f"{before.depth} cables before that", before.high_loss_v or 0.0))
    return tuple(parts)
