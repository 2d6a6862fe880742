"""One advice for one cause: what several checks ask for because of the same wire is asked for once, by the check that
sees the cause.

An existing wire that is too thin for its breaker, a planned wire that is too thin, a load and heat each have an advice
of their own; while the first stands, nothing is planned that rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome

BREAKER, SIZE, AMPACITY = "breaker-vs-wire", "wire-size", "ampacity"
EXISTING = "existing"

SETTLE_FIRST = (
    "Have the breaker and the wire that is there settled first; then plan this cable for the breaker that stays.",
)
PLAN_THICKER = ("Plan a thicker conductor for this cable.",)
TAKE_OFF = (
    "Put less on this cable, or have a licensed electrician replace it: a cable that is there cannot be planned "
    "thicker.",
)


def one_advice_each(findings: Iterable[Finding], circuit: Circuit) -> list[Finding]:
    """The findings, each with what is to be done about its own cause alone."""
    told = list(findings)
    there = {cable.id for cable in circuit.cables if cable.origin == EXISTING}
    failing = {check: {each.subject for each in told if _fails(each, check)} for check in (BREAKER, SIZE)}
    thin_there = failing[BREAKER] & there
    sizes = {each.subject: each.to_do for each in told if each.check == SIZE}
    return [
        replace(finding, to_do=_advice(finding, there, thin_there, failing[BREAKER], sizes))
        if finding.outcome is Outcome.FAIL and finding.check in (BREAKER, SIZE, AMPACITY)
        else finding
        for finding in told
    ]


def _fails(finding: Finding, check: str) -> bool:
    return finding.check == check and finding.outcome is Outcome.FAIL


def _advice(
    finding: Finding,
    there: set[str],
    thin_there: set[str],
    thin: set[str],
    sizes: dict[str, tuple[str, ...]],
) -> tuple[str, ...]:
    subject = finding.subject
    if finding.check == BREAKER:
        if subject in there:
            return finding.to_do
        return SETTLE_FIRST if thin_there else sizes.get(subject) or PLAN_THICKER
    if finding.check == SIZE:
        return () if thin_there else finding.to_do
    if subject in thin:  # told at the breaker
        return ()
    return TAKE_OFF if subject in there and finding.limit else finding.to_do
