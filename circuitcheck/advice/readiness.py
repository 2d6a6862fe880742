"""Whether a plan may show how to join anything, and what stands open before it may be followed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.checking import worst_first
from circuitcheck.findings import Finding, Outcome, Report


class State(StrEnum):
    """How far a plan is."""

    STOP = "stop"
    NOT_READY = "not ready"
    NOTHING_OPEN = "nothing open on paper"


@dataclass(frozen=True, slots=True)
class Readiness:
    """The state, and the findings and boxes behind it.

    stops: findings that end the job. open: those that fail or cannot be told, worst first. cautions: those to keep in
    mind. untold: ids of boxes in which it cannot be told which conductors join.
    """

    state: State
    stops: tuple[Finding, ...]
    open: tuple[Finding, ...]
    cautions: tuple[Finding, ...]
    untold: tuple[str, ...]


def readiness_of(report: Report, wiring: Sequence[BoxWiring]) -> Readiness:
    """How far the plan is: a finding that says stop goes before everything."""
    stops = tuple(finding for finding in report.findings if finding.stop)
    opened = (Outcome.FAIL, Outcome.UNDETERMINED)
    still = tuple(one for one in worst_first(report.findings) if one.outcome in opened and not one.stop)
    untold = tuple(one.box.id for one in wiring if one.joints.untold)
    state = State.STOP if stops else State.NOT_READY if still or untold else State.NOTHING_OPEN
    return Readiness(
        state=state,
        stops=stops,
        open=still,
        cautions=tuple(one for one in report.findings if one.outcome is Outcome.CAUTION),
        untold=untold,
    )
