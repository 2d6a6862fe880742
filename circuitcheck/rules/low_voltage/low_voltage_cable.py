"""Low-voltage cable: whether each cable behind a driver may carry its current in the air that it runs through.

What it asks: the current in the cable against what its conductors may carry at their insulation temperature, in that
air and with the cables beside them; and whether they could carry everything that the driver can give. Lights count with
their rated current, and one that keeps its power with what it draws at the voltage that it gets. No class 2 source
gives more than its class allows.

Why: at 12 V the current is ten times that of the same light at 120 V. Thin cable with insulation for 60 °C (140 °F) has
little or nothing left in a hot attic.

What to do: take a thicker conductor, cable with insulation for a higher temperature, or a cooler way for the cable.

Cannot see: the thin copper of the strip itself, and connectors. For sizes under 14 AWG the figures for fixture wires
stand in, since the code has none for class 2 cable that feeds lights. Other metals in thin sizes count with the
current that heats them as much; thinner than 18 AWG there is no figure. Where two cables feed the two ends of one strip
and the size of one of them is unknown, the other may carry a little more than is said here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Rounding,
    Said,
    Things,
    said,
    values_of,
)
from circuitcheck.case.parts import Cable, Driver, Part
from circuitcheck.domain.class_2_limits import class_2_allowance, ends_of_class_2
from circuitcheck.domain.conditions_of_use import CONDITIONS_WORSE
from circuitcheck.domain.conductor_ampacity import COPPER, equivalent_size, has_aluminum
from circuitcheck.domain.driver_outputs import outputs_of
from circuitcheck.domain.low_voltage_ampacity import (
    Carries,
    factor_columns,
    has_figure,
    is_thin,
    low_voltage_ampacity,
)
from circuitcheck.domain.low_voltage_answers import not_in_tables_answer
from circuitcheck.domain.low_voltage_flow import RUN_WORSE, counted_run, not_in_tables, output_v, run_sources
from circuitcheck.domain.low_voltage_lights import keeps_power
from circuitcheck.domain.low_voltage_pairs import of_a_pair
from circuitcheck.domain.low_voltage_runs import low_voltage_runs
from circuitcheck.findings import Outcome, Source, exceeds, merge_sources
from circuitcheck.physics.low_voltage_strip import Law
from circuitcheck.tables.rulebook import Rulebook

_THICKER = "Use a thicker conductor, cable rated for more heat, or a cooler route."
_TO_DO = {
    Outcome.FAIL: (_THICKER,),
    Outcome.CAUTION: (_THICKER,),
    Outcome.UNDETERMINED: ("Find out what is missing: the print on the cable, where it runs, the labels.", _THICKER),
}


_MUCH, _AT_LEAST = "{carried}", "at least {carried}"


class _Driver(NamedTuple):
    """What a driver can push through a cable [A]. limit_a: what its class allows; None where nothing limits it."""

    driver: Driver
    most_a: float
    limit_a: float | None
    sources: tuple[Source, ...]


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer:
    """What one cable carries [A] against what it may carry."""
    run = low_voltage_runs(case).with_cable[cable.id]
    may = low_voltage_ampacity(case, cable)
    if may is None:
        return _no_figure(cable, book)
    missing = not_in_tables(case, run.key)
    shared = cable.id in low_voltage_runs(case).paired
    if missing is not None and not shared and not any(light.kind == Law.POWER for light in run.lights):
        missing = None  # its resistance changes no current
    driver = case.tree.driver[case.tree.driver_of[cable.id]]
    gives = _given(driver, output_v(driver), book)
    counted = counted_run(case, run.key)
    carried = counted.cable_a[cable.id] if counted is not None else None
    if gives.limit_a is not None:
        carried = gives.limit_a if carried is None else min(carried, gives.limit_a)
    things: Things = {
        "cable": cable.id,
        "driver": driver.id,
        "may": Amount(may.amperes, "A", Rounding.DOWN),
        "most": Amount(gives.most_a, "A"),
    }
    if carried is not None:
        things["carried"] = Amount(carried, "A")
    outcome, says = _judged(carried, gives, may, things, at_least=missing is not None)
    if missing is not None and (outcome is not Outcome.FAIL or shared):
        return not_in_tables_answer(cable, missing, "A")  # it fails whatever that resists, or nobody can tell
    protection = book.value("secondary-conductor-protection").source
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=said(
            'Cannot tell yet whether cable "{cable}" carries too much: it may carry {may} in these conditions.',
            **things,
        ),
        value=carried if missing is None else None,
        limit=may.amperes,
        unit="A",
        working=lambda: _working(may, carried, things, at_least=missing is not None),
        sources=merge_sources(
            may.sources,
            gives.sources,
            run_sources(case, run.key),
            () if driver.class_2 else (protection,),
        ),
        keys=(cable.entry("size"), cable.entry("ambient")),
        to_do=_TO_DO,
    )


def _judged(
    carried: float | None, gives: _Driver, may: Carries, things: Things, *, at_least: bool
) -> tuple[Outcome, Said]:
    """``at_least``: some conductor of no table counts as no resistance, and any would make a light draw more."""
    if carried is None:
        return Outcome.FAIL, said(
            'Cannot tell how much cable "{cable}" would carry: no voltage serves its lights through these wires. It '
            "may carry {may} in these conditions.",
            **things,
        )
    much = _AT_LEAST if at_least else _MUCH
    if exceeds(carried, may.amperes):
        return Outcome.FAIL, said(
            f'Cable "{{cable}}" would carry {much}, more than the {{may}} it may carry in these conditions.', **things
        )
    carries = f'Cable "{{cable}}" carries {much} and may carry {{may}}'
    if not exceeds(gives.most_a, may.amperes):
        return Outcome.PASS, said(carries + " in these conditions.", **things)
    full = carries + '. Driver "{driver}" can give {most}'
    if gives.limit_a is None:
        return Outcome.FAIL, said(full + ", and no class 2 limit protects the cable.", **things)
    return Outcome.CAUTION, said(full + ", so a fault in a light can overheat the cable.", **things)


def _given(driver: Driver, volts: float, book: Rulebook) -> _Driver:
    """What a driver can give at its output voltage [V]."""
    rated_a = driver.output_power_w / outputs_of(driver) / volts
    if not driver.class_2:
        return _Driver(driver, rated_a, None, ())
    allowed = class_2_allowance(book, driver.output_kind, volts)
    if not allowed.current_a:
        return _Driver(driver, rated_a, None, ())
    return _Driver(driver, min(rated_a, allowed.current_a), allowed.current_a, allowed.sources)


def _no_figure(cable: Cable, book: Rulebook) -> Answer:
    """No table has an ampacity for these conductors: of some sizes for none, of some for copper only."""
    any_metal = not has_figure(book, cable.size, COPPER)
    doubtful = (*(("size",) if any_metal else ()), *(("material",) if cable.material != COPPER else ()))
    return Answer(
        part=cable,
        outcome=Outcome.UNDETERMINED,
        says=said(
            'Cannot tell what cable "{cable}" may carry: the tables list no {size} {material} conductor.',
            cable=cable.id,
            size=cable.size,
            material=cable.material,
        ),
        open_says=said(
            'Cannot tell yet what cable "{cable}" may carry: the tables do not list every conductor that it may have.',
            cable=cable.id,
        ),
        unit="A",
        keys=tuple(cable.entry(key) for key in doubtful),
        to_do=_TO_DO,
    )


def _working(may: Carries, carried: float | None, things: Things, *, at_least: bool) -> Iterator[Said]:
    if carried is not None:
        yield said("current in {cable}: " + (_AT_LEAST if at_least else _MUCH), **things)
    yield from may.working
    yield said("{driver} can give {most}", **things)


def _carries_less(value: Any, part: Part, case: Case) -> Any:
    """A thinner conductor is worse; of two that count alike the one that resists more.

    Worst is one without a figure: nobody can tell what it carries. It resists most as well, or no table tells what it
    resists, so it is worst for the rest of its run too. Where the size can be none of those, the worst is one that may
    carry nothing: from 14 AWG on the ampacity table counts, and its thin sizes have no aluminum. Of those no way is
    always worse where a light keeps its power: a thinner one carries more.
    """
    assert isinstance(part, Cable)  # noqa: S101 - declared for cables only
    book, metal = case.book, part.material
    nothing = metal != COPPER and not is_thin(book, equivalent_size(book, value)[0]) and not has_aluminum(book, value)
    if nothing and all(has_figure(book, size, metal) for size in values_of(part, "size")):
        run = low_voltage_runs(case).with_cable[part.id]
        if any(light.kind == Law.POWER for light in run.lights):
            return EACH
    figure = has_figure(book, value, metal)
    return (
        not figure,
        nothing,
        CONDITIONS_WORSE["cable.size"](value, part, case),
        RUN_WORSE["cable.size"](value, part, case),
    )


def _insulation_in_air(value: Any, part: Part, case: Case) -> Any:
    """Cooler insulation is worse; worst is one cooler than any column."""
    return value < factor_columns(case.book)[0], -value


RULE = CaseRule[Cable](
    name="low-voltage-cable",
    title="Current in a low-voltage cable",
    family=Family.LOW_VOLTAGE,
    rank=140,
    subjects=lambda case: case.tree.low_voltage_cables,
    answer=answer,
    worse={
        **RUN_WORSE,
        **CONDITIONS_WORSE,
        "cable.length": of_a_pair(MORE),
        "cable.size": of_a_pair(_carries_less),
        "cable.material": of_a_pair(CONDITIONS_WORSE["cable.material"], of_known_size=True),
        "cable.stranding": of_a_pair(RUN_WORSE["cable.stranding"], of_known_size=True),
        "cable.conductor_temperature": of_a_pair(MORE, of_known_size=True),
        "low_voltage_load.resistance_per_length": of_a_pair(MORE, of_known_size=True),
        "cable.insulation_temperature": _insulation_in_air,
        "low_voltage_load.kind": keeps_power,
        "driver.output_power": MORE,
        "driver.output_kind": EACH,
        "driver.class_2": LESS,
    },
    points={"driver.output_voltage": ends_of_class_2},
)
