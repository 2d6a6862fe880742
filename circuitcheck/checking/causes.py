"""Which findings have one cause, so that people read it once, and which of two findings can kill sooner."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from circuitcheck.findings import SEVERITY, Finding, Outcome


@dataclass(frozen=True, slots=True)
class Cause:
    """What several checks see. ``lead``: the check that tells it; ``also``: those that see it too.

    same_part: they see it only where they speak about a part that the lead speaks about. held_back: checks whose
    cautions and questions mean nothing while the lead fails.
    """

    text: str
    lead: str
    also: tuple[str, ...]
    same_part: bool = False
    held_back: tuple[str, ...] = ()


CAUSES = (
    Cause(
        "breaker too large for the wire",
        "breaker-vs-wire",
        ("ampacity", "wire-size", "driver-supply-wire", "fuse-size"),
        same_part=True,
    ),
    Cause(
        "more load than the breaker may carry",
        "load-share",
        ("cord-load-share", "fixed-equipment-share", "ampacity"),
        held_back=("voltage-drop",),
    ),
    Cause("no equipment ground", "equipment-ground", ("box-bonding",)),
)

#: What can kill first, before everything else that fails; and what only delays a fire or the inspector, after it.
FIRST = (
    "stop-first",
    "old-wiring",
    "loaded-voltage",
    "equipment-ground",
    "contradicting-entries",
    "shared-neutral",
    "breaker-vs-wire",
    "fuse-size",
    "ampacity",
    "load-share",
    "cord-connected",
    "wet-contact",
)
LAST = ("arc-fault", "ground-fault", "who-may", "loads-complete")


def with_causes(findings: Sequence[Finding]) -> list[Finding]:
    """The findings, those of one cause marked with its text.

    A finding that stands for itself, or whose cause only one check sees, has none.
    """
    marked = [replace(finding, cause="") if finding.cause else finding for finding in findings]
    for cause in CAUSES:
        leads = [finding for finding in findings if finding.check == cause.lead and _fails(finding)]
        if not leads:
            continue
        parts = {finding.subject for finding in leads}
        places = [
            place
            for place, finding in enumerate(marked)
            if not finding.cause and ((finding.check == cause.lead and _fails(finding)) or _also(finding, cause, parts))
        ]
        if len(places) > 1:
            for place in places:
                marked[place] = replace(marked[place], cause=cause.text)
    return marked


def _fails(finding: Finding) -> bool:
    return finding.outcome is Outcome.FAIL


def _also(finding: Finding, cause: Cause, parts: set[str]) -> bool:
    if finding.check in cause.also:
        return _fails(finding) and (not cause.same_part or finding.subject in parts)
    return finding.check in cause.held_back and finding.outcome is not Outcome.PASS and not finding.to_come


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """The findings in the order in which people should read them: stop, fail, undetermined, caution, pass.

    Of one answer what can kill first comes first, and protection and permits come last.
    """
    return sorted(findings, key=lambda finding: (not finding.stop, SEVERITY[finding.outcome], _urgency(finding)))


def _urgency(finding: Finding) -> int:
    if finding.outcome in (Outcome.PASS, Outcome.CAUTION):
        return 0
    if finding.check in FIRST:
        return FIRST.index(finding.check) - len(FIRST)
    return 1 + LAST.index(finding.check) if finding.check in LAST else 0


def protection_that_fails(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The checks that fail, where all of them are about protection that can be added; else nothing."""
    failing = tuple(dict.fromkeys(finding.check for finding in findings if _fails(finding)))
    return failing if set(failing) <= set(LAST) else ()


def leads(finding: Finding) -> bool:
    """Whether a finding tells the cause that it shares, for the others that see it too."""
    return any(cause.text == finding.cause and cause.lead == finding.check for cause in CAUSES)
