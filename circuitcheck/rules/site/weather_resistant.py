"""Weather-resistant receptacles: whether a new receptacle in a damp or wet place is made for it.

What it asks: for each added receptacle outdoors, or in another damp or wet place, whether it is marked WR.

Why: cold, heat and moisture let an ordinary receptacle crack and corrode, until its contacts are live outside.

What to do: buy receptacles marked WR, and a cover: where rain reaches it one that keeps it dry with a plug in it. In
the file a receptacle marked WR is marked for wet places.

Cannot see: the cover, and receptacles that are there already.
"""

from __future__ import annotations

from circuitcheck.case import Answer, Case, CaseRule, Family, Things, order, said
from circuitcheck.case.parts import Load
from circuitcheck.domain.draws import RECEPTACLE
from circuitcheck.domain.luminaires import place_key
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

DRY = "dry"
#: What the file says of a receptacle marked WR; there is no other mark.
MARKED = "wet"
_BUY = ("Buy a receptacle marked WR (weather-resistant), and a cover that keeps the weather off it.",)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """Whether an added receptacle in a damp or wet place is weather-resistant."""
    if not load.is_added or load.kind != RECEPTACLE:
        return None
    location = case.tree.box[load.box].location
    if location == DRY:
        return None
    things: Things = {"receptacle": load.id, "place": location}
    if load.location_marked != MARKED:
        outcome = Outcome.FAIL
        says = said('"{receptacle}" is in a {place} place and not marked weather-resistant, as it has to be.', **things)
    else:
        outcome = Outcome.PASS
        says = said('"{receptacle}" is marked weather-resistant, as a {place} place requires.', **things)
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{receptacle}" has to be weather-resistant, and is.', **things),
        to_come=said(
            'The place of "{receptacle}" may be {place}: buy one that is marked WR, and a cover for it.', **things
        ),
        sources=(book.value("receptacle-weather-resistant").source,),
        keys=(load.entry("location_marked"), place_key(load, "location")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _BUY),
    )


RULE = CaseRule[Load](
    name="weather-resistant",
    title="Weather-resistant receptacles in damp and wet places",
    family=Family.SITE,
    rank=405,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        "load.kind": lambda value, part, case: value == RECEPTACLE,
        "load.location_marked": order(MARKED, "damp", DRY),
        "box.location": order(DRY, "damp", "wet"),
    },
)
