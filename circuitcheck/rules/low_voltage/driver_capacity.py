"""Driver capacity: what the lights draw, with the losses in their wires, against the driver's rating.

What it asks: whether everything behind a driver, line losses included, stays within the watts on its label, whether a
fifth of them is left free, and whether the least load that the label asks for is reached.

Why: an overloaded driver switches itself off, flickers or runs hot until it fails. One that is loaded to the last watt
fails early, and one with too little load may not start.

What to do: take a driver with a larger rating (mind the class 2 limit), or put some of the lights on a second driver
with wires of its own.

Cannot see: how hot the place is and how far the maker lowers the rating there, and the rush of current at switching on.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Driver
from circuitcheck.findings import Finding, Outcome, Part, exceeds, merge_sources
from circuitcheck.quantities import Interval, rounded_down
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.low_voltage.driver_tree import DRIVER_TREE_USES, DriverTree, driver_trees
from circuitcheck.rules.low_voltage.run_state import RunState
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

LOSSES = "lost in the wires"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver."""
    for tree in driver_trees(circuit, book):
        yield _finding(tree, book)


def _finding(tree: DriverTree, book: Rulebook) -> Finding:
    driver = tree.driver
    key = f"driver.{driver.id}.output_power"
    if not tree.runs:
        return Finding(
            check=RULE.name,
            subject=driver.id,
            outcome=Outcome.CAUTION,
            says=f"The file names no light behind {driver.id}, so nothing can be compared with its rating.",
            keys=(key,),
            to_do=(f"Add the lights of {driver.id} and the cables that join them to it.",),
        )
    rating = driver.output_power_w
    if rating is None or tree.needs:
        needs = (*((key,) if rating is None else ()), *tree.needs)
        return Finding(
            check=RULE.name,
            subject=driver.id,
            outcome=Outcome.UNDETERMINED,
            says=f"Cannot tell whether {driver.id} can feed its lights: not everything about them is known.",
            needs=needs,
            keys=(needs[0],),
        )
    states = [(run.state(worst=False), run.state(worst=True)) for run in tree.runs]
    best = [one for one, _ in states if one is not None]
    worst = [one for _, one in states if one is not None]
    if not all(state.served for state in (*best, *worst)):
        return _unserved(tree, rating, book, at_best=not all(state.served for state in best))
    low, most = 0.0, []
    for run, pair in zip(tree.runs, states, strict=True):
        ends = [state for state in (*reversed(pair), *run.crossed_states()) if state is not None]
        low += min(state.drawn_w for state in ends)
        most.append(max(ends, key=lambda state: state.drawn_w))
    return _compared(tree, rating, low, sum(state.drawn_w for state in most), most, book)


def _compared(
    tree: DriverTree, rating: Interval, low: float, high: float, worst: list[RunState], book: Rulebook
) -> Finding:
    driver = tree.driver
    headroom = book.value("driver-headroom-share")
    loose = tuple(dict.fromkeys(key for run in tree.runs for key in run.loose))
    if not rating.exact:
        loose = (*loose, f"driver.{driver.id}.output_power")
    drawn, may = span(low, high, "W"), span(rating.low, rating.high, "W")
    full = rounded_down(headroom.number * rating.low)
    to_do: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    limit = rating.low
    if exceeds(high, rating.low):
        certain = exceeds(low, rating.high)
        outcome = Outcome.FAIL if certain else Outcome.UNDETERMINED
        says = f"{driver.id} would have to give {drawn}, more than the {may} that it may give."
        if not certain:
            needs = loose
            says = f"{driver.id} may have to give up to {shown_number(high)} W, and it may give {may}."
        to_do = ("Take a larger driver, fewer lights on this one, or a second driver with wires of its own.",)
    elif (least := _least_load(driver, low, high)) is not None:
        outcome, says = least
        if outcome is Outcome.UNDETERMINED:
            ranged = driver.min_load_w is not None and not driver.min_load_w.exact
            needs = (*loose, *((f"driver.{driver.id}.min_load",) if ranged else ()))
        to_do = ("Take a driver whose least load the lights reach.",)
    elif exceeds(high, headroom.number * rating.low):
        outcome = Outcome.CAUTION
        says = f"{driver.id} gives {drawn} of {may}: under its rating, but over the {full} W that leave a fifth free."
        to_do = ("Common practice leaves a fifth of the rating free; a larger driver lasts longer.",)
    else:
        outcome = Outcome.PASS
        says = f"{driver.id} gives {drawn} of the {may} that it may give, and a fifth of them stays free."
    lights = [Part(name, watts, name) for state in worst for name, watts in state.light_w.items()]
    lost = sum(state.lost_w for state in worst)
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=outcome,
        says=says,
        value=high,
        limit=limit,
        unit="W",
        low=low,
        high=high,
        working=(
            *(f"{part.name}: {shown_number(part.value)} W" for part in lights),
            f"{LOSSES}: {shown_number(lost)} W",
            f"together {shown_number(high)} W at worst; a fifth free would be {full} W",
        ),
        sources=merge_sources((headroom.source,), *(run.sources for run in tree.runs)),
        needs=needs,
        assumed=tuple(dict.fromkeys(sentence for run in tree.runs for sentence in run.assumed)),
        assumed_keys=tuple(dict.fromkeys(key for run in tree.runs for key in run.assumed_keys)),
        keys=(f"driver.{driver.id}.output_power",),
        parts=(*lights, Part(LOSSES, lost)),
        to_do=to_do,
    )


def _least_load(driver: Driver, low: float, high: float) -> tuple[Outcome, str] | None:
    """What to say where the load may be under the least that the label asks for."""
    least = driver.min_load_w
    if least is None or not exceeds(least.high, low):
        return None
    asked = span(least.low, least.high, "W")
    if exceeds(least.low, high):
        return Outcome.FAIL, f"{driver.id} asks for at least {asked}, and its lights draw {span(low, high, 'W')}."
    return Outcome.UNDETERMINED, f"{driver.id} asks for at least {asked}; its lights draw {span(low, high, 'W')}."


def _unserved(tree: DriverTree, rating: Interval, book: Rulebook, *, at_best: bool) -> Finding:
    """No voltage serves every light: only their rated watts are known, and that the wires are too thin or long.

    ``at_best``: even at the best end of all that is a range, so that nothing is left to find out.
    """
    driver = tree.driver
    rated = sum(light.power_w.low for run in tree.runs for light in run.lights)
    over = at_best or exceeds(rated, rating.high)
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=Outcome.FAIL if over else Outcome.UNDETERMINED,
        says=(
            f"The lights behind {driver.id} take {shown_number(rated)} W at their rating, and no voltage serves them "
            "all through these wires, so what it would have to give cannot be told."
        ),
        limit=rating.low,
        unit="W",
        working=(f"rated watts of the lights together: {shown_number(rated)} W, without losses",),
        sources=merge_sources((book.value("driver-headroom-share").source,), *(run.sources for run in tree.runs)),
        needs=() if over else tuple(dict.fromkeys(key for run in tree.runs for key in run.loose)),
        keys=(f"driver.{driver.id}.output_power",),
        to_do=("Look at the voltage of each light first: a shorter or thicker cable is needed.",),
    )


RULE = Rule(
    name="driver-capacity",
    title="Load of a driver against its rating",
    family="low voltage",
    uses=(*DRIVER_TREE_USES, "value:driver-headroom-share"),
    check=check,
)
