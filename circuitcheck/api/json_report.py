"""The report as JSON for scripts, in the shape of ``report_shape``.

Written straight from the findings, a finding at a time: a long report is not held twice, and the library that describes
the shape need not be loaded.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from circuitcheck import __version__
from circuitcheck.findings import Finding, Part, Report, RoomLeft, Source

#: The check whose findings carry the sizes even where they are null.
ALWAYS_WITH_SIZES = "wire-size"

_encode = json.JSONEncoder(allow_nan=False).encode


def report_json(report: Report, *, finding_a_line: bool = False) -> Iterator[str]:
    """The pieces of one JSON document, in plain ASCII; all on one line unless each finding is to have its own.

    Raises: ValueError on a number that is not finite; what was written up to there is no JSON document.
    """
    gap = "\n" if finding_a_line else " "
    head = {
        "report": 1,
        "tool": __version__,
        "file": report.file,
        "title": report.title,
        "rulebook": report.rulebook,
        "verdict": report.verdict,
    }
    tail = {
        "cautions": report.cautions,
        "unknowns": [
            {
                "key": unknown.key,
                "decides": unknown.decides,
                "how_to_find": unknown.how_to_find,
                "written": unknown.written,
                "visit": unknown.visit,
                "alone": unknown.alone,
                "settles": unknown.settles,
                "ends": unknown.ends,
                "checks": unknown.checks,
            }
            for unknown in report.unknowns
        ],
        "guesses": [
            {"key": guess.key, "written": guess.written, "stands_for": guess.stands_for} for guess in report.guesses
        ],
        "least_questions": report.least_questions,
        "visits": [{"visit": each.visit, "settles": each.settles} for each in report.visits],
        "room_left": [room_entry(room) for room in report.room_left],
        "faults": [{"check": fault.check, "says": fault.says} for fault in report.faults],
        "not_judged": report.not_judged,
    }
    yield f'{_encode(head)[:-1]}, "findings": ['
    sources: dict[Source, dict[str, str | None]] = {}
    comma = gap.strip(" ")
    for finding in report.findings:
        yield comma + _encode(finding_entry(finding, sources))
        comma = f",{gap}"
    yield f"{gap.strip(' ')}], {_encode(tail)[1:]}"


def finding_entry(finding: Finding, sources: dict[Source, dict[str, str | None]] | None = None) -> dict[str, Any]:
    """One finding; ``sources`` remembers those already met in this report, since most findings share them."""
    sources = {} if sources is None else sources
    entry: dict[str, Any] = {
        "check": finding.check,
        "subject": finding.subject,
        "outcome": finding.outcome,
        "value": _number(finding.value),
        "limit": _number(finding.limit),
        "unit": finding.unit,
        "low": _number(finding.low),
        "high": _number(finding.high),
        "says": finding.says,
        "working": tuple(finding.working),
        "sources": [sources.get(source) or sources.setdefault(source, _source(source)) for source in finding.sources],
        "needs": finding.needs,
        "assumed": finding.assumed,
        "assumed_keys": finding.assumed_keys,
        "keys": finding.keys,
        "parts": [_part(part) for part in finding.parts],
        "to_do": finding.to_do,
        "ask": finding.ask,
        "stop": finding.stop,
        "to_come": finding.to_come,
        "already_so": finding.already_so,
        "cause": finding.cause,
    }
    if finding.at_least:
        entry["at_least"] = True
    sizes = (("chosen", finding.chosen), ("smallest", finding.smallest), ("decided_by", finding.decided_by))
    entry.update((name, size) for name, size in sizes if size is not None or finding.check == ALWAYS_WITH_SIZES)
    return entry


def room_entry(room: RoomLeft) -> dict[str, Any]:
    """How much room is left for one thing; ``size`` only where it is of conductors."""
    entry: dict[str, Any] = {
        "of": room.of,
        "kind": room.kind,
        "amount": None if room.amount is None else _number(room.amount),
        "unit": room.unit,
        "check": room.check,
        "then": room.then,
        "if_listed": room.if_listed,
    }
    return entry if room.size is None else entry | {"size": room.size}


def _source(source: Source) -> dict[str, str | None]:
    return {
        "document": source.document,
        "edition": source.edition,
        "place": source.place,
        "status": source.status,
        "checked": source.checked,
        "read": source.read,
    }


def _part(part: Part) -> dict[str, Any]:
    return {
        "name": part.name,
        "value": _number(part.value),
        "subject": part.subject,
        "count": _number(part.count),
        "each": _number(part.each),
    }


def _number(value: float | None) -> float | None:
    """Ten digits: far more than any table prints, and without the noise of converting units and back."""
    return None if value is None else float(f"{value:.10g}")
