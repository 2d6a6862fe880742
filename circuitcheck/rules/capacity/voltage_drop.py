"""Voltage drop: how much of the voltage is lost between the panel and each lamp.

What it asks: the volts lost in both conductors of every cable on the way from the panel to a load or driver, with all
loads of the circuit on at their rated power, against the 3 percent that is recommended for a branch circuit; and
whether the voltage that arrives is at least what the label asks for (`min_voltage`).

Why: a long or thin cable with much behind it leaves lamps dim, makes electronic drivers draw more current or flicker,
and turns the rest into heat in the wall. A drop far above what the lengths explain points to a bad joint.

What to do: where it is too much, take a thicker conductor in the cable that loses most, a shorter way, or another
circuit. For a cable that is already there, only a shorter way or another circuit is left.

Cannot see: bad joints and worn contacts, what the feeder and the service lose before the panel (unless the file gives
`impedance` or `measured_voltage`), the neutral of a circuit that shares it with another, and the inrush when something
starts. A measured voltage is taken as read with the circuit off. A poor power factor is counted as lagging current,
though with electronic lamps it is mostly distortion. Where the length or size of one cable is not known, its own losses
are missing from the current that other loads share with it.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Driver, Load
from circuitcheck.findings import Finding, Outcome, exceeds, judge_at_most
from circuitcheck.quantities import Interval, need_and_room
from circuitcheck.rules.capacity.branch_state import Stretch
from circuitcheck.rules.capacity.drop_loss import NAMED, DropContext, DropLoss, drop_context, drop_loss
from circuitcheck.rules.capacity.drop_words import listed, percent, span, stretch_name
from circuitcheck.rules.capacity.drop_working import drop_parts, drop_working, shown_way
from circuitcheck.rules.capacity.solved_branch import BRANCH_STATE_USES
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each load and each driver of the branch circuit."""
    if not circuit.loads and not circuit.drivers:
        return
    context = drop_context(circuit, book)
    for load in circuit.loads:
        if load.id in context.state.node_of:
            yield _finding(load, f"load.{load.id}", context)
    for driver in circuit.drivers:
        if driver.id in context.state.node_of:
            yield _finding(driver, f"driver.{driver.id}", context)


def _finding(part: Load | Driver, key: str, context: DropContext) -> Finding:
    state = context.state
    node, demand = state.node_of[part.id], state.demand[part.id]
    stretch = state.stretches[node] if node >= 0 else None
    leg = state.legs[stretch.leg] if stretch is not None else None
    needs = _named((*stretch.needs, *leg.needs)) if stretch is not None and leg is not None else ()
    loose = (
        _named((*stretch.loose, *demand.loose, *leg.loose, *context.supply_keys))
        if stretch is not None and leg is not None
        else context.supply_keys
    )
    minimum = part.min_voltage_v
    if minimum is not None and not minimum.exact:
        loose = (*loose, f"{key}.min_voltage")
    loss = drop_loss(node, context)
    outcome, says, open_keys = _judge(part.id, loss, needs, loose, minimum, stretch, context)
    leg_assumed, leg_keys = context.legs[stretch.leg] if stretch is not None else ((), ())
    known = not needs and loss.high_percent is not None
    dearest = state.stretches[stretch.dearest] if stretch is not None and known else None
    way = shown_way(node, context) if known else []
    return Finding(
        check=RULE.name,
        subject=part.id,
        outcome=outcome,
        says=says,
        value=loss.high_percent if known else None,
        limit=context.limit,
        unit="percent",
        low=loss.low_percent,
        high=loss.high_percent if known else None,
        working=drop_working(part.id, loss, way, context) if known else (),
        sources=context.sources,
        needs=open_keys,
        assumed=(*(stretch.assumed if stretch is not None else ()), *demand.assumed, *leg_assumed),
        assumed_keys=_named((*(stretch.assumed_keys if stretch is not None else ()), *demand.assumed_keys, *leg_keys)),
        keys=open_keys or _deciding_keys(key, dearest),
        parts=drop_parts(way, context) if known else (),
        to_do=_to_do(outcome, dearest),
    )


def _named(keys: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(keys))[:NAMED]


def _judge(
    subject: str,
    loss: DropLoss,
    needs: tuple[str, ...],
    loose: tuple[str, ...],
    minimum: Interval | None,
    stretch: Stretch | None,
    context: DropContext,
) -> tuple[Outcome, str, tuple[str, ...]]:
    """Outcome, the sentence, and the keys that have to be found out."""
    if loss.low_percent is None:
        return (
            Outcome.FAIL,
            f"No voltage can serve {subject}: the cables on the way cannot carry that much power, whatever arrives.",
            (),
        )
    over_already = exceeds(loss.low_percent, context.limit)
    too_low = minimum is not None and (loss.best_arrives_v is None or exceeds(minimum.low, loss.best_arrives_v))
    if too_low and minimum is not None:
        least, best = need_and_room(minimum.low, loss.best_arrives_v or 0.0, 4)
        arrives = "Nothing" if loss.best_arrives_v is None else f"At best {best} V"
        return (
            Outcome.FAIL,
            f"{arrives} would arrive at {subject}, less than the {least} V that its label asks for; "
            f"{_lost(loss, known=not needs)} are lost on the way from the panel.",
            (),
        )
    if needs:
        missing = f"until {listed(needs)} {'is' if len(needs) == 1 else 'are'} known"
        if over_already and minimum is None:
            # What is missing may be so much that no voltage serves it at all.
            return (
                Outcome.UNDETERMINED,
                f"At least {percent(loss.low_percent)} of the voltage is lost between the panel and {subject}, more "
                f"than the recommended {percent(context.limit)}; how much more cannot be told {missing}.",
                needs,
            )
        return (
            Outcome.UNDETERMINED,
            f"How much voltage is lost on the way to {subject} cannot be told {missing}.",
            needs,
        )
    if loss.high_percent is None:
        return (
            Outcome.UNDETERMINED,
            f"At worst no voltage could serve {subject} over these cables, at best {percent(loss.low_percent)} is "
            "lost: find out what is only guessed.",
            loose,
        )
    if minimum is not None and (loss.worst_arrives_v is None or exceeds(minimum.high, loss.worst_arrives_v)):
        most, arrives = need_and_room(minimum.high, loss.worst_arrives_v or 0.0, 4)
        worst = "nothing" if loss.worst_arrives_v is None else f"{arrives} V"
        return (
            Outcome.UNDETERMINED,
            f"At worst {worst} would arrive at {subject}, less than the {most} V that its label asks for, and at best "
            "enough.",
            loose,
        )
    outcome = judge_at_most(loss.low_percent, loss.high_percent, context.limit, over=Outcome.CAUTION)
    where = ""
    if stretch is not None and stretch.depth > 1:
        dearest = context.state.stretches[stretch.dearest]
        where = f", most of it in {stretch_name(dearest)} ({shown_number(dearest.own_loss_v)} V)"
    over = ""
    if outcome is not Outcome.PASS:
        over = f"; {percent(context.limit)} is the most that is recommended"
        if exceeds(loss.high_percent, context.total):
            over += f", and {percent(context.total)} with the feeder"
    return outcome, f"{_lost(loss, known=True)} are lost between the panel and {subject}{where}{over}.", ()


def _lost(loss: DropLoss, *, known: bool) -> str:
    """``2.4 V (2.0 %)``, with the range where there is one, and "at least" where only one end is known."""
    if not known or loss.high_percent is None:
        return f"at least {shown_number(loss.low_v)} V ({percent(loss.low_percent or 0.0)})"
    return f"{span(loss.low_v, loss.high_v, 'V')} ({span(loss.low_percent or 0.0, loss.high_percent, '%')})"


def _deciding_keys(key: str, dearest: Stretch | None) -> tuple[str, ...]:
    if dearest is None:
        return (f"{key}.box",)
    cable = f"cable.{dearest.cables[-1].id}."
    return (cable + "size", cable + "length", f"{key}.box")


def _to_do(outcome: Outcome, dearest: Stretch | None) -> tuple[str, ...]:
    if outcome not in (Outcome.CAUTION, Outcome.FAIL):
        return ()
    if dearest is not None and any(cable.origin != "existing" for cable in dearest.cables):
        return (f"Plan a thicker conductor for {stretch_name(dearest)}, a shorter way, or another circuit.",)
    return ("Plan a shorter way or another circuit: the cable that loses most is already in the wall.",)


RULE = Rule(
    name="voltage-drop",
    title="Voltage lost between the panel and each lamp",
    family="capacity",
    uses=(
        "value:voltage-drop-recommended-branch",
        "value:voltage-drop-recommended-total",
        *BRANCH_STATE_USES,
    ),
    check=check,
)
