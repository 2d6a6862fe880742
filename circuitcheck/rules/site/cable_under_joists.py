"""Cable under joists: small cable across the underside of joists in an unfinished basement or crawl space.

What it asks: whether added sheathed cable crosses the open joists of a basement or crawl space, and its size.

Why: things are hung on a cable that crosses under joists, and it gets pulled loose.

What to do: bore holes through the joists, or put a running board under them. Thick cable may be fastened to the edges.

Cannot see: whether the basement is finished: a cable that the file calls concealed counts as in a finished ceiling.
Metal-clad cable has a rule of its own that is not judged here.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import LESS, Answer, Case, CaseRule, Family, Things, order, said
from circuitcheck.case.parts import Cable, Part
from circuitcheck.domain.cable_kinds import is_nonmetallic
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

ROOMS = ("basement", "crawl space")
_THROUGH = ("Run the cable through bored holes, or put a running board under the joists.",)


def answer(cable: Cable, case: Case, book: Rulebook) -> Answer | None:
    """Whether one added branch cable may be fastened across the underside of the joists."""
    if not cable.is_added or cable.run != "across framing" or cable.concealed:
        return None
    if cable.place not in ("inside", "crawl space") or not _is_below(cable, case):
        return None
    things: Things = {"cable": cable.id, "size": cable.size}
    if cable.type == "AC":
        source = book.value("armored-cable-under-joists").source
        says = said('Armored cable "{cable}" may run across the underside of joists, supported at each one.', **things)
        return Answer(part=cable, outcome=Outcome.PASS, says=says, sources=(source,))
    if not is_nonmetallic(book, cable.type):
        return None
    value = book.value(
        "cable-under-joists-two-conductors" if cable.conductors < 3 else "cable-under-joists-three-conductors"
    )
    small = _is_thinner(cable.size, value.text, book)
    if small:
        says = said('{size} cable "{cable}" may not be fastened across the underside of the joists.', **things)
    else:
        says = said('Cable "{cable}" is large enough to be fastened across the underside of the joists.', **things)
    return Answer(
        part=cable,
        outcome=Outcome.FAIL if small else Outcome.PASS,
        says=says,
        open_says=said('Cannot tell yet whether cable "{cable}" may run across the joists as planned.', **things),
        sources=(value.source,),
        keys=(cable.entry("run"),),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED), _THROUGH),
    )


def _is_below(cable: Cable, case: Case) -> bool:
    """Whether it runs in a crawl space, or to a box in a basement."""
    return cable.place == "crawl space" or case.tree.box[cable.to_id].room in ROOMS


def _is_thinner(size: str, than: str, book: Rulebook) -> bool:
    """Whether a size stands before another in the table of conductors."""
    return _place_among_sizes(size, book) < _place_among_sizes(than, book)


def _place_among_sizes(size: str, book: Rulebook) -> int:
    """Where the size stands in the table of conductors, thinnest first; a metric size goes by its equal.

    A metric size without an equal is thinner than all of them (0.5 mm^2).
    """
    equal = book.table("metric-equivalents").find(size)
    sizes = ["", *(row.key[0] for row in book.table("conductors").rows)]
    name = equal.printed_text("awg") if equal is not None else size
    return sizes.index(name if name in sizes else "")


def _below(value: Any, part: Part, case: Case) -> bool:
    return value in ROOMS


def _thin(value: Any, part: Part, case: Case) -> int:
    return -_place_among_sizes(value, case.book)


def _nonmetallic(value: Any, part: Part, case: Case) -> bool:
    return is_nonmetallic(case.book, value)


RULE = CaseRule[Cable](
    name="cable-under-joists",
    title="Cable across the underside of joists in a basement or crawl space",
    family=Family.SITE,
    rank=515,
    subjects=lambda case: case.tree.branch_cables,
    answer=answer,
    worse={
        "cable.run": order("through framing", "across framing"),
        "cable.concealed": LESS,
        "cable.place": order("attic", "inside", "crawl space"),
        "cable.type": _nonmetallic,
        "cable.size": _thin,
        "cable.conductors": LESS,
        "box.room": _below,
    },
)
