"""Cable and its place: whether its kind may run outdoors, in the ground, in a crawl space or open in a damp room.

What it asks: the type of each added cable against where it runs, and against how wet it is at its ends; of an open
cable inside only at its far end. Class 2 cable and leads of low-voltage lights need a mark for wet places or for burial
(`wet_marked`).

Why: ordinary indoor cable soaks up water like a wick. Outdoors, in the ground, and in conduit there, its paper and
its sheath rot and its insulation fails.

What to do: outdoors and in the ground use cable or conductors made for it. In a crawl space that is not dry do the
same, and run small cable through bored holes or on running boards.

Cannot see: sunlight, how deep a cable is buried, corrosive air, and how wet it is between the ends of a cable. A cable
inside a wall, or one that ends in an outdoor box, counts as inside. Spaces that air is blown through are a check of
their own: see air-space.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from circuitcheck.case import EACH, LESS, Answer, Case, CaseRule, Family, Said, Things, order, said, values_of
from circuitcheck.case.parts import Box, Cable, LowVoltageLoad, Part
from circuitcheck.domain.work import EXPOSED
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Row, Rulebook

#: What the table says of cable whose print decides, as the file can give it; and of cable for normally dry places.
MARK, IF_DRY = "mark", "if dry"
UNDERGROUND, OUTDOORS, CRAWL_SPACE = "underground", "outdoors", "crawl space"
DRY = "dry"
WORDS = (DRY, "damp", "wet")
_OTHER = ("Use cable or conductors made for the place, or another route.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added cable may run outdoors, in the ground, in a crawl space or open in a damp room."""
    if not cable.is_added:
        return None
    place, column = _place(cable), ""
    if place not in (OUTDOORS, UNDERGROUND, CRAWL_SPACE):
        column = _wettest_inside(cable, case) if _is_open(cable) else DRY
        if column == DRY:
            return None
    row = book.table("cable-places").find(cable.type)
    if row is None:
        return None
    words = {CRAWL_SPACE: "in a crawl space", OUTDOORS: place, UNDERGROUND: place}
    things: Things = {
        "cable": cable.id,
        "type": cable.type,
        "where": words.get(place, f"open in a {column} room"),
    }
    answers = _answers(cable, case, row)
    outcome, says = _judged(cable, answers, things)
    return Answer(
        part=cable,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether cable "{cable}" is of a kind that may run where it does.', **things),
        working=lambda: (said("place: {place}; type: {type}", place=place, type=cable.type),),
        sources=(row.source,),
        keys=(cable.entry("type"), cable.entry("place")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _OTHER),
        ask=(row.printed_text("question"),) if answers & {"ask", IF_DRY} else (),
    )


def _place(cable: Cable) -> str:
    """Where it runs; what is buried is in the ground, whatever stands above it."""
    return UNDERGROUND if cable.run == "buried" else cable.place


def _is_open(cable: Cable) -> bool:
    """Whether the air of the room reaches it."""
    return cable.run in (*EXPOSED, "in raceway") and not cable.concealed


def _ends(cable: Cable, case: Case) -> list[Box | LowVoltageLoad]:
    tree = case.tree
    ends = (tree.box.get(end) or tree.low_voltage_load.get(end) for end in (cable.from_id, cable.to_id))
    return [end for end in ends if end is not None]


def _wettest(words: Iterable[str]) -> str:
    return max(words, key=WORDS.index, default="")


def _is_inside(end: Box | LowVoltageLoad, case: Case, book: Rulebook) -> bool:
    """Whether an end of a cable is in a room of the house."""
    lights = (end,) if isinstance(end, LowVoltageLoad) else case.tree.loads_at.get(end.id, ())
    return end.room not in book.value("outdoor-rooms").items and all(light.mounting != OUTDOORS for light in lights)


def _wettest_inside(cable: Cable, case: Case) -> str:
    """How wet it is where a cable inside lies open, or at the wetter end of one in a crawl space.

    Of an open cable its far end counts: the near one is often an old box of which nobody says where it is, and to ask
    that of each new cable would be a question too many. What is outdoors is beyond the wall, and a cable in a crawl
    space may leave it inside of one.
    """
    wet = [end for end in _ends(cable, case) if end.location != DRY and _is_inside(end, case, case.book)]
    if _place(cable) == CRAWL_SPACE:
        counted = [end for end in wet if _is_open(cable) or end.room == CRAWL_SPACE]
    else:
        counted = [end for end in wet if _is_open(cable) and end.ref.id == cable.to_id]
    return _wettest(end.location for end in counted) or DRY


def _answers(cable: Cable, case: Case, row: Row) -> set[str]:
    """What the table says of each kind of place that this one may be."""
    place, inside = _place(cable), {DRY: "yes", "damp": row.printed_text("damp_inside"), "wet": row.printed_text("wet")}
    if place == UNDERGROUND:
        return {row.printed_text("buried")}
    if place != OUTDOORS:
        found = _wettest_inside(cable, case)
        if place == CRAWL_SPACE and found == DRY and not any(end.room == place for end in _ends(cable, case)):
            return {"yes", inside["damp"]}  # how wet it is there nobody says
        return {inside[found]}
    found = _wettest(end.location for end in _ends(cable, case) if end.location != DRY)
    return {row.printed_text(column) for column in ((found,) if found else ("damp", "wet"))}


def _judged(cable: Cable, answers: set[str], things: Things) -> tuple[Outcome, Said]:
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
    if IF_DRY in answers:
        says = said('Cable "{cable}" is {type}, which may run {where} only where it is normally dry.', **things)
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
            answers = tuple(row.text(column) for column in ("damp", "damp_inside", "wet", "buried"))
            kept[row.key[0]] = (*answers, row.text("question") if {"ask", IF_DRY} & {*answers} else None)
    return kept.get(value)


def _may_run(end: Part, place: str, case: Case) -> bool:
    """Whether a cable that ends there may run in a place."""
    return any(place in values_of(cable, "place") for cable in case.tree.cables_at.get(end.ref.id, ()))


def _wetter_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Outdoors dry says nothing: it is damp or wet there."""
    return EACH if _may_run(part, OUTDOORS, case) else WORDS.index(value)


def _room_is_worse(value: Any, part: Part, case: Case) -> Any:
    """What is beyond the wall does not count; and where a cable in a crawl space ends in it, it is known how wet."""
    return EACH if _may_run(part, CRAWL_SPACE, case) else value not in case.book.value("outdoor-rooms").items


def _room_of(value: Any, book: Rulebook) -> Any:
    return value == CRAWL_SPACE, value in book.value("outdoor-rooms").items


RULE = CaseRule[Cable](
    name="cable-place",
    title="Cable of a kind that suits its place",
    family=Family.SITE,
    rank=460,
    subjects=lambda case: (*case.tree.branch_cables, *case.tree.low_voltage_cables),
    answer=answer,
    worse={
        "cable.type": EACH,
        "cable.place": order("inside", "attic", CRAWL_SPACE, OUTDOORS, UNDERGROUND),
        "box.location": _wetter_is_worse,
        "low_voltage_load.location": _wetter_is_worse,
        "box.room": _room_is_worse,
        "low_voltage_load.room": _room_is_worse,
        "load.mounting": lambda value, part, case: value != OUTDOORS,
        "low_voltage_load.mounting": lambda value, part, case: value != OUTDOORS,
        "cable.wet_marked": LESS,
        "cable.concealed": LESS,
        "cable.run": lambda value, part, case: (value == "buried", value in (*EXPOSED, "in raceway")),
    },
    alike={
        "cable.type": _row_of,
        "box.room": _room_of,
        "low_voltage_load.room": _room_of,
    },
)
