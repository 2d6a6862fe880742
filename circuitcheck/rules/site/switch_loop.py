"""Switch loops: the white wire that is hot, and its mark.

What it asks: whether the white conductor of a switch loop is re-marked at both ends, whether a three-way pair has the
travelers it needs, and which switch is the partner of a three-way one.

Why: white normally means neutral. In a switch loop it carries the full voltage, and the next person is hurt by
trusting the color.

What to do: with the breaker off and the box tested dead, mark the white wire for good at both ends, and use it as the
supply to the switch, not as its return.

Cannot see: which color is on which screw. The finding repeats what the file says. Three-way switches that talk by
radio, or that are wired in ways long forbidden, are not looked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import EACH, LESS, Answer, Case, CaseRule, Family, Said, Things, said
from circuitcheck.case.parts import Cable, Control
from circuitcheck.circuit.switched import LOOPS, cables_between
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook, Value

#: Black and white: with a third conductor the white may be a neutral.
LOOP_CONDUCTORS = 2
_THREE_WIRES = (
    "Plan a cable with three insulated conductors for that piece, or use one switch that is not three-way.",
)
_COUNT = ("Breaker off and tested dead: count the insulated conductors of the cables between the two switches.",)
_TO_DO = ("Breaker off and tested dead: mark the white wire at both ends, and treat every white wire as live.",)


def _subjects(case: Case) -> Iterator[Cable | Control]:
    yield from case.tree.branch_cables
    yield from case.controls


def answer(part: Cable | Control, case: Case, book: Rulebook) -> Answer | None:
    """The white wire of a loop or of travelers; the conductors between a control and its partner."""
    return _white_wire(part, case, book) if isinstance(part, Cable) else _pair(part, case, book)


def _white_wire(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    if cable.carries not in LOOPS:
        return None
    if cable.conductors > LOOP_CONDUCTORS and case.tree.box[cable.to_id].neutral:
        return None
    marked = "which is hot, is marked." if cable.white_remarked else "is hot and carries no mark that says so."
    return Answer(
        part=cable,
        outcome=Outcome.PASS if cable.white_remarked else Outcome.FAIL,
        says=said(
            'The white wire of cable "{cable}"' + (", " if cable.white_remarked else " ") + marked, cable=cable.id
        ),
        open_says=said('Cannot tell yet whether the hot white wire of cable "{cable}" is marked.', cable=cable.id),
        to_come=said(
            'The white wire of cable "{cable}" may be hot: see that it is marked as hot at both ends.', cable=cable.id
        ),
        sources=(book.value("white-conductor-remarked").source,),
        keys=(cable.entry("white_remarked"),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.CAUTION, Outcome.UNDETERMINED), _TO_DO),
    )


def _pair(control: Control, case: Case, book: Rulebook) -> Answer | None:
    """Whether the cables between a three-way control and its partner have conductors enough."""
    if control.ways not in ("three-way", "four-way"):
        return None
    least = book.value("three-way-traveler-conductors")
    partner = case.control.get(control.with_id) if control.with_id is not None else None
    if partner is None:
        return None if _is_partner(control, case) else _without_partner(control, least)
    between = cables_between(case.tree.feed, control.box, partner.box)
    short = [cable for cable in between if cable.conductors < least.number]
    things: Things = {"control": control.id, "partner": partner.id, "least": f"{least.number:g}"}
    if short:
        says = said(
            'Between "{control}" and "{partner}", cable "{cable}" has fewer than {least} insulated conductors. A '
            "three-way pair needs two travelers and one more.",
            cable=short[0].id,
            **things,
        )
    else:
        says = said('"{control}" and "{partner}" have the conductors of a three-way pair between them.', **things)

    def working() -> tuple[Said, ...]:
        return tuple(
            said("{cable}: {count} insulated conductors", cable=cable.id, count=str(cable.conductors))
            for cable in between
        )

    return Answer(
        part=control,
        outcome=Outcome.FAIL if short else Outcome.PASS,
        says=says,
        open_says=said('Cannot tell yet whether "{control}" and "{partner}" have their travelers.', **things),
        working=working,
        sources=(least.source,),
        keys=(control.entry("with"),),
        to_do={Outcome.FAIL: _THREE_WIRES, Outcome.UNDETERMINED: _COUNT},
    )


def _is_partner(control: Control, case: Case) -> bool:
    """Whether another control names it as its partner."""
    return any(other.with_id == control.id for other in case.controls)


def _without_partner(control: Control, least: Value) -> Answer:
    key = control.entry("with")
    return Answer(
        part=control,
        outcome=Outcome.UNDETERMINED,
        says=said('"{control}" is a {ways} switch, and its partner is unknown.', control=control.id, ways=control.ways),
        sources=(least.source,),
        keys=(key,),
        to_do={
            Outcome.UNDETERMINED: ("Work the switches and watch which other one turns the same lights on and off.",)
        },
    )


RULE = CaseRule["Cable | Control"](
    name="switch-loop",
    title="Switch loops and three-way pairs",
    family=Family.SITE,
    rank=350,
    subjects=_subjects,
    answer=answer,
    worse={
        "cable.white_remarked": LESS,
        "cable.conductors": LESS,
        "box.neutral": LESS,
        "control.ways": EACH,
    },
)
