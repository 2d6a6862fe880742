"""What changes from the panel to a box, cable after cable."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from circuitcheck.case.case import Case
from circuitcheck.case.memory import in_order, once
from circuitcheck.case.parts import Cable

Made = TypeVar("Made")


def along(step: Callable[[Case, Made, Cable], Made], start: Made, *, reads: str) -> Callable[[Case, str], Made]:
    """A function of a case and a box: what ``step`` makes of ``start``, cable after cable on the way to that box.

    ``reads``: the key of a cable that ``step`` looks at. Where it is settled of every cable, what is worked out is
    kept box by box. Where it is open, what is kept for a box would rest on every open cable before it, again and again.
    """

    @once
    def kept(case: Case, box: str) -> Made:
        feed = case.tree.feed.get(box)
        return start if feed is None else step(case, kept(case, feed.from_id), feed)

    @once
    def is_open(case: Case) -> bool:
        return bool(case.entries_of(Cable.section, reads))

    def made(case: Case, box: str) -> Made:
        if not is_open(case):
            in_order(case, kept, lambda: (cable.to_id for cable in case.tree.branch_cables))
            return kept(case, box)
        result = start
        for cable in case.tree.path(box):
            result = step(case, result, cable)
        return result

    return made
