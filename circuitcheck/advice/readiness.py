"""Whether a plan may show how to join anything, and what stands open before it may be followed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.checking import worst_first
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Report

#: Answers of the permit office after which nothing more is asked of it.
PERMIT_ANSWERED = ("granted", "not needed")


class State(StrEnum):
    """How far a plan is, as it is told in a line."""

    STOP = "stop"
    MUST_CHANGE = "not ready, something must change"
    UNKNOWN = "not ready, something is unknown"
    NOTHING_OPEN = "nothing open on paper"


@dataclass(frozen=True, slots=True)
class Readiness:
    """The state, and the findings and boxes behind it.

    stops: findings that end the job. fails: those that something must change for. unknown: those that cannot be told.
    cautions: those to keep in mind. untold: ids of boxes in which it cannot be told which conductors join.
    """

    state: State
    stops: tuple[Finding, ...]
    fails: tuple[Finding, ...]
    unknown: tuple[Finding, ...]
    cautions: tuple[Finding, ...]
    untold: tuple[str, ...]


def readiness_of(report: Report, wiring: Sequence[BoxWiring]) -> Readiness:
    """How far the plan is: a finding that says stop goes before everything, one that fails before what is unknown.

    A check that could not be done is unknown.
    """
    stops = tuple(finding for finding in report.findings if finding.stop)
    others = [finding for finding in worst_first(report.findings) if not finding.stop]
    fails = tuple(finding for finding in others if finding.outcome is Outcome.FAIL)
    unknown = tuple(finding for finding in others if finding.outcome is Outcome.UNDETERMINED)
    untold = tuple(one.box.id for one in wiring if one.joints.untold)
    return Readiness(
        state=_state(stops, fails, (*unknown, *untold, *report.faults)),
        stops=stops,
        fails=fails,
        unknown=unknown,
        cautions=tuple(finding for finding in others if finding.outcome is Outcome.CAUTION),
        untold=untold,
    )


def _state(stops: Sequence[object], fails: Sequence[object], unknown: Sequence[object]) -> State:
    if stops:
        return State.STOP
    if fails:
        return State.MUST_CHANGE
    return State.UNKNOWN if unknown else State.NOTHING_OPEN


def can_end_the_job(ready: Readiness, circuit: Circuit) -> tuple[Finding, ...]:
    """Open answers about the circuit as a whole or about what is there already: each may end the job."""
    added = _added(circuit)
    return tuple(finding for finding in ready.unknown if finding.subject not in added)


def settled_cables(ready: Readiness, circuit: Circuit) -> tuple[str, ...]:
    """Added branch cables, upstream first, that nothing open can change; none while an answer can end the job.

    An open answer about a cable can change that cable; one about a box, or a box whose joints cannot be told, every
    cable in it; one about a load, driver or switch, every cable on the way there and in its box; one
    about anything else, all of them.
    """
    if can_end_the_job(ready, circuit) or ready.fails or ready.stops:
        return ()
    tree = circuit.tree
    box_of = {load.id: load.box for load in circuit.loads}
    box_of |= {driver.id: driver.box for driver in circuit.drivers}
    box_of |= {control.id: control.box for control in circuit.controls}
    changing: set[str] = set()
    for subject in (*(finding.subject for finding in ready.unknown), *ready.untold):
        box = box_of.get(subject)
        if box is not None:
            changing.update(cable.id for cable in (*tree.path(box), *tree.cables_at.get(box, ())))
        elif subject in tree.box:
            changing.update(cable.id for cable in tree.cables_at.get(subject, ()))
        elif any(cable.id == subject for cable in circuit.cables):
            changing.add(subject)
        else:
            return ()
    added = [cable.id for cable in tree.branch_cables if cable.is_added]
    return tuple(cable for cable in added if cable not in changing)


def _added(circuit: Circuit) -> frozenset[str]:
    added = {box.id for box in circuit.boxes if box.is_added}
    added |= {cable.id for cable in circuit.cables if cable.is_added}
    added |= {load.id for load in circuit.loads if load.is_added}
    added |= {control.id for control in circuit.controls if control.is_added}
    added |= {driver.id for driver in circuit.drivers if driver.is_added}
    return frozenset(added | {light.id for light in circuit.low_voltage_loads if light.is_added})
