"""Voltage drop: how much of the voltage is lost between the panel and each light.

What it asks: the volts lost in both conductors of every cable on the way from the panel to a load or driver, with all
loads of the circuit on at their rated power, against the 3 percent that is recommended for a branch circuit; and
whether the voltage that arrives is at least what the label requires (`min_voltage`).

Why: a long or thin cable with much behind it leaves lights dim, makes electronic drivers draw more current or flicker,
and turns the rest into heat in the wall. A drop far above what the lengths explain points to a bad joint.

What to do: where it is too much, take a thicker conductor in the cable with the largest drop, a shorter way, or another
circuit. For a cable that is already there, only a shorter way or another circuit is left.

Cannot see: bad joints and worn contacts, what the feeder and the service lose before the panel (unless the file gives
`impedance` or `measured_voltage`), the neutral of a circuit that shares it with another, and the inrush when something
starts. A measured voltage counts as read with the circuit off. A poor power factor counts as lagging current, though
with electronic lights it is mostly distortion. A load known by its volt-amperes or amperes alone counts at worst with
the power factor, just below one, with which most is lost on its own way. An unknown length or size of a cable that is
not on the way leaves that cable's own losses out of the current that others share. A current that was measured beyond
the listed loads counts in the only cable that leaves the panel; where it flows besides is unknown, but not to what is
only added. So is, all the way, where the current of a load flows that no branch cable feeds.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.case import (
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Later,
    Rounding,
    Rows,
    Said,
    Things,
    order,
    said,
)
from circuitcheck.case.parts import Cable, Driver
from circuitcheck.domain.arriving import Arriving, arriving_at
from circuitcheck.domain.branch import (
    Connected,
    Loss,
    Node,
    Solved,
    branch,
    loss_in,
    node_impedance,
    solved_around,
    way_is_in_tables,
    way_sources,
    way_to,
)
from circuitcheck.domain.directions import DRAW_WORSE, GONE_WORSE, LISTED_LESS
from circuitcheck.domain.draws import draw_of
from circuitcheck.domain.existing_load import to_find_out, unfed_draw
from circuitcheck.domain.impedance import IMPEDANCE_WORSE, cable_impedance, ohm_before_panel
from circuitcheck.domain.power_on_the_way import POWER_TURNS, POWER_WORSE
from circuitcheck.domain.unlisted_loss import UnlistedLoss, unlisted_loss
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.findings import Part as Share
from circuitcheck.quantities import shown
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

#: Nodes of a way that a finding lists; what lies upstream of them is one line.
_SHOWN = 24
#: Digits of volts that arrive, since the loss is a small part of them.
_DIGITS = 4
_PLANNED = "Plan a thicker conductor for the cable with the largest drop, a shorter route, or another circuit."
_THERE = "Plan a shorter route or another circuit: the cable with the largest drop is already in the wall."
_TO_DO_PLANNED = dict.fromkeys((Outcome.CAUTION, Outcome.FAIL), (_PLANNED,))
_TO_DO_THERE = dict.fromkeys((Outcome.CAUTION, Outcome.FAIL), (_THERE,))


def subjects(case: Case) -> Iterator[Connected]:
    """Every load and driver of the branch circuit."""
    boxes = set(case.tree.order)
    parts: tuple[Connected, ...] = (*case.loads, *case.drivers)
    return (part for part in parts if part.box in boxes)


class _Way(NamedTuple):
    """What is lost on the way to a load or driver, the volts that arrive there, and what no listed load explains.

    shown: the last nodes of the way, of all ``nodes``; depth: how many it has. state: the solved leg that it lies in;
    None where there is no way.
    """

    nodes: list[Node]
    shown: list[int]
    depth: int
    state: Solved | None
    loss: Loss
    arriving: Arriving
    unlisted: UnlistedLoss | None


def answer(part: Connected, case: Case, book: Rulebook) -> Answer:
    """What is lost on the way to one load or driver [percent of nominal], and what arrives."""
    tree = branch(case)
    nodes, node = tree.nodes, tree.at[part]
    if not way_is_in_tables(case, node):
        return _not_in_tables(part, case, node)
    limit, state = book.value("voltage-drop-recommended-branch"), solved_around(case, node) if node >= 0 else None
    loss = loss_in(case, state, node)
    total = book.value("voltage-drop-recommended-total")
    shown = way_to(case, node, _SHOWN)
    drawn = draw_of(case, part)
    things: Things = {"kind": "driver" if isinstance(part, Driver) else "load", "part": part.id}
    sources = (limit.source, total.source, *drawn.sources, *way_sources(case, node, _SHOWN))
    if loss is None:
        return Answer(
            part=part,
            outcome=Outcome.FAIL,
            says=said(
                'No voltage can serve {kind} "{part}": the cables on the way cannot carry that much power.',
                **things,
            ),
            open_says=said(
                'Cannot tell yet whether any voltage can serve {kind} "{part}" over these cables.', **things
            ),
            limit=100.0 * limit.number,
            unit="percent",
            sources=sources,
            keys=(part.entry("box"),),
            to_do=_TO_DO_PLANNED if _planned(nodes, shown) else _TO_DO_THERE,
        )
    unlisted = unlisted_loss(case, node)
    if unlisted is not None:
        loss = loss._replace(
            lost_v=loss.lost_v + unlisted.certain_v, before_panel_v=loss.before_panel_v + unlisted.before_panel_v
        )
        if unlisted.amperes > unfed_draw(case):
            sources = (*sources, book.value("measured-over-listed").source)
    share = 100.0 * loss.lost_v / case.supply.voltage_v
    arriving = arriving_at(case, node, loss, unlisted)
    way = _Way(nodes, shown, nodes[node].depth if node >= 0 else 0, state, loss, arriving, unlisted)
    outcome, says = _judged(part, case, way, things)
    if unlisted is not None and unlisted.more_v > 0.0:
        outcome, says = _judged_farther(part, case, way, unlisted, (outcome, says))
    return Answer(
        part=part,
        outcome=outcome,
        says=says,
        open_says=Said('Cannot tell yet whether enough voltage reaches {kind} "{part}".', things),
        value=share,
        limit=100.0 * limit.number,
        unit="percent",
        working=lambda: _working(part, case, way),
        sources=sources,
        keys=to_find_out(case) if outcome is Outcome.UNDETERMINED else _keys(part, nodes, loss),
        rows=_rows(way),
        to_do=_TO_DO_PLANNED if _planned(nodes, [loss.largest]) else _TO_DO_THERE,
    )


def _judged(part: Connected, case: Case, way: _Way, things: Things) -> tuple[Outcome, Said]:
    """The outcome, and the sentence about it."""
    loss, state = way.loss, way.state
    needed = part.min_voltage_v
    share = 100.0 * loss.lost_v / case.supply.voltage_v
    if needed is not None and not way.arriving.reach(needed):
        arrives = way.arriving.volts()
        arriving = "No steady voltage arrives" if arrives is None else "{arrives} arrives"
        return Outcome.FAIL, Said(
            arriving + ' at {kind} "{part}", less than the {needed} that its label requires; {lost} ({share}) is lost '
            "on the way from the panel.",
            Later(
                lambda: {
                    **things,
                    **_lost(loss, share),
                    "needed": Amount(needed, "V", Rounding.UP, _DIGITS),
                    **({} if arrives is None else {"arrives": Amount(arrives, "V", Rounding.DOWN, _DIGITS)}),
                }
            ),
        )
    limit = 100.0 * case.book.value("voltage-drop-recommended-branch").number
    total = 100.0 * case.book.value("voltage-drop-recommended-total").number
    is_one_of_many = state is not None and way.depth > 1
    where = ", most of it in {cable} ({most})" if is_one_of_many else ""
    over = ""
    if exceeds(share, limit):
        over = " At most {limit} is recommended"
        over += ", and {total} with the feeder." if exceeds(share, total) else "."

    def amounts() -> Things:
        told = {**things, **_lost(loss, share)}
        if state is not None and is_one_of_many:
            told["cable"] = _name(way.nodes[loss.largest])
            told["most"] = Amount(state.own_v[state.place[loss.largest]], "V")
        return told | ({"limit": Amount(limit, "%"), "total": Amount(total, "%")} if over else {})

    template = '{lost} ({share}) is lost between the panel and {kind} "{part}"' + where + "." + over
    return Outcome.CAUTION if over else Outcome.PASS, Said(template, Later(amounts))


def _lost(loss: Loss, share: float) -> Things:
    return {"lost": Amount(loss.lost_v, "V"), "share": Amount(share, "%")}


def _judged_farther(
    part: Connected, case: Case, way: _Way, unlisted: UnlistedLoss, judged: tuple[Outcome, Said]
) -> tuple[Outcome, Said]:
    """The same where the current whose place is unknown may flow this way, as far as it can."""
    (outcome, says), loss = judged, way.loss
    volts = case.supply.voltage_v
    most = 100.0 * (loss.lost_v + unlisted.more_v) / volts
    limit = 100.0 * case.book.value("voltage-drop-recommended-branch").number
    more: Things = {
        "unlisted": Amount(unlisted.amperes, "A"),
        "farthest": Amount(most, "%"),
        "advised": Amount(limit, "%"),
    }
    needed = part.min_voltage_v
    if outcome is not Outcome.FAIL and needed is not None and not way.arriving.reach(needed, less_v=unlisted.more_v):
        more["least"] = Amount(needed, "V", Rounding.UP, _DIGITS)
        return Outcome.UNDETERMINED, said(
            'Cannot tell yet whether enough voltage reaches {kind} "{part}": '
            + unlisted.why
            + ". If all of it flows this way, less than the {least} on its label arrives.",
            **{**says.things, **more},
        )
    if outcome is Outcome.FAIL or not exceeds(most, limit):
        return outcome, says
    return Outcome.CAUTION, said(
        f"{says.template} {unlisted.why[:1].upper()}{unlisted.why[1:]}. "
        "If all of it flows this way, {farthest} is lost, and at most {advised} is recommended.",
        **{**says.things, **more},
    )


def _not_in_tables(part: Connected, case: Case, node: int) -> Answer:
    """Nothing can be said: the tables hold no such conductor."""
    missing = next(
        cable
        for number in reversed(way_to(case, node, len(branch(case).nodes)))
        for cable in branch(case).nodes[number].cables
        if cable_impedance(case, cable) is None
    )
    return Answer(
        part=part,
        outcome=Outcome.UNDETERMINED,
        says=said(
            'Cannot tell how much voltage is lost on the way to "{part}": the tables list no {material} conductor of '
            '{size}, as in cable "{cable}".',
            part=part.id,
            material=missing.material,
            size=missing.size,
            cable=missing.id,
        ),
        open_says=said(
            'Cannot tell yet how much voltage is lost on the way to "{part}": the tables do not list every conductor '
            'that cable "{cable}" may have.',
            part=part.id,
            cable=missing.id,
        ),
        limit=100.0 * case.book.value("voltage-drop-recommended-branch").number,
        unit="percent",
        keys=(missing.entry("size"), missing.entry("material")),
        ask=("What resistance does a conductor of this size have?",),
    )


def _name(node: Node) -> str:
    """The cables that feed a node, with a word where they are a switch loop that the load's current runs through."""
    names = " and ".join(f'cable "{cable.id}"' for cable in node.cables)
    return f"{names} (switch loop)" if node.is_loop else names


def _planned(nodes: list[Node], numbers: list[int]) -> bool:
    return any(cable.is_added for number in numbers if number >= 0 for cable in nodes[number].cables)


def _keys(part: Connected, nodes: list[Node], loss: Loss) -> tuple[Ref, ...]:
    box = part.entry("box")
    if loss.largest < 0:
        return (box,)
    cable: Cable = nodes[loss.largest].cables[-1]
    return (cable.entry("size"), cable.entry("length"), box)


def _rows(way: _Way) -> Rows:
    """Volts lost in each cable on the shown way, all of which one solved state holds."""

    def made() -> Iterator[Share]:
        nodes, state, unlisted = way.nodes, way.state, way.unlisted
        if unlisted is not None and unlisted.certain_v > 0.0:
            yield Share("measured beyond the listed loads", unlisted.certain_v)
        if state is None:
            return
        before = nodes[way.shown[0]].above
        if before >= 0:
            yield Share(f"{nodes[before].depth} cables before that", state.lost_v[state.place[before]])
        for number in way.shown:
            yield state.line(number, nodes[number])

    return Rows(made)


def _working(part: Connected, case: Case, way: _Way) -> Iterator[Said]:
    """What the load takes, each cable on the shown way, the sum, and the volts that arrive."""
    nodes, shown, state, loss, unlisted = way.nodes, way.shown, way.state, way.loss, way.unlisted
    power, supply = draw_of(case, part).power, case.supply
    takes: Things = {"part": part.id, "watts": Amount(power.real, "W"), "vars": Amount(power.imag, "var")}
    reactive = " and {vars}" if power.imag > 0.0 else ""
    yield said('"{part}": {watts}' + reactive + "; all loads of the circuit are on at their rated power", **takes)
    if state is not None:
        before = nodes[shown[0]].above
        if before >= 0:
            lost = Amount(state.lost_v[state.place[before]], "V")
            yield said("{count} cables before that: {lost}", count=Amount(nodes[before].depth), lost=lost)
        for number in shown:
            yield _line(case, nodes[number], number, state)
    if unlisted is not None:
        yield unlisted.written()
    total, share = 100.0 * case.book.value("voltage-drop-recommended-total").number, 100.0 * loss.lost_v
    share /= supply.voltage_v
    amounts: Things = {
        "lost": Amount(loss.lost_v, "V"),
        "nominal": Amount(supply.voltage_v, "V"),
        "share": Amount(share, "%"),
        "total": Amount(total, "%"),
        "left": Amount(max(0.0, total - share), "%", Rounding.DOWN),
        "before": Amount(loss.before_panel_v, "V"),
        "ohm": Amount(ohm_before_panel(case), "ohm"),
    }
    yield said("together {lost} of {nominal} = {share}", **amounts)
    if supply.impedance_ohm is not None:
        yield said("{before} is lost before the panel, in {ohm}", **amounts)
    yield said(
        "{total} is recommended for feeder and branch circuit together: {left} is left for the feeder", **amounts
    )
    panel = supply.voltage_v if supply.measured_voltage_v is None else supply.measured_voltage_v
    behind = " behind {ohm}" if supply.impedance_ohm is not None else ""
    there: Things = {
        "panel": Amount(panel, "V", significant=_DIGITS),
        "how": "nominal" if supply.measured_voltage_v is None else "measured",
        "ohm": amounts["ohm"],
    }
    arrives = way.arriving.volts()
    if arrives is None:
        yield said("from {panel} {how}" + behind + " no voltage satisfies all loads", **there)
    else:
        arriving = Amount(arrives, "V", Rounding.DOWN, _DIGITS)
        yield said("from {panel} {how}" + behind + ", {arrives} arrives", **there, arrives=arriving)


def _line(case: Case, node: Node, number: int, state: Solved) -> Said:
    """A cable, its impedance there and back, its current and its loss."""
    ohm = node_impedance(case, number) or 0j
    cable = node.cables[-1]
    things: Things = {
        "name": _name(node),
        "size": cable.size,
        "material": cable.material,
        "stranding": cable.stranding,
        "length": " and ".join(shown(each.length_m, "ft") for each in node.cables),
        "r": Amount(ohm.real, "ohm"),
        "x": Amount(ohm.imag, "ohm"),
        "amperes": Amount(state.current_a[state.place[number]], "A"),
        "own": Amount(state.own_v[state.place[number]], "V"),
    }
    return said(
        "{name} ({size}, {material}, {stranding}, {length}): R {r} and X {x} there and back, {amperes}, {own}", **things
    )


RULE = CaseRule[Connected](
    name="voltage-drop",
    title="Voltage lost between the panel and each light",
    family=Family.CAPACITY,
    rank=70,
    subjects=subjects,
    answer=answer,
    worse={
        **DRAW_WORSE,
        **LISTED_LESS,
        **GONE_WORSE,
        **IMPEDANCE_WORSE,
        **POWER_WORSE,
        "supply.measured_voltage": LESS,
        "supply.impedance": MORE,
        "supply.measured_current": MORE,
        "cable.origin": order("added", "existing"),
        "box.origin": order("added", "existing"),
        "load.min_voltage": MORE,
        "driver.min_voltage": MORE,
    },
    turns=POWER_TURNS,
)
