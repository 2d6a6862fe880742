"""Cable support: how often added cable is held, and how near to each box.

What it asks: the greatest distance between supports of each added cable, and from each box to the first one. Also of
an open cable that is there already, where the work uses it.

Why: a loose cable pulls at its splices and hangs where it is stepped on. It is a usual red tag.

What to do: staple or strap at the spacing, one staple for no more cables than it is made for, and do not crush the
sheath. At a single-gang plastic box without clamps the first staple stands closer.

Cannot see: how many cables lie under one staple, short whips to lights in a ceiling that can be opened, and whether
cable that counts as fished could have been held.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, Case, CaseRule, Family, Rounding, Things, order, said
from circuitcheck.case.parts import Box, Cable, Part
from circuitcheck.circuit.box_contents import Device
from circuitcheck.domain.cable_kinds import is_nonmetallic
from circuitcheck.domain.work import EXPOSED, is_used
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook, Value

#: Which value holds for cables that have one of their own; the rest are nonmetallic cable, or nothing that this knows.
SPACING = {"AC": "armored-cable-support-spacing", "MC": "metal-clad-support-spacing"}
#: Runs that need no support of their own.
FISHED = "fished"
UNHELD = (FISHED, "in raceway", "buried")
_HOLD = ("Staple or strap the new cable without crushing its sheath.",)


class Support(NamedTuple):
    """One of the two distances of one cable: between supports, or from a box to the first."""

    cable: Cable
    from_box: bool


def subjects(case: Case) -> Iterator[Support]:
    """Both distances of every branch cable."""
    return (Support(cable, from_box) for cable in case.tree.branch_cables for from_box in (False, True))


def answer(support: Support, case: Case, book: Rulebook) -> Answer | None:
    """Whether one cable, added or open and used, is held closely enough [in]."""
    cable = support.cable
    if not (cable.is_added or _is_open_and_used(cable, case)) or not _is_known_kind(cable, book):
        return None
    if cable.run in UNHELD and (cable.is_added or cable.run != FISHED):
        return _fished(cable, book) if cable.run == FISHED and not support.from_box else None
    if support.from_box:
        return _from_box(support, case, book)
    limit = book.value(SPACING.get(cable.type, "cable-support-spacing"))
    return _at_most(support, limit, "between supports")


def _is_open_and_used(cable: Cable, case: Case) -> bool:
    """An old cable that can be seen, and that the work hangs something on."""
    return not cable.concealed and cable.run in EXPOSED and is_used(cable, case)


def _is_known_kind(cable: Cable, book: Rulebook) -> bool:
    return is_nonmetallic(book, cable.type) or cable.type in SPACING


def _from_box(support: Support, case: Case, book: Rulebook) -> Answer:
    cable, boxes = support.cable, case.tree.box
    ends = (boxes.get(cable.from_id), boxes.get(cable.to_id))
    close = cable.type not in SPACING and any(end is not None and _has_no_clamp(end) for end in ends)
    limit = book.value("cable-support-from-box-without-clamp" if close else "cable-support-from-box")
    words = "from a single-gang plastic box without clamps" if close else "from each box"
    return _at_most(support, limit, f"{words} to the first support")


def _has_no_clamp(box: Box) -> bool:
    """A single-gang plastic box without clamps."""
    return _is_single(box.devices) and box.material == "nonmetallic" and not box.internal_clamps


def _is_single(devices: tuple[Device, ...]) -> bool:
    return bool(devices) and sum(device.gangs for device in devices) == 1


def _fished(cable: Cable, book: Rulebook) -> Answer:
    says = said('Cable "{cable}" is fished through closed spaces, where supports may be left out.', cable=cable.id)
    source = book.value("cable-fished-unsupported").source
    return Answer(part=cable, outcome=Outcome.PASS, says=says, sources=(source,), keys=(cable.entry("run"),))


def _at_most(support: Support, limit: Value, words: str) -> Answer:
    """One distance against the most that is allowed; ``words`` say from where to where."""
    cable = support.cable
    if support.from_box:
        key, given_m = "support_from_box", cable.support_from_box_m
    else:
        key, given_m = "support_spacing", cable.support_spacing_m
    given, most = in_unit(given_m, "in"), in_unit(limit.number, "in")
    things: Things = {
        "cable": cable.id,
        "given": Amount(given, "in", Rounding.UP),
        "most": Amount(most, "in", Rounding.DOWN),
        "where": words,
    }
    return Answer(
        part=cable,
        outcome=Outcome.FAIL if exceeds(given_m, limit.number) else Outcome.PASS,
        says=said('Cable "{cable}" has {given} {where}; at most {most} is allowed.', **things),
        open_says=said('Cannot tell yet whether cable "{cable}" has at most {most} {where}.', **things),
        to_come=said('Support cable "{cable}" with at most {most} {where}.', **things),
        value=given,
        limit=most,
        unit="in",
        sources=(limit.source,),
        keys=(cable.entry(key),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _HOLD),
    )


def _run_is_worse(value: Any, part: Part, case: Case) -> Any:
    """Where it has to be held: added cable unless it cannot be, and of the cable that is there what can be seen."""
    assert isinstance(part, Cable)  # noqa: S101 - declared for cables only
    return (value not in UNHELD, value == FISHED) if part.is_added else value in EXPOSED


def _type_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A kind that this knows, the closer it has to be held; clamps in a box count for nonmetallic cable alone."""
    usual = case.book.value("cable-support-spacing").number
    limit = case.book.value(SPACING.get(value, "cable-support-spacing")).number
    if limit < usual:  # along the cable another kind is worse than at a box
        return EACH
    return value in SPACING or is_nonmetallic(case.book, value), -limit, value not in SPACING


RULE = CaseRule[Support](
    name="cable-support",
    title="Supports along a cable and near its boxes",
    family=Family.SITE,
    rank=490,
    subjects=subjects,
    answer=answer,
    worse={
        "cable.support_spacing": MORE,
        "cable.support_from_box": MORE,
        "cable.type": _type_is_worse,
        "cable.run": _run_is_worse,
        "cable.concealed": LESS,
        "box.material": order("metal", "nonmetallic"),
        "box.internal_clamps": LESS,
        "box.devices": lambda value, part, case: _is_single(value),
    },
    alike={
        "cable.type": lambda value, book: value if value in SPACING else is_nonmetallic(book, value),
        # fished cable alone is both
        "cable.run": lambda value, book: (value in UNHELD, value in EXPOSED),
    },
)
