"""The list of loads once more, for what it leaves of a reading.

Of a current that was read, the less the listed loads draw the more flows where nobody knows; of a cable, the more they
draw the worse. One case cannot have both. So what is open in the list stands here a second time, as entries of their
own that are worse the other way; whoever asks about one asks about what a person would find out, the same for both.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case.case import Case
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.parts import Part
from circuitcheck.case.rule import LESS, MORE, Direction

_LISTED = "listed "


def list_apart(case: Case) -> Case:
    """The same circuit, in which the open entries of the supply, the loads and the drivers are entries of their own."""
    kept: Case | None = vars(case).get("_list_apart")
    if kept is None:
        sections: dict[str, Any] = {
            "supply": _apart(case.supply),
            "loads": tuple(map(_apart, case.loads)),
            "drivers": tuple(map(_apart, case.drivers)),
        }
        others = ("job", "site", "boxes", "cables", "low_voltage_loads", "controls", "framing")
        sections |= {name: getattr(case, name) for name in others}
        kept = vars(case)["_list_apart"] = Case(case.book, case.reading, case.entries, sections)
    return kept


def _apart(part: Any) -> Any:
    """A part with open entries of its own. None is without bound: what is left of a reading is never more than it."""
    opened = vars(part).get("_open")
    if not opened:
        return part
    made: Part = object.__new__(part.__class__)
    vars(made).update(vars(part))
    vars(made)["_open"] = {
        name: OpenEntry(
            f"{_LISTED}{entry.kind}",
            entry.attribute,
            entry.asked,
            entry.title,
            entry.possible if entry.possible.bounded else entry.possible._replace(bounded=True, assumed=""),
            vars(part)["_reading"].next_bit(),
            made,
        )
        for name, entry in opened.items()
    }
    return made


def listed_less(worse: dict[str, Direction]) -> dict[str, Direction]:
    """Which way is worse of the list apart, where the more it draws is the better: ``worse`` turned round."""
    return {f"{_LISTED}{kind}": _turned(direction) for kind, direction in worse.items()}


def _turned(direction: Direction) -> Direction:
    if direction is MORE or direction is LESS:
        return LESS if direction is MORE else MORE
    return lambda value, part, case: -direction(value, part, case)
