"""Low-voltage cable: whether each cable behind a driver may carry its current in the air that it runs through.

What it asks: the current in the cable against what its conductors may carry at their insulation temperature, in that
air and with the cables beside them; and whether they could carry everything that the driver can give.

Why: at 12 V the current is ten times that of the same light at 120 V. Thin cable with insulation for 60 degC has little
or nothing left in a hot attic.

What to do: a thicker conductor, cable with insulation for a higher temperature, or a cooler way for the cable.

Cannot see: the thin copper of the strip itself, and connectors. For sizes under 14 AWG the figures for fixture wires
stand in, since the book has none for class 2 cable that feeds lights; for thin copper-clad aluminum there are none at
all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.circuit.model import Cable, Circuit, Driver
from circuitcheck.domain.conductor_ampacity import COPPER, equivalent_size
from circuitcheck.findings import Finding, Outcome, Source, exceeds, merge_sources
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.cable_currents import MOST_KEYS
from circuitcheck.rules.capacity.surroundings import SURROUNDINGS_USES, Surroundings, ampacity_range, surroundings_of
from circuitcheck.rules.low_voltage.driver_tree import DRIVER_TREE_USES, Run, driver_trees
from circuitcheck.rules.low_voltage.run_state import RunState
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number


@dataclass(frozen=True, slots=True)
class Carries:
    """What a cable may carry at worst and at best [A], and how that came about."""

    worst_a: float
    best_a: float
    working: tuple[str, ...]
    sources: tuple[Source, ...]


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each cable behind a driver."""
    for tree in driver_trees(circuit, book):
        for run in tree.runs:
            best, worst = run.state(worst=False), run.state(worst=True)
            ends = (worst, best, *run.crossed_states())
            states = [state for state in ends if state is not None and state.served]
            solved = all(state is not None and state.served for state in ends)
            for cable in run.cables:
                yield _finding(cable, run, states, solved, circuit, book)


def _finding(
    cable: Cable, run: Run, states: Sequence[RunState], solved: bool, circuit: Circuit, book: Rulebook
) -> Finding:
    """``states``: the run at those ends of all that is open that can be solved. ``solved``: all of them can."""
    around = surroundings_of(cable, circuit, book)
    carries = _carries(cable.size, cable.material, around, book)
    most = _driver_current(run.driver)
    size_key = f"cable.{cable.id}.size"
    currents = [state.cable_a[cable.id] for state in states if cable.id in state.cable_a]
    low, high = min(currents, default=None), max(currents, default=None)
    if carries is not None and low is not None and not solved:
        return _unserved(cable, run, low, carries, most, around)
    if high is None:
        # Nothing can be solved: the cable carries no more than all that the driver can give.
        high, low = (None if most is None else most[1]), 0.0
    if carries is None or high is None:
        metal_key = f"cable.{cable.id}.material"
        no_table = metal_key if cable.size is not None and cable.material not in (None, COPPER) else size_key
        needs = (no_table,) if carries is None else _unknown(run)
        return Finding(
            check=RULE.name,
            subject=cable.id,
            outcome=Outcome.UNDETERMINED,
            says=f"Cannot tell whether cable {cable.id} may carry its current: not everything about it is known.",
            unit="A",
            sources=around.sources,
            needs=needs,
            keys=needs[:1],
        )
    low = high if low is None else low
    outcome, says, needs, to_do = _judged(cable, run, (low, high), carries, most, around)
    thinnest = _thinnest(cable, high, around, book)
    few = len(run.steps) <= MOST_KEYS
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=says,
        value=high,
        limit=carries.worst_a,
        unit="A",
        low=low,
        high=high,
        working=(
            f"current in {cable.id}: {span(low, high, 'A')}",
            *carries.working,
            *((f"{run.driver.id} can give {span(*most, 'A')}",) if most is not None else ()),
            *(
                (f"the thinnest conductor that would carry {shown_number(high)} A there: {thinnest}",)
                if thinnest
                else ()
            ),
        ),
        sources=merge_sources(
            carries.sources,
            around.sources,
            (book.value("secondary-conductor-protection").source,) if run.driver.class_2 is False else (),
        ),
        needs=needs,
        assumed=(*around.assumed, *(run.assumed if few else ())),
        assumed_keys=(*around.assumed_keys, *(run.assumed_keys if few else ())),
        keys=(size_key, f"cable.{cable.id}.ambient"),
        to_do=to_do,
        chosen=cable.size,
        smallest=thinnest,
        decided_by=RULE.name if thinnest is not None else None,
    )


def _unserved(
    cable: Cable, run: Run, least_a: float, carries: Carries, most: tuple[float, float] | None, around: Surroundings
) -> Finding:
    """At one end no voltage serves the lights, so only the least current is known."""
    certain = exceeds(least_a, carries.best_a)
    allowed = span(carries.worst_a, carries.best_a, "A")
    driver = f"; {run.driver.id} can give {span(*most, 'A')}" if most is not None else ""
    needs = () if certain else _open_keys(around, run)
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.FAIL if certain else Outcome.UNDETERMINED,
        says=(
            f"Cable {cable.id} would carry at least {shown_number(least_a)} A, and it may carry {allowed} in that air. "
            f"How much at most cannot be told: at worst no voltage serves the lights through these wires{driver}."
        ),
        limit=carries.worst_a,
        unit="A",
        low=least_a,
        working=carries.working,
        sources=merge_sources(carries.sources, around.sources),
        needs=needs,
        assumed=around.assumed,
        assumed_keys=around.assumed_keys,
        keys=(f"cable.{cable.id}.size", f"cable.{cable.id}.ambient"),
        to_do=("Look at the voltage of each light first: a shorter or thicker cable is needed.",),
        chosen=cable.size,
    )


def _thinnest(cable: Cable, current_a: float, around: Surroundings, book: Rulebook) -> str | None:
    """The first size of the cable's own table, thinnest first, that carries this current at worst."""
    metric = book.table("metric-conductors")
    table = metric if cable.size is not None and metric.find(cable.size) is not None else book.table("conductors")
    for row in table.rows:
        carries = _carries(row.key[0], cable.material, around, book)
        if carries is not None and not exceeds(current_a, carries.worst_a):
            return row.key[0]
    return None


def _judged(
    cable: Cable,
    run: Run,
    current_a: tuple[float, float],
    carries: Carries,
    most: tuple[float, float] | None,
    around: Surroundings,
) -> tuple[Outcome, str, tuple[str, ...], tuple[str, ...]]:
    """Outcome, sentence, keys that are needed and what to do."""
    low, high = current_a
    allowed = span(carries.worst_a, carries.best_a, "A")
    thicker = ("Take a thicker conductor, cable that stands more heat, or a cooler way for it.",)
    if exceeds(high, carries.worst_a):
        certain = exceeds(low, carries.best_a)
        says = f"Cable {cable.id} would carry {span(low, high, 'A')}, and it may carry {allowed} in that air."
        if certain:
            return Outcome.FAIL, says, (), thicker
        # Where the lesser current is too much already, or the greater one is within the best, only the air decides.
        current_decides = not exceeds(low, carries.worst_a) or exceeds(high, carries.best_a)
        return Outcome.UNDETERMINED, says, _open_keys(around, run if current_decides else None), thicker
    says = f"Cable {cable.id} carries {span(low, high, 'A')} of the {allowed} that it may carry in that air."
    if most is None or not exceeds(most[1], carries.worst_a):
        return Outcome.PASS, says, (), ()
    full = f"{run.driver.id} can give {span(*most, 'A')}, and cable {cable.id} may carry {allowed}"
    if run.driver.class_2 is False:
        if exceeds(most[0], carries.best_a):
            return Outcome.FAIL, f"{full}; no class 2 limit protects it.", (), thicker
        return Outcome.UNDETERMINED, f"{full}; no class 2 limit protects it.", _open_keys(around, run), thicker
    if run.driver.class_2 is None:
        return (
            Outcome.UNDETERMINED,
            f"{full}; only a class 2 source may feed it.",
            (f"driver.{run.driver.id}.class_2",),
            thicker,
        )
    return Outcome.CAUTION, f"{says.rstrip('.')}, but {full}.", (), thicker


def _unknown(run: Run) -> tuple[str, ...]:
    """The keys without which neither the current nor a bound of it is known."""
    rating = (f"driver.{run.driver.id}.output_power",) if run.driver.output_power_w is None else ()
    return tuple(dict.fromkeys((*rating, *run.needs[:MOST_KEYS])))


def _open_keys(around: Surroundings, run: Run | None) -> tuple[str, ...]:
    """The keys that keep current and ampacity open, the cable's own first; without a run only the ampacity's."""
    current = () if run is None else (*run.loose[:MOST_KEYS], *run.needs[:MOST_KEYS], *_rating_keys(run.driver))
    return tuple(dict.fromkeys((*around.open_keys, *current)))


def _rating_keys(driver: Driver) -> tuple[str, ...]:
    """The driver's rating, where it is a range."""
    rating = driver.output_power_w
    return () if rating is None or rating.exact else (f"driver.{driver.id}.output_power",)


def _driver_current(driver: Driver) -> tuple[float, float] | None:
    """All that the driver is rated to give, at least and at most [A]."""
    rating, volts = driver.output_power_w, driver.output_voltage_v
    if rating is None or volts is None or volts.low <= 0.0:
        return None
    return rating.low / volts.high, rating.high / volts.low


def _carries(named: str | None, material: str | None, around: Surroundings, book: Rulebook) -> Carries | None:
    """What a conductor of this size may carry there; None where the size is not known or no table has it."""
    if named is None:
        return None
    size, stand_in = equivalent_size(book, named)
    row = book.table("fixture-wire-ampacity").find(size)
    heavy = book.table("branch-circuit-conductors").rows[0].text("copper")
    if row is None or heavy is None or _is_at_least(book, size, heavy):
        both = ampacity_range(book, named, material, around)
        if both is None:
            return None
        return Carries(
            both[0].amperes,
            both[1].amperes,
            tuple(map(str, both[0].working())),
            merge_sources(both[0].sources, both[1].sources),
        )
    if material not in (None, COPPER):
        return None  # Fixture wires are copper; no table has thin conductors of another metal.
    base = row.number("ampacity") or 0.0
    factors = [_factor(book, around.insulation_c[end], around.ambient_c[end]) for end in (0, 1)]
    groups = [book.table("conductor-count-adjustment").band(around.count[end]) for end in (0, 1)]
    shares = [(group.number("factor") if group is not None else None) or 0.0 for group in groups]
    ends = [base * (factor or 0.0) * share for (factor, _), share in zip(factors, shares, strict=True)]
    worst_factor = factors[0][0]
    heat = (
        f"air at {shown_number(around.ambient_c[0])} degC: not allowed for its insulation, so 0 A"
        if worst_factor is None
        else f"x {worst_factor:.2f} for air at {shown_number(around.ambient_c[0])} degC"
    )
    return Carries(
        ends[0],
        ends[1],
        (
            f"{size} as fixture wire: {shown_number(base)} A",
            heat,
            f"x {shares[0]:.2f} for {around.count[0]} current-carrying conductors together",
            f"= {shown_number(ends[0])} A",
        ),
        merge_sources((row.source,), stand_in, *(sources for _, sources in factors)),
    )


def _is_at_least(book: Rulebook, size: str, other: str) -> bool:
    """Whether one size of the conductor table is no thinner than another."""
    table = book.table("conductors")
    one, two = table.find(size), table.find(other)
    return one is not None and two is not None and (one.number("area") or 0.0) >= (two.number("area") or 0.0)


def _factor(book: Rulebook, insulation_c: float, ambient_c: float) -> tuple[float | None, tuple[Source, ...]]:
    """Correction for the air, from the column that the insulation does not fall short of; None: not allowed."""
    table = book.table("ambient-correction")
    row = table.band(ambient_c)
    columns = sorted(int(name.removeprefix("factor_")) for name in table.units if name.startswith("factor_"))
    fitting = [column for column in columns if not exceeds(column, insulation_c)]
    if row is None or not fitting:
        return None, ()
    return row.number(f"factor_{fitting[-1]}"), (row.source,)


RULE = Rule(
    name="low-voltage-cable",
    title="Current in a low-voltage cable",
    family="low voltage",
    uses=tuple(
        dict.fromkeys(
            (
                *DRIVER_TREE_USES,
                *SURROUNDINGS_USES,
                "fixture-wire-ampacity",
                "conductors",
                "metric-conductors",
                "branch-circuit-conductors",
                "value:secondary-conductor-protection",
            )
        )
    ),
    check=check,
)
