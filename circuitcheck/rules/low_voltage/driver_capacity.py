"""Driver capacity: what the lights ask for, with the losses in their wires, against the driver's rating.

What it asks: whether everything behind a driver stays within the watts on its label, and whether a fifth of them is
left free. Lights count with their rated watts. A light that keeps its power draws more current as its voltage falls, so
what its wires lose counts on top.

Why: an overloaded driver switches itself off, flickers or runs hot until it fails. One that is loaded to the last watt
fails early.

What to do: take a driver with a larger rating (mind the class 2 limit), or put some of the lights on a second driver
with wires of its own.

Cannot see: how hot the place is and how far the maker lowers the rating there, the rush of current at switching on, and
how much less a strip with resistors draws at the end of a long cable: its label counts.
"""

from __future__ import annotations

from circuitcheck.case import LESS, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said
from circuitcheck.case.parts import Driver
from circuitcheck.domain.driver_outputs import largest_share, outputs_of
from circuitcheck.domain.low_voltage_answers import not_in_tables_answer
from circuitcheck.domain.low_voltage_flow import RUN_WORSE, counted_run, not_in_tables, run_sources
from circuitcheck.domain.low_voltage_lights import keeps_power, rated_w
from circuitcheck.domain.low_voltage_runs import low_voltage_runs
from circuitcheck.findings import Outcome, Part, exceeds, merge_sources
from circuitcheck.physics.low_voltage_strip import Law
from circuitcheck.tables.rulebook import Rulebook

LOSSES = "lost in the wires"

_TO_DO = {
    Outcome.FAIL: ("Use a larger driver, fewer lights on this one, or a second driver with wires of its own.",),
    Outcome.UNDETERMINED: ("Read the labels of the driver and of its lights.",),
    Outcome.CAUTION: ("Common practice leaves a fifth of the rating free; a larger driver lasts longer.",),
}


def answer(driver: Driver, case: Case, book: Rulebook) -> Answer:
    """What one driver would give [W] against what it may give."""
    key = driver.entry("output_power")
    runs = low_voltage_runs(case).of_driver[driver.id]
    things: Things = {"driver": driver.id}
    if not runs:
        return Answer(
            part=driver,
            outcome=Outcome.CAUTION,
            says=said(
                'The file names no light behind driver "{driver}", so there is nothing to compare with its rating.',
                **things,
            ),
            keys=(key,),
            to_do={Outcome.CAUTION: ("Enter its lights and the cables that feed them.",)},
        )
    lights = [light for run in runs for light in run.lights]
    rated = sum(map(rated_w, lights))
    rating = driver.output_power_w
    for run in runs:
        missing = not_in_tables(case, run.key)
        if missing is not None and any(light.kind == Law.POWER for light in run.lights):
            return not_in_tables_answer(driver, missing, "W")
    headroom = book.value("driver-headroom-share")
    sources = merge_sources((headroom.source,), *(run_sources(case, run.key) for run in runs))
    counted = [counted_run(case, run.key) for run in runs]
    things |= {"rated": Amount(rated, "W")}
    outputs = outputs_of(driver)
    whole = sum(state.drawn_w for state in counted if state is not None)
    # Of several outputs each gives its own share alone, so the one that gives most counts for all.
    given = outputs * largest_share((state.drawn_w for state in counted if state is not None), outputs)
    things |= {
        "given": Amount(given, "W"),
        "rating": Amount(rating, "W", Rounding.DOWN),
        "free": Amount(headroom.number * rating, "W", Rounding.DOWN),
    }
    unserved = None in counted
    if unserved:
        outcome, to_do = Outcome.FAIL, {Outcome.FAIL: ("Look at the voltage of each light first.",)}
        says = said(
            'The lights behind driver "{driver}" are rated {rated}. No voltage serves them all through these wires, so '
            "what it would have to give is unknown.",
            **things,
        )
    elif exceeds(given, rating):
        outcome, to_do = Outcome.FAIL, _TO_DO
        says = said('Driver "{driver}" would have to supply {given}, more than its {rating} rating.', **things)
    elif exceeds(given, headroom.number * rating):
        outcome, to_do = Outcome.CAUTION, _TO_DO
        says = said(
            'Driver "{driver}" supplies {given} of its {rating}. That is over {free}, which would leave a fifth free.',
            **things,
        )
    else:
        outcome, to_do = Outcome.PASS, _TO_DO
        says = said('Driver "{driver}" supplies {given} of its {rating}, and a fifth of it stays free.', **things)

    def working() -> list[Said]:
        lines = [said("{light}: {watts}", light=light.id, watts=Amount(rated_w(light), "W")) for light in lights]
        if not unserved:
            lines.append(said(LOSSES + ": {lost}", lost=Amount(whole - rated, "W")))
            if outputs > 1:
                lines.append(said("{outputs} outputs, each counted like the fullest one", outputs=Amount(outputs)))
            lines.append(said("together {given}; a fifth free would be {free}", **things))
        return lines

    return Answer(
        part=driver,
        outcome=outcome,
        says=says,
        open_says=said(
            'Cannot tell yet whether driver "{driver}" can feed its lights: they are rated {rated}.', **things
        ),
        value=None if unserved else given,
        limit=rating,
        unit="W",
        working=working,
        sources=sources,
        keys=(key,),
        rows=()
        if unserved
        else (
            *(Part(light.id, rated_w(light), light.id) for light in lights),
            Part(LOSSES, whole - rated),
            *((Part("room on outputs that are less full", given - whole),) if outputs > 1 else ()),
        ),
        to_do=to_do,
    )


RULE = CaseRule[Driver](
    name="driver-capacity",
    title="Load of a driver against its rating",
    family=Family.LOW_VOLTAGE,
    rank=100,
    subjects=lambda case: case.drivers,
    answer=answer,
    worse={**RUN_WORSE, "low_voltage_load.kind": keeps_power, "driver.output_power": LESS},
)
