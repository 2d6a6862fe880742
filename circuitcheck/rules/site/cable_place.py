"""Cable and its place: whether the kind of cable may run outdoors, in the ground or in a crawl space.

What it asks: the type of each added cable against where it runs. Class 2 cable and leads of low-voltage lights need a
mark for wet places or for burial (`wet_marked`).

Why: ordinary indoor cable soaks up water like a wick. Outdoors, in the ground, and in conduit there, its paper and
its sheath rot and its insulation fails.

What to do: outdoors and in the ground use cable or conductors made for it. In a crawl space that is not dry do the
same, and run small cable through bored holes or on running boards.

Cannot see: sunlight, how deep a cable is buried, corrosive air, and whether a crawl space stays dry. A cable inside a
wall that ends in an outdoor box counts as inside. Spaces that air is blown through are a check of their own: see
air-space.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import EACH, LESS, Answer, Case, CaseRule, Family, Said, Things, order, said
from circuitcheck.case.parts import Cable
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Row, Rulebook

#: What the table says of cable whose print decides, as the file can give it.
MARK = "mark"
UNDERGROUND = "underground"
_OTHER = ("Use cable or conductors made for the place, or another route.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added cable may run outdoors, in the ground or in a crawl space."""
    place = _place(cable)
    if not cable.is_added or place not in ("outdoors", "underground", "crawl space"):
        return None
    row = book.table("cable-places").find(cable.type)
    if row is None:
        return None
    things: Things = {
        "cable": cable.id,
        "type": cable.type,
        "where": "in a crawl space" if place == "crawl space" else place,
    }
    asks = "ask" in _answers(cable, case, row)
    outcome, says = _judged(cable, case, row, things)
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether cable "{cable}" is of a kind that may run where it does.', **things),
        working=lambda: (said("place: {place}; type: {type}", place=place, type=cable.type),),
        sources=(row.source,),
        keys=(cable.entry("type"), cable.entry("place")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _OTHER),
        ask=(row.printed_text("question"),) if asks else (),
    )


def _place(cable: Cable) -> str:
    """Where it runs; what is buried is in the ground, whatever stands above it."""
    return UNDERGROUND if cable.run == "buried" else cable.place


def _answers(cable: Cable, case: Case, row: Row) -> set[str]:
    """What the table says of each kind of place that this one may be."""
    if _place(cable) == UNDERGROUND:
        columns = {"buried"}
    elif _place(cable) == "crawl space":
        return {"yes", row.printed_text("damp")}
    else:
        end = case.tree.box.get(cable.to_id) or case.tree.low_voltage_load[cable.to_id]
        location = end.location
        columns = {location} if location in ("damp", "wet") else {"damp", "wet"}
    return {row.printed_text(column) for column in columns}


def _judged(cable: Cable, case: Case, row: Row, things: Things) -> tuple[Outcome, Said]:
    answers = _answers(cable, case, row)
    if answers == {"yes"}:
        return Outcome.PASS, said('{type} may run {where}, as cable "{cable}" does.', **things)
    if answers == {"no"}:
        return Outcome.FAIL, said('Cable "{cable}" is {type}, which may not run {where}.', **things)
    if MARK in answers:
        if cable.wet_marked:
            return Outcome.PASS, said('Cable "{cable}" is marked for wet places or burial.', **things)
        if answers == {MARK}:
            return Outcome.FAIL, said(
                'Cable "{cable}" is {type} and is not marked for wet places or burial, but runs {where}.', **things
            )
        says = said('Cable "{cable}" is {type}: it may run {where} only where no water reaches it.', **things)
        return Outcome.CAUTION, says
    if "ask" in answers:
        says = said('Whether cable "{cable}" ({type}) may run {where} depends on its marking.', **things)
        return Outcome.CAUTION, says
    if cable.place == "outdoors":
        says = said('Cable "{cable}" is {type}: it may run outdoors in damp places, not in wet ones.', **things)
        return Outcome.CAUTION, says
    says = said('Cable "{cable}" is {type}, which may run in a crawl space only where it is always dry.', **things)
    return Outcome.CAUTION, says


def _row_of(value: Any, book: Rulebook) -> Any:
    """What the table says of a type of cable: of many it says the same. Its question is told where it says to ask."""
    kept: dict[str, tuple[str | None, ...]] | None = book.worked_out.get(_row_of)
    if kept is None:
        kept = book.worked_out[_row_of] = {}
        for row in book.table("cable-places").rows:
            answers = tuple(row.text(column) for column in ("damp", "wet", "buried"))
            kept[row.key[0]] = (*answers, row.text("question") if "ask" in answers else None)
    return kept.get(value)


RULE = CaseRule[Cable](
    name="cable-place",
    title="Cable of a kind that suits its place",
    family=Family.SITE,
    rank=460,
    subjects=lambda case: (*case.tree.branch_cables, *case.tree.low_voltage_cables),
    answer=answer,
    worse={
        "cable.type": EACH,
        "cable.place": order("inside", "attic", "crawl space", "outdoors", "underground"),
        "box.location": order("damp", "dry", "wet"),  # outdoors dry says nothing: it is damp or wet there
        "low_voltage_load.location": order("damp", "dry", "wet"),
        "cable.wet_marked": LESS,
        "cable.run": order("on a surface", "buried"),
    },
    alike={"cable.type": _row_of},
)
