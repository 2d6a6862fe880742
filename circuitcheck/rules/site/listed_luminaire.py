"""Listed luminaires: the mark of a testing laboratory on each added light and driver.

What it asks: whether each added light, low-voltage light and driver carries the mark of a testing laboratory that the
local inspector accepts.

Why: a light that was never tested may overheat or have metal that comes live. Inspectors turn unmarked ones away.

What to do: look for the mark on the light itself, not only on the carton, before it is bought. A low-voltage set may
carry one mark for its lights and driver together.

Cannot see: a mark that was copied, and which laboratories the place accepts.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, said
from circuitcheck.case.parts import Driver
from circuitcheck.domain.luminaires import Luminaire, is_added_light, luminaires
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

_TO_DO = ("Choose one with a listing mark.",)


def _subjects(case: Case) -> Iterator[Luminaire | Driver]:
    yield from luminaires(case)
    yield from case.drivers


def answer(part: Luminaire | Driver, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added light or driver carries the mark."""
    if not (part.is_added if isinstance(part, Driver) else is_added_light(part)):
        return None
    things = {"thing": "driver" if isinstance(part, Driver) else "light", "id": part.id}
    if part.listed:
        says = said('The {thing} "{id}" has the listing mark of a testing laboratory.', **things)
    else:
        says = said(
            'The {thing} "{id}" has no listing mark of a testing laboratory, which the code requires.', **things
        )
    return Answer(
        part=part,
        outcome=Outcome.PASS if part.listed else Outcome.FAIL,
        says=says,
        to_come=said(
            'Before you buy: look for the listing mark of a testing laboratory on the {thing} "{id}".', **things
        ),
        sources=(book.value("luminaire-listed").source,),
        keys=(part.entry("listed"),),
        to_do={Outcome.FAIL: _TO_DO, Outcome.CAUTION: _TO_DO},
    )


RULE = CaseRule["Luminaire | Driver"](
    name="listed-luminaire",
    title="A testing laboratory's mark on each added light and driver",
    family=Family.SITE,
    rank=400,
    subjects=_subjects,
    answer=answer,
    worse={
        "load.kind": lambda value, part, case: value == "light",
        "load.listed": LESS,
        "low_voltage_load.listed": LESS,
        "driver.listed": LESS,
    },
)
