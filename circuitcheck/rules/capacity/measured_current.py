"""Measured current: whether a clamp reading agrees with the list of loads.

What it asks: the current that was measured with everything on, against the sum of the existing loads on the list.

Why: measured beats computed. A reading above the sum means that something on the circuit is not on the list. The
checks of the breaker and of the cables then count what was measured.

A reading that is above the list by more than a little leaves the answer open until somebody walked the house with this
breaker off and says that the list is complete.

What to do: look again for what goes dead with this breaker, also outdoors, in the garage and in the attic. Take
readings from an electrician; nobody should open a panel to get one.

Cannot see: loads that were off while the reading was taken, and a clamp put around two wires, which reads nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, Case, CaseRule, Family, Said, Things, said
from circuitcheck.case.memory import aside
from circuitcheck.case.parts import Supply
from circuitcheck.domain.directions import DRAW_WORSE
from circuitcheck.domain.draws import draws
from circuitcheck.domain.existing_load import existing_load
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_LOOK = "Look again for everything this breaker turns off, and add it to the list."


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """The reading against the existing loads on the list [A]; what is missing is asked for, and fails nothing."""
    if supply.measured_current_a is None:
        return None
    with aside(case):  # a load of which nothing is known is asked for by load-share
        existing = existing_load(case)
        sources = merge_sources(*(draw.sources for draw in draws(case) if not draw.part.is_added))
    if existing.reading is None:
        return None
    over = exceeds(existing.reading, existing.listed)
    allowance = book.value("unlisted-current-allowance")
    much = exceeds(existing.surplus, allowance.number)
    asked = much and not supply.loads_complete
    taken_off = existing.taken_off  # it was read, and it was on the list
    amounts: Things = {
        "reading": Amount(existing.reading + taken_off, "A"),
        "listed": Amount(existing.listed + taken_off, "A"),
    }
    if asked:
        says = said(
            "Cannot tell yet what else is on this circuit: the meter showed {reading}, and the existing loads on the "
            "list draw only {listed}.",
            **amounts,
        )
    elif over:
        says = said(
            "The meter showed {reading}, but the existing loads on the list draw only {listed}: something is missing.",
            **amounts,
        )
    else:
        says = said(
            "The meter showed {reading}, no more than the {listed} that the listed existing loads draw.", **amounts
        )

    def working() -> Iterator[Said]:
        yield said("existing loads at nominal voltage, without the factor for continuous loads: {listed}", **amounts)

    return Answer(
        part=supply,
        outcome=Outcome.UNDETERMINED if asked else Outcome.CAUTION if over else Outcome.PASS,
        says=says,
        value=existing.reading + taken_off,
        limit=existing.listed + taken_off,
        unit="A",
        working=working,
        sources=merge_sources((book.value("measured-over-listed").source, allowance.source), sources),
        keys=(supply.ref._replace(key="loads_complete" if asked else "measured_current"),),
        to_do={Outcome.CAUTION: (_LOOK,), Outcome.UNDETERMINED: (_LOOK,)},
    )


RULE = CaseRule[Supply](
    name="measured-current",
    title="Whether a clamp reading agrees with the list of loads",
    family=Family.CAPACITY,
    rank=40,
    subjects=lambda case: (case.supply,),
    answer=answer,
    at_its_most=True,
    # A caution only where even the most that the list can draw does not explain the reading, so the list at its most
    # stands for both: load-share asks for what is open in it.
    worse={
        **DRAW_WORSE,
        "supply.measured_current": MORE,
        "supply.loads_complete": EACH,
        "load.on_at_reading": LESS,
    },
)
