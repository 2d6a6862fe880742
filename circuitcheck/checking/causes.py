"""Which findings have one cause, so that people read it once and are given one advice, and which can kill sooner.

An existing wire that is too thin for its breaker, a planned wire that is too thin, a load and heat each have an advice
of their own; while the first stands, nothing is planned that rests on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import SEVERITY, Finding, Outcome


@dataclass(frozen=True, slots=True)
class Cause:
    """What several checks see. ``lead``: the check that tells it; ``also``: those that see it too.

    same_part: they see it only where they speak about a part that the lead speaks about. held_back: checks whose
    cautions and questions mean nothing while the lead fails. quiet: those of them whose own advice would stand beside
    the lead's, or against it, and so is left out.
    """

    text: str
    lead: str
    also: tuple[str, ...]
    same_part: bool = False
    held_back: tuple[str, ...] = ()
    quiet: tuple[str, ...] = ()


BREAKER, SIZE, AMPACITY, LOAD, DROP = "breaker-vs-wire", "wire-size", "ampacity", "load-share", "voltage-drop"

CAUSES = (
    Cause(
        "breaker too large for the wire",
        BREAKER,
        (AMPACITY, SIZE, "driver-supply-wire", "fuse-size"),
        same_part=True,
        quiet=(AMPACITY, SIZE, "driver-supply-wire"),
    ),
    Cause(
        "more load than the breaker may carry",
        LOAD,
        ("cord-load-share", "fixed-equipment-share", AMPACITY),
        held_back=(DROP,),
        quiet=(AMPACITY, DROP),
    ),
    Cause("too warm or too crowded for the wire", AMPACITY, (SIZE,), same_part=True, quiet=(SIZE,)),
    Cause("no equipment ground", "equipment-ground", ("box-bonding",), quiet=("box-bonding",)),
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
#: How urgent they are among answers that are alike: every other check stands between, and all that does.
_BETWEEN = ""
_URGENT = (*FIRST, _BETWEEN, *LAST)


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


#: What is to be done about a wire, by whether it is there.
SETTLE_FIRST = (
    "Have the breaker and the wire that is there settled first; then plan this cable for the breaker that stays.",
)
PLAN_THICKER = ("Plan a thicker conductor for this cable.",)
TAKE_OFF = (
    "Put less on this cable, or have a licensed electrician replace it: a cable that is there cannot be planned "
    "thicker.",
)


def one_advice_each(findings: Iterable[Finding], circuit: Circuit) -> list[Finding]:
    """The findings marked with their causes, each with what is to be done about its own cause alone."""
    told = with_causes(list(findings))
    there = frozenset(cable.id for cable in circuit.cables if not cable.is_added)
    thin_there = any(each.check == BREAKER and _fails(each) and each.subject in there for each in told)
    sizes = {each.subject: each.to_do for each in told if each.check == SIZE}
    quiet = {(cause.text, check) for cause in CAUSES for check in cause.quiet}
    return [
        replace(finding, to_do=())
        if (finding.cause, finding.check) in quiet
        else replace(finding, to_do=_about_wire(finding, there, sizes, thin_there=thin_there))
        if _fails(finding) and finding.check in (BREAKER, SIZE, AMPACITY)
        else finding
        for finding in told
    ]


def _about_wire(
    finding: Finding, there: frozenset[str], sizes: Mapping[str, tuple[str, ...]], *, thin_there: bool
) -> tuple[str, ...]:
    subject = finding.subject
    if finding.check == SIZE:
        return () if thin_there else finding.to_do
    if subject in there:
        return TAKE_OFF if finding.check == AMPACITY and finding.limit else finding.to_do
    if thin_there:
        return SETTLE_FIRST
    planned = sizes.get(subject, ())
    return tuple(dict.fromkeys((*finding.to_do, *planned))) if finding.check == AMPACITY else planned or PLAN_THICKER


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
    does = finding.outcome in (Outcome.PASS, Outcome.CAUTION)
    return _URGENT.index(_BETWEEN if does or finding.check not in _URGENT else finding.check)


def protection_that_fails(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The checks that fail, where all of them are about protection that can be added; else nothing."""
    failing = tuple(dict.fromkeys(finding.check for finding in findings if _fails(finding)))
    return failing if set(failing) <= set(LAST) else ()


def leads(finding: Finding) -> bool:
    """Whether a finding tells the cause that it shares, for the others that see it too."""
    return any(cause.text == finding.cause and cause.lead == finding.check for cause in CAUSES)
