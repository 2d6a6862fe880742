"""The added parts of one file tried on another circuit of the house, at each of its boxes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from circuitcheck.advice.asking_again import outcomes
from circuitcheck.advice.room_left import load_left
from circuitcheck.checking import check
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.cable import CABLE
from circuitcheck.circuit.keys.change import OF_THE_WAY
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Box, Cable, Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.errors import CommandError
from circuitcheck.findings import Outcome, Report, Verdict
from circuitcheck.tables.rulebook import Rulebook

#: ``from = "?"``: where the new cable starts is still to be found out.
_OPEN_START = re.compile(r"""^(\s*from\s*=\s*)(["'])\?\2""", re.MULTILINE)
_PANEL = "panel"

_VERDICTS = (Verdict.FITS, Verdict.UNDETERMINED, Verdict.DOES_NOT_FIT)


@dataclass(frozen=True, slots=True)
class Placed:
    """The added parts on one circuit, fed from one of its boxes.

    load_left_a: what more the breaker then takes [A], None where nobody knows. new_cable_m: the most that the new
    cables measure, None where one is unknown [m]. ruled_out: why nothing new may start at this box, empty where it may.
    """

    file: str
    title: str
    box: str
    report: Report
    load_left_a: float | None
    new_cable_m: float | None
    ruled_out: str = ""

    def count(self, outcome: Outcome) -> int:
        """How many answers end so."""
        return sum(each is outcome for each in outcomes(self.report.findings).values())


def with_open_starts(text: str) -> str:
    """The text of a file with each ``from = "?"`` at the panel, so that it can be read; each is placed anew later."""
    return _OPEN_START.sub(rf"\1\2{_PANEL}\2", text)


def placings(job: Circuit, house: Circuit, book: Rulebook) -> Iterator[Placed]:
    """The added parts of ``job`` on ``house``, fed from each box that is there. Raises: CommandError.

    A box from which nothing new may start is told with the sentence of the rule that says so.
    """
    for box in house.boxes:
        if box.origin != "added":
            circuit = as_planned(placed(job, house, box.id))
            report = check(circuit, book)
            ruled_out = _ruled_out(box, report)
            if ruled_out:
                yield Placed(house.file, house.job.title, box.id, report, None, None, ruled_out)
                continue
            lengths = [cable.length_m for cable in _added(circuit, "cables") if cable.id in _ids(_added(job, "cables"))]
            known = [length.high for length in lengths if length is not None]
            new = sum(known) if len(known) == len(lengths) else None
            yield Placed(house.file, house.job.title, box.id, report, load_left(report, circuit, book), new)


def _ruled_out(box: Box, report: Report) -> str:
    """Why no new cable may start at a box: it has no neutral, or nobody reaches it once the work is done."""
    for finding in report.findings:
        starts = finding.check == "switch-box-source" or (finding.check == "box-access" and box.reachable is False)
        if finding.subject == box.id and finding.outcome is Outcome.FAIL and starts:
            return finding.says
    return ""


def ranked(placed_at: list[Placed]) -> list[Placed]:
    """The best first: by verdict, failures, open answers, cautions, room left on the breaker, new cable.

    What is not known of either comes last. Boxes that are ruled out come last.
    """
    return sorted(
        placed_at,
        key=lambda each: (
            bool(each.ruled_out),
            bool(each.report.stop),
            _VERDICTS.index(each.report.verdict),
            each.count(Outcome.FAIL),
            each.count(Outcome.UNDETERMINED),
            each.count(Outcome.CAUTION),
            -each.load_left_a if each.load_left_a is not None else float("inf"),
            each.new_cable_m if each.new_cable_m is not None else float("inf"),
        ),
    )


def placed(job: Circuit, house: Circuit, box_id: str) -> Circuit:
    """``house`` with the added parts of ``job``, which take their current from the box ``box_id``.

    The way of a cable that starts elsewhere than its file said is unknown. Raises: CommandError for an id that both
    files have, and for a part that is added in a box which is already there.
    """
    new = {attribute: _added(job, attribute) for attribute in _of_parts()}
    here = {attribute: getattr(house, attribute) for attribute in _of_parts()}
    _refuse(job, house, new, here)
    own = _ids(new["boxes"]) | _ids(new["drivers"]) | _ids(new["low_voltage_loads"])
    new["cables"] = tuple(_started(cable, own, box_id) for cable in new["cables"])
    known = {part.id for parts in (*new.values(), *here.values()) for part in parts}
    merged: dict[str, Any] = {
        attribute: (*here[attribute], *(_with_known(part, attribute, known) for part in parts))
        for attribute, parts in new.items()
    }
    site = replace(house.site, room=job.site.room or house.site.room)
    return replace(house, job=replace(job.job, title=house.job.title), site=site, **merged)


def _of_parts() -> list[str]:
    """The circuit's attributes that hold parts which are there or added; a change of one is no such part."""
    return [section.attribute for section in SECTIONS.values() if section.many and "origin" in section.keys]


def _added(circuit: Circuit, attribute: str) -> tuple[Any, ...]:
    return tuple(part for part in getattr(circuit, attribute) if part.is_added)


def _ids(parts: tuple[Any, ...]) -> set[str]:
    return {part.id for part in parts}


def _started(cable: Cable, own: set[str], box_id: str) -> Cable:
    """A new cable at the box from which it is tried; one between new parts stays as it is."""
    if cable.from_id in own:
        return cable
    moved = replace(cable, from_id=box_id)
    unknown: dict[str, Any] = {CABLE.keys[key].attribute: None for key in OF_THE_WAY}
    return moved if cable.from_id == _PANEL else replace(moved, **unknown)


def _with_known(part: Any, attribute: str, known: set[str]) -> Any:
    """A part without what it says of parts that are not there."""
    section = next(section for section in SECTIONS.values() if section.attribute == attribute)
    lost = [
        key.attribute
        for key in section.keys.values()
        if key.form is Form.REFERENCE and not key.required and getattr(part, key.attribute) not in (None, *known)
    ]
    return replace(part, **dict.fromkeys(lost)) if lost else part


def _refuse(job: Circuit, house: Circuit, new: dict[str, tuple[Any, ...]], here: dict[str, tuple[Any, ...]]) -> None:
    if not any(new.values()):
        raise CommandError(f"{job.file}: nothing in it is added, so there is nothing to try elsewhere")
    for attribute, parts in new.items():
        twice = _ids(parts) & _ids(here[attribute])
        if twice:
            raise CommandError(f'{job.file} and {house.file} both have a part "{min(twice)}"; rename the added one')
    for attribute in ("loads", "drivers", "controls"):
        for part in new[attribute]:
            if part.box not in _ids(new["boxes"]):
                raise CommandError(
                    f'{job.file}: "{part.id}" is added in box "{part.box}", which is already there; give it a box of '
                    "its own to try it on another circuit"
                )
