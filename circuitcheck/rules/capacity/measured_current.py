"""Measured current: whether a clamp reading agrees with the list of loads.

What it asks: the current that was measured with everything on, against what the existing loads on the list draw at the
least. A receptacle counts with at least what the code plans for it, since what is plugged in changes.

Why: measured beats computed. A reading above the sum means that something on the circuit is not on the list. The
checks of the breaker and of the cables then count what was measured.

A little more than the list may be the meter, the voltage of that hour, or things on standby. More than that leaves the
answer open until somebody walked the house with this breaker off and says that the list is complete.

What to do: look again for what goes dead with this breaker, also outdoors, in the garage and in the attic. Take
readings from an electrician; nobody should open a panel to get one.

Cannot see: loads that were off while the reading was taken, what else was plugged in then, and a clamp put around two
wires, which reads nothing.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import MORE, Amount, Answer, Case, CaseRule, Family, Said, Things, order, said
from circuitcheck.case.parts import Supply
from circuitcheck.domain.directions import EXPLAINED_WORSE, GONE_WORSE
from circuitcheck.domain.existing_load import explained
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_LOOK = "Look again for everything this breaker turns off, and add it to the list."


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """The reading against what the existing loads on the list explain of it [A]; what is missing fails nothing."""
    reading = supply.measured_current_a
    if reading is None:
        return None
    list_explains = explained(case)
    allowance = book.value("unlisted-current-allowance")
    missing = exceeds(reading - list_explains.amperes, allowance.number)
    asked = missing and not supply.loads_complete
    amounts: Things = {"reading": Amount(reading, "A"), "listed": Amount(list_explains.amperes, "A")}
    if asked:
        says = said(
            "Cannot tell yet what else is on this circuit: the meter showed {reading}, and the existing loads on the "
            "list explain only {listed}.",
            **amounts,
        )
    elif missing:
        says = said(
            "The meter showed {reading}, but the existing loads on the list explain only {listed}: something may be "
            "missing.",
            **amounts,
        )
    else:
        says = said(
            "The meter showed {reading}. The existing loads on the list explain {listed}; up to {allowance} more may "
            "be the meter or things on standby.",
            **amounts,
            allowance=Amount(allowance.number, "A"),
        )

    def working() -> Iterator[Said]:
        yield said(
            "existing loads at nominal voltage, without the factor for continuous loads, each receptacle with at least "
            "its planning load: {listed}",
            **amounts,
        )

    return Answer(
        part=supply,
        outcome=Outcome.UNDETERMINED if asked else Outcome.CAUTION if missing else Outcome.PASS,
        says=says,
        value=reading,
        limit=list_explains.amperes,
        unit="A",
        working=working,
        sources=merge_sources((book.value("measured-over-listed").source, allowance.source), list_explains.sources),
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
    worse={
        **EXPLAINED_WORSE,
        "supply.measured_current": MORE,
        "supply.loads_complete": order(True, False),
        **GONE_WORSE,
    },
)
