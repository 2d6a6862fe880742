"""Low-voltage drop: the voltage that is left at the far end of a low-voltage light.

What it asks: how far the voltage falls in the cables to a light and along the light itself. What is left is compared
with the least voltage on the light's label. Where the label gives none, more than 5 percent under the driver's output
is a caution.

Why: at 12 V or 24 V a light needs ten or five times the current that it needs at 120 V, and every volt lost is ten or
five times the share. A light that keeps its power draws more the less it gets, and may find no voltage at which it
works.

What to do: take a shorter or thicker cable, feed a strip in its middle or at both ends, move the driver closer, or take
lights for a higher voltage.

Cannot see: splices and clips that add resistance, drivers that lower their output under load, and lights on a
constant-current driver, whose voltage is not held. Where strips with resistors share a cable, the others count with
their rated current, a little more than they draw. Reactance is left out: at 60 Hz it changes nothing that shows. How
bright it is there: see `strip-brightness`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from circuitcheck.case import MORE, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said
from circuitcheck.case.parts import Cable, LowVoltageLoad
from circuitcheck.domain.impedance import cable_resistance
from circuitcheck.domain.low_voltage_answers import no_cable, not_in_tables_answer
from circuitcheck.domain.low_voltage_flow import (
    RUN_WORSE,
    Solved,
    feeding,
    not_in_tables,
    output_v,
    run_sources,
    solved_for,
)
from circuitcheck.domain.low_voltage_lights import DRAWS_MOST_LAST, is_strip, rated_w
from circuitcheck.domain.low_voltage_runs import Run, Step, low_voltage_runs
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.findings import Part as Share
from circuitcheck.physics.low_voltage_strip import Feed, greatest_power_w
from circuitcheck.tables.rulebook import Rulebook

#: Cables of a way that a finding lists; what lies upstream of them is one line.
_SHOWN = 24
_DIGITS = 4


def answer(light: LowVoltageLoad, case: Case, book: Rulebook) -> Answer:
    """The lowest voltage along one light [V] against the least that it needs."""
    runs = low_voltage_runs(case)
    run = runs.at.get(light.id)
    if run is None:
        return no_cable(light)
    missing = not_in_tables(case, run.key)
    if missing is not None:
        return not_in_tables_answer(light, missing, "V")
    state = solved_for(case, run, light)
    output, needed = output_v(run.driver), light.min_voltage_v
    share = book.value("low-voltage-drop-limit")
    limit = (1.0 - share.number) * output if needed is None else needed
    lowest = state.lowest_v[light.id] if state.served else None
    things: Things = {
        "light": light.id,
        "output": Amount(output, "V"),
        "limit": Amount(limit, "V", Rounding.UP, _DIGITS),
        "share": Amount(100.0 * share.number, "%"),
    }
    if lowest is None:
        outcome, says = Outcome.FAIL, _unserved(case, run, light, things)
    else:
        things |= {
            "lowest": Amount(lowest, "V", Rounding.DOWN, _DIGITS),
            "less": Amount(100.0 * (1.0 - lowest / output), "%", Rounding.UP, 2),
        }
        outcome, says = _judged(needed, exceeds(limit, lowest), things)
    step = runs.step_at[light.id]
    return Answer(
        part=light,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether enough voltage reaches light "{light}".', **things),
        value=lowest,
        limit=limit,
        unit="V",
        at_least=True,
        working=lambda: _working(case, step, state, things),
        sources=merge_sources((share.source,) if needed is None else (), run_sources(case, run.key)),
        keys=(
            *(cable.entry("length") for cable in feeding(step)),
            light.entry("min_voltage"),
        ),
        rows=_rows(case, run, light, state),
        to_do=_to_do(light),
    )


def _judged(needed: float | None, short: bool, things: Things) -> tuple[Outcome, Said]:
    """The outcome where the lights are served, and the sentence about it. ``short``: less arrives than the limit."""
    gets = 'Light "{light}" gets {lowest} of {output} at its lowest point, {less} less'
    if needed is not None:
        if short:
            return Outcome.FAIL, said(gets + ". Its label requires at least {limit}.", **things)
        return Outcome.PASS, said(gets + ". Its label requires {limit}.", **things)
    if short:
        return Outcome.CAUTION, said(
            gets + ". Common practice stays within {share}, and no least voltage is given for it.", **things
        )
    return Outcome.PASS, said(gets + ", within the {share} of common practice.", **things)


def _unserved(case: Case, run: Run, light: LowVoltageLoad, things: Things) -> Said:
    """Why no voltage serves a light.

    Source: maximum power transfer theorem, V^2 / 4R.
    """
    ohm = sum(_ohm_to(case, each) for each in _way(case, run, low_voltage_runs(case).step_at[light.id]))
    most, power = greatest_power_w(output_v(run.driver), ohm), rated_w(light)
    start = 'No voltage works for light "{light}": '
    if power > most:
        return said(
            start + "it takes {power}, and these cables can bring it {most} at most, however far the voltage falls.",
            **things,
            power=Amount(power, "W"),
            most=Amount(most, "W", Rounding.DOWN),
        )
    return said(start + "the wires lose more than they bring, however far the voltage falls.", **things)


def _way(case: Case, run: Run, step: Step) -> Iterator[Step]:
    """The steps on the way from a place to the driver, the place's own first."""
    at = low_voltage_runs(case).step_at
    yield step
    while step.from_id != run.driver.id:
        step = at[step.from_id]
        yield step


def _ohm_to(case: Case, step: Step) -> float:
    """What the cables that feed a place resist at the least [ohm]: two of them side by side."""
    each = [_ohm(case, cable) for cable in feeding(step)]
    return 1.0 / sum(1.0 / ohm for ohm in each) if all(each) else 0.0


def _ohm(case: Case, cable: Cable) -> float:
    """Both conductors of a cable of a run that the tables hold [ohm]."""
    resistance = cable_resistance(case, cable)
    if resistance is None:
        raise AssertionError("of a run with a conductor that no table holds nothing is worked out")
    return resistance.ohm


def _rows(case: Case, run: Run, light: LowVoltageLoad, state: Solved) -> tuple[Share, ...]:
    """Where the volts go: the cables on the way, and the rest along the light."""
    if not state.served:
        return ()
    rows: list[Share] = []
    for step in reversed(list(islice(_way(case, run, low_voltage_runs(case).step_at[light.id]), _SHOWN))):
        cable = min(feeding(step), key=lambda each: _ohm(case, each))
        rows.append(Share(cable.id, state.cable_a[cable.id] * _ohm(case, cable), cable.id))
    rest = output_v(run.driver) - state.lowest_v[light.id] - sum(row.value for row in rows)
    return (*rows, Share("along the light and other lights on the way", max(0.0, rest), light.id))


def _working(case: Case, step: Step, state: Solved, things: Things) -> Iterator[Said]:
    yield said("output of the driver: {output}", **things)
    for cable in feeding(step) if state.served else ():
        ohm, amperes = _ohm(case, cable), state.cable_a[cable.id]
        yield said(
            "{cable}: {amperes} x {ohm} (both conductors) = {volts}",
            cable=cable.id,
            amperes=Amount(amperes, "A"),
            ohm=Amount(ohm, "ohm"),
            volts=Amount(amperes * ohm, "V"),
        )
    if state.served:
        yield said("lowest point of {light}: {lowest}, {less} under the output of the driver", **things)
    yield from (
        said("cable {cable} also feeds this place; it is left out, which can only lower the voltage", cable=other.id)
        for other in _left_out(case, step)
    )


def _left_out(case: Case, step: Step) -> Sequence[Cable]:
    counted = {cable.id for cable in feeding(step)}
    return [cable for cable in case.tree.low_voltage_cables if cable.to_id == step.to_id and cable.id not in counted]


def _to_do(light: LowVoltageLoad) -> dict[Outcome, tuple[str, ...]]:
    cures = ["Use a shorter or thicker cable, or move the driver closer."]
    if is_strip(light) and light.fed_from == Feed.ONE_END:
        cures.append("Or feed the strip in its middle or at both ends.")
    cures.append("Or use lights made for a higher voltage.")
    read = "Read the least voltage on the label of the light, or in its data sheet."
    return {
        Outcome.FAIL: tuple(cures),
        Outcome.CAUTION: (read, *cures),
        Outcome.UNDETERMINED: ("Find out what is missing.", *cures),
    }


RULE = CaseRule[LowVoltageLoad](
    name="low-voltage-drop",
    title="Voltage left at the far end of a low-voltage light",
    family=Family.LOW_VOLTAGE,
    rank=130,
    subjects=lambda case: case.low_voltage_loads,
    answer=answer,
    worse={
        **RUN_WORSE,
        "low_voltage_load.kind": DRAWS_MOST_LAST,
        "low_voltage_load.min_voltage": MORE,
    },
)
