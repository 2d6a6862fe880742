"""What a search for fixes found: each fix as it was carried out and checked again, and why there is none."""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.advice.fixes.step import Step
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Fault, Outcome, Report

#: A check and what it speaks about.
Subject = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Fix:
    """Steps that were carried out together in memory and re-checked in full.

    clears: check and subject of what no longer fails or is no longer open. leaves: what still fails or stays open.
    brings: new cautions, and answers that are open now because a step makes something unknown.
    """

    steps: tuple[Step, ...]
    circuit: Circuit
    report: Report
    clears: tuple[Subject, ...]
    leaves: tuple[Subject, ...]
    brings: tuple[tuple[str, str, Outcome], ...]

    @property
    def key(self) -> frozenset[str]:
        """The same for two fixes that do the same."""
        return frozenset(step.key for step in self.steps)

    @property
    def costs(self) -> tuple[int, int, float, int, int]:
        """For ordering: what fails still and what is open anew, how many things are touched and what they cost, what
        stays open, and new cautions.
        """
        open_now = sum(outcome is Outcome.UNDETERMINED for _, _, outcome in self.brings)
        fails = sum(finding.outcome is Outcome.FAIL for finding in self.report.findings)
        cost = sum(step.costs for step in self.steps)
        return fails + open_now, len(self.steps), cost, len(self.leaves), len(self.brings)


@dataclass(frozen=True, slots=True)
class Fixes:
    """What the search found, the smallest first, and what it says where it found none.

    faults: checks that could not be done of the circuit itself, or of one that was changed: that change is no fix.
    """

    fixes: tuple[Fix, ...]
    other_ways: tuple[str, ...] = ()
    why_none: str | None = None
    faults: tuple[Fault, ...] = ()
