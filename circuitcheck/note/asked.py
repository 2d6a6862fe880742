"""What the reader is asked: at most four numbered lines, each with its answers to tick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.note.causes import quoted
from circuitcheck.note.head import scope
from circuitcheck.paper import Listing, Section
from circuitcheck.quantities import down_to, up_to
from circuitcheck.tables.rulebook import Rulebook

#: Lines on the first page; other questions stand on the last sheet.
MOST = 4

#: Of them, those that every note has: who may do it, and what to price.
FIXED = 2

#: Boxes that are named in the line about the ones that are too small.
MOST_BOXES = 3

_OPEN = (Outcome.FAIL, Outcome.UNDETERMINED)
TICK = "☐"


def asked_section(report: Report, circuit: Circuit, book: Rulebook) -> Section:
    """The lines, the ones that only the reader can settle first."""
    lines = [*_decisions(report.findings), *asks_of(report)]
    fixed = (_who(circuit, book), f"For a quote, price {_scope(circuit)} {TICK} With the fixes ticked above")
    return Section("What you are asked", (Listing((*lines[: MOST - FIXED], *fixed), numbered=True),), together=False)


def questions_left(report: Report) -> tuple[str, ...]:
    """The questions for which the first page has no room."""
    return tuple([*_decisions(report.findings), *asks_of(report)][MOST - FIXED :])


def asks_of(report: Report) -> tuple[str, ...]:
    """What the findings ask of the electrician or the inspector, each once, without what has its own line."""
    told = ("arc-fault", "box-fill")
    findings = [one for one in report.findings if one.check not in told or one.outcome not in _OPEN]
    asks = dict.fromkeys(question for finding in findings for question in finding.ask)
    return tuple(question for question in asks if not question.startswith("Does this work need a permit"))


def _decisions(findings: Sequence[Finding]) -> Iterator[str]:
    arc_fault = [one for one in findings if one.check == "arc-fault" and one.outcome in _OPEN]
    if arc_fault:
        yield (
            f"Arc-fault protection: {TICK} breaker at the panel {TICK} outlet device at the first outlet "
            f"{TICK} not required here"
        )
    counted = [one for one in findings if one.check == "box-fill" and one.outcome in _OPEN]
    unsized = {one.subject: one.high for one in counted if one.limit is None and one.high is not None}
    if unsized:
        more = f" and {len(unsized) - MOST_BOXES} more" if len(unsized) > MOST_BOXES else ""
        first = list(unsized.items())[:MOST_BOXES]
        named = "; ".join(f"{quoted([subject])} {up_to(needed, 2)} in³" for subject, needed in first)
        yield f"Boxes of unknown size need at least: {named}{more}. {TICK} agreed {TICK} other: __________"
    boxes = [one for one in counted if one.subject not in unsized]
    if boxes:
        more = f" and {len(boxes) - MOST_BOXES} more" if len(boxes) > MOST_BOXES else ""
        named = "; ".join(_box(one) for one in boxes[:MOST_BOXES])
        yield (
            f"Box {named}{more}: {TICK} larger box {TICK} ring marked with its volume {TICK} start the new cable "
            "elsewhere"
        )


def _box(finding: Finding) -> str:
    least = f"{up_to(finding.low, 2)} to " if finding.low is not None and finding.low != finding.high else ""
    needs = f"needs {least}{up_to(finding.high, 2)}" if finding.high is not None else ""
    has = f"has {down_to(finding.limit, 2)} in³" if finding.limit is not None else "size unknown"
    return f"{quoted([finding.subject])} ({', '.join(part for part in (needs, has) if part)})"


def _who(circuit: Circuit, book: Rulebook) -> str:
    by = circuit.site.work_by
    who = f"May the {by} do this work? {TICK} yes {TICK} no, a licensed electrician" if by == "owner" else ""
    who = who or f"Who may do this work? {TICK} the owner {TICK} a licensed electrician"
    permit = {"granted": "granted", "not needed": "not needed", "asked": "asked for"}.get(circuit.site.permit or "")
    needed = f"permit: {permit}" if permit else f"permit: {TICK} needed {TICK} not needed"
    return f"{who}; {needed}"


def _scope(circuit: Circuit) -> str:
    text = scope(circuit, with_names=False).removeprefix("Planned: ").removeprefix("add ")
    return f"{text.rstrip('.')}."
