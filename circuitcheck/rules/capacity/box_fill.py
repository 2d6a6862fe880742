"""Box fill: whether every box has room for the conductors, clamps and devices in it.

What it asks: the marked volume of each box, or its trade size, against a count of what is inside: insulated
conductors, equipment grounds, clamps, fittings, devices, the leads of lights and drivers, and terminal blocks. Where a
divider parts the box, the 120 V wires have a part of it only: half, or one gang of several, is taken.

Why: crowded wires are nicked and cannot shed heat, and splices come apart when they are pushed back. An overfull box
is the defect that inspectors name most.

What to do: fit a deeper box or an extension ring with a marked volume, or take the new cable from another box. Leads,
clamps, studs and devices that were forgotten are what most often tips the count.

Cannot see: a low-voltage cable that starts at a driver and enters the box, isolated grounds, and whether an armored
cable's ground is its armor (where the file says that it has a ground, a wire is counted). A canopy lets nothing out
where a driver is in the same box. A box that the work does not touch is counted, but never holds the answer up. The
wiring box of a recessed light goes by its label: see through-wiring.
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
    Later,
    Rounding,
    Rows,
    Said,
    Things,
    order,
    said,
    values_of,
    words_apart,
)
from circuitcheck.case.parts import Box, Cable, Part
from circuitcheck.circuit.box_contents import Device, FixtureWires, OtherCable
from circuitcheck.domain.box_count import (
    METAL,
    BoxCount,
    Divided,
    Line,
    Room,
    UnlistedSizeError,
    box_count,
    box_room,
    divided_for,
    thickness,
    volume_of_row,
)
from circuitcheck.domain.recessed import is_wiring_box
from circuitcheck.domain.work import TOUCH_WORSE, is_touched
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.findings import Part as Share
from circuitcheck.quantities import in_unit, rounded_down, rounded_up
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

UNIT = "in^3"

#: Tables of volumes have two decimals.
DIGITS = 4
_MOST_DIGITS = 9

_READ_VOLUME = ("Breaker off and tested dead: read the volume marked inside the box, or measure its trade size.",)
_TO_DO = {
    Outcome.FAIL: (
        "Breaker off and tested dead: fit a larger box with a marked volume, add an extension ring with a marked "
        "volume, or take the new cable from another box.",
    ),
    Outcome.UNDETERMINED: ("Breaker off and tested dead: open the box and look at what was counted.",),
    Outcome.CAUTION: ("Show it to the electrician: the work does not touch this box, but it is crowded.",),
}
#: A box that is still to be bought is chosen, and not opened.
_CHOOSE = {
    Outcome.FAIL: ("Choose a larger box, or one that fewer cables enter.",),
    Outcome.UNDETERMINED: ("Before you buy the box, read its volume on the carton, and decide what will be in it.",),
}


def answer(box: Box, case: Case, book: Rulebook) -> Answer | None:
    """What one box holds [in^3]."""
    touched = is_touched(case, box)
    if is_wiring_box(case, box):
        return None
    room = box_room(case, box)
    if not touched and not room:
        return None
    try:
        count = box_count(case, box)
    except UnlistedSizeError as error:
        return _unlisted(box, case, error.size) if touched else None
    if not room:
        return _unknown_volume(box, count)
    return _judged(_Filled(box, count, room, divided_for(case, box, count)), touched=touched)


class _Filled(NamedTuple):
    """A box of known room, and what its divider leaves open where it has one."""

    box: Box
    contents: BoxCount
    room: tuple[Room, ...]
    divided: Divided | None


def _judged(filled: _Filled, *, touched: bool) -> Answer:
    box, count, room, divided = filled
    needed_m3, has_m3 = count.needed_m3, sum([each.volume_m3 for each in room])
    over, least_m3 = exceeds(needed_m3, has_m3), needed_m3 - count.doubtful_m3
    needed, has = _cubic_inches(needed_m3), _cubic_inches(has_m3)
    amounts = Later(lambda: _amounts(box.id, needed, has))
    ask: tuple[str, ...] = ()
    keys: tuple[Ref, ...] = (box.entry("trade_size"), box.entry("volume"))
    if not over and touched and divided is not None and exceeds(divided.power_m3, divided.least_share * has_m3):
        outcome, keys = Outcome.UNDETERMINED, (box.entry("class_2_barrier"), box.entry("gangs"), *keys)
        power = Amount(_cubic_inches(divided.power_m3), "in³", Rounding.UP, DIGITS)
        says = said(
            'Cannot tell whether box "{box}" is big enough: a divider in it leaves the 120 V wires only a part of its '
            "{room}, and they need {power}.",
            power=power,
            **amounts,
        )
        ask = (str(said('Does the part of box "{box}" with the 120 V wires have {power}?', power=power, **amounts)),)
    elif not over:
        outcome, says = Outcome.PASS, Said('Box "{box}" has room: it needs {needed} of its {room}.', amounts)
    elif not touched:
        outcome = Outcome.CAUTION
        says = Said(
            'Box "{box}" is too full as it is: it needs {needed} and has {room}. The work does not touch it.', amounts
        )
    elif exceeds(least_m3, has_m3):
        outcome, says = Outcome.FAIL, Said('Box "{box}" is too full: it needs {needed} and has {room}.', amounts)
    else:
        outcome = Outcome.UNDETERMINED
        least = Amount(_cubic_inches(least_m3), "in³", Rounding.UP, DIGITS)
        says = said(
            'Cannot tell whether box "{box}" is big enough: it has {room} and needs {least} or {needed}, '
            "depending on how the "
            "exception for leads under a canopy is read.",
            least=least,
            **amounts,
        )
        ask = ("More than four luminaire leads enter under a canopy: do all of them count here, or those beyond four?",)
    return Answer(
        part=box,
        outcome=outcome,
        says=says,
        open_says=Said(
            'Cannot tell yet whether box "{box}" is big enough: it has {room} and, from what is known, needs {needed}.',
            amounts,
        ),
        value=needed,
        limit=has,
        unit=UNIT,
        working=lambda: _working(count, room),
        sources=(
            *(each.source for each in room if each.source is not None),
            *(source for line in count.lines for source in line.sources),
            *((divided.source,) if divided is not None else ()),
        ),
        keys=keys,
        rows=Rows(lambda: map(_row, count.lines)),
        to_do=_CHOOSE if box.is_added else _TO_DO,
        ask=ask,
    )


def _unknown_volume(box: Box, count: BoxCount) -> Answer:
    needed = _cubic_inches(count.needed_m3)
    return Answer(
        part=box,
        outcome=Outcome.UNDETERMINED,
        says=said(
            'Cannot tell yet whether box "{box}" is big enough: it needs {needed}, and its volume is unknown.',
            box=box.id,
            needed=Amount(needed, "in³", Rounding.UP, DIGITS),
        ),
        value=needed,
        unit=UNIT,
        working=lambda: _working(count, ()),
        sources=tuple(source for line in count.lines for source in line.sources),
        keys=(box.entry("volume"),),
        rows=Rows(lambda: map(_row, count.lines)),
        to_do=_CHOOSE if box.is_added else {Outcome.UNDETERMINED: _READ_VOLUME},
    )


def _unlisted(box: Box, case: Case, size: str) -> Answer:
    cables = (cable for cable in case.tree.cables_at.get(box.id, ()) if cable.size == size)
    lists = ("other_cables", "unbroken", "fixture_wires", "devices")
    held = (key for key in lists if any(each.size == size for each in getattr(box, key)))
    cable = next(cables, None)
    key = cable.entry("size") if cable is not None else box.ref._replace(key=next(held, "fixture_ground"))
    return Answer(
        part=box,
        outcome=Outcome.UNDETERMINED,
        says=said(
            'Cannot count box "{box}": {size} is beyond the table for such boxes. Other rules size that box.',
            box=box.id,
            size=size,
        ),
        unit=UNIT,
        keys=(key,),
        ask=(f"What box does {size} need here?",),
    )


def _amounts(box: str, needed: float, has: float) -> Things:
    """What is needed, rounded up, and what there is, rounded down, with digits that keep them in their true order."""
    digits = DIGITS
    while (
        not exceeds(needed, has)
        and float(rounded_up(needed, digits)) > float(rounded_down(has, digits))
        and digits < _MOST_DIGITS
    ):
        digits += 1
    return {
        "box": box,
        "needed": Amount(needed, "in³", Rounding.UP, digits),
        "room": Amount(has, "in³", Rounding.DOWN, digits),
    }


def _working(count: BoxCount, room: tuple[Room, ...]) -> Iterator[Said]:
    for line in count.lines:
        yield said(
            "{name}: {count} x {each} ({size}) = {volume}",
            name=line.name,
            count=Amount(line.count),
            each=Amount(_cubic_inches(line.each_m3), "", Rounding.NEAREST, DIGITS),
            size=line.size,
            volume=Amount(_cubic_inches(line.volume_m3), UNIT, Rounding.NEAREST, DIGITS),
        )
    yield said("needed: {needed}", needed=Amount(_cubic_inches(count.needed_m3), UNIT, Rounding.UP, DIGITS))
    for each in room:
        volume = Amount(_cubic_inches(each.volume_m3), UNIT, Rounding.NEAREST, DIGITS)
        yield said("room: {volume} {name}", volume=volume, name=each.name)


def _row(line: Line) -> Share:
    return Share(
        line.name, _cubic_inches(line.volume_m3), line.subject, count=line.count, each=_cubic_inches(line.each_m3)
    )


def _cubic_inches(volume_m3: float) -> float:
    """Cubic inches, without the noise of the unit's own conversion."""
    return round(in_unit(volume_m3, UNIT), 9)


# -- which way is worse ------------------------------------------------------------------------------------------------


def _thicker(value: Any, part: Part, case: Case) -> Any:
    return thickness(case, value)


def _many(value: Any, part: Part, case: Case) -> Any:
    """More fittings, leads, devices or cables of another circuit are worse, and thicker ones.

    A guess may be of another size than what is assumed instead: fewer thick ones may make devices and clamps count
    more. Each is tried then.
    """
    weights = [_weight(each, case) for each in value]
    return EACH if None in weights else sum(weight for weight in weights if weight is not None)


def _weight(thing: str | FixtureWires | Device | OtherCable, case: Case) -> float | None:
    """How much one of them counts, beside others of its kind that are as thick: the pieces.

    None where others that are assumed instead may be thicker or thinner, or of other counts.
    """
    if isinstance(thing, str):
        return 1.0
    if isinstance(thing, Device):
        return float(thing.gangs) if thing.size is None else None
    if isinstance(thing, FixtureWires):
        return float(thing.count) if thickness(case, thing.size) == 0 else None
    usual = OtherCable(size=case.book.value("cable-of-another-circuit").text, conductors=2)
    return 1.0 if thing == usual else None


def _runs_through(part: Part, case: Case) -> bool:
    """Whether a cable ends where conductors run through unbroken: there more of it, or thicker, may need less."""
    assert isinstance(part, Cable)  # noqa: S101 - declared for entries of cables only
    boxes = (case.tree.box.get(end) for end in (part.from_id, part.to_id))
    return any(run.count and not run.other_circuit for box in boxes if box is not None for run in box.unbroken)


def _cable_size(value: Any, part: Part, case: Case) -> Any:
    return EACH if _runs_through(part, case) else thickness(case, value)


def _cable_conductors(value: Any, part: Part, case: Case) -> Any:
    return EACH if _runs_through(part, case) else value


def _smaller(value: Any, part: Part, case: Case) -> Any:
    assert isinstance(part, Box)  # noqa: S101 - declared for boxes only
    row = case.book.table("box-volumes").find(value) if value is not None else None
    return _less_room(volume_of_row(row, part.gangs) if row is not None else None, part, case)


def _gangs(value: Any, part: Part, case: Case) -> Any:
    """Fewer gangs have less room; but of a box with a divider one part may be one gang of many."""
    return EACH if True in values_of(part, "class_2_barrier") else -value


def _less_room(value: Any, part: Part, case: Case) -> Any:
    """The less room the worse; a box of which nobody knows it comes last, since nothing can be said of that."""
    return 0.0 if value is None else -value


RULE = CaseRule[Box](
    name="box-fill",
    title="Whether every box has room for what is in it",
    family=Family.CAPACITY,
    rank=80,
    subjects=lambda case: case.boxes,
    answer=answer,
    worse={
        **TOUCH_WORSE,
        "box.volume": _less_room,
        "box.trade_size": _smaller,
        "box.gangs": _gangs,
        "box.extensions": LESS,
        "box.class_2_barrier": MORE,
        "box.material": order(METAL, "nonmetallic"),
        "box.internal_clamps": MORE,
        "box.fittings": _many,
        "box.devices": _many,
        "box.fixture_wires": _many,
        "box.fixture_ground": _thicker,
        "box.canopy": LESS,
        "box.terminal_blocks": MORE,
        "box.unbroken": EACH,
        "box.other_cables": _many,
        "cable.size": _cable_size,
        "cable.conductors": _cable_conductors,
        "cable.ground": MORE,
        "load.mounting": EACH,
        "load.kind": EACH,
    },
    alike={"load.kind": words_apart("light")},
)
