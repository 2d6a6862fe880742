"""Fixes as Python users hold them and as JSON: numbered, each with what it clears, leaves and brings."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from circuitcheck.advice.fixes import found
from circuitcheck.advice.fixes.changes import changes_of
from circuitcheck.api.circuit import Circuit
from circuitcheck.api.report import Report
from circuitcheck.circuit import model
from circuitcheck.circuit.edits import Edit
from circuitcheck.findings import Fault


@dataclass(frozen=True)
class Fix:
    """One fix: ``n`` is its number, ``circuit`` and ``report`` are what it was carried out on and re-checked as."""

    n: int
    _fix: found.Fix
    _found: model.Circuit

    @property
    def says(self) -> tuple[str, ...]:
        """What is done, a sentence a step."""
        return tuple(step.says for step in self._fix.steps)

    @property
    def circuit(self) -> Circuit:
        """The circuit with the fix in it."""
        return Circuit(self._fix.circuit)

    @property
    def report(self) -> Report:
        """The report of that circuit."""
        return Report(self._fix.report)

    @property
    def edits(self) -> tuple[Edit, ...]:
        """What it changes in the file. Not promised: its shape may change without notice."""
        return tuple(edit for step in self._fix.steps for edit in step.edits)

    def to_dict(self) -> dict[str, Any]:
        """As ``circuitcheck fixes --json`` has it."""
        fix = self._fix
        return {
            "n": self.n,
            "verdict": str(fix.report.verdict),
            "clears": [{"check": check, "subject": subject} for check, subject in fix.clears],
            "leaves": [{"check": check, "subject": subject} for check, subject in fix.leaves],
            "brings": [
                {"check": check, "subject": subject, "outcome": str(outcome)} for check, subject, outcome in fix.brings
            ],
            "changes": list(changes_of(fix.steps, self._found)),
        }


@dataclass(frozen=True)
class Fixes:
    """What was found for one circuit, the smallest change first. It can be counted and looped over."""

    _fixes: found.Fixes
    _found: model.Circuit

    @cached_property
    def _numbered(self) -> tuple[Fix, ...]:
        return tuple(Fix(number, fix, self._found) for number, fix in enumerate(self._fixes.fixes, start=1))

    @property
    def other_ways(self) -> tuple[str, ...]:
        """What is no change to the plan: told, and not numbered."""
        return self._fixes.other_ways

    @property
    def why_none(self) -> str | None:
        """Why there is no fix; None where there is one."""
        return self._fixes.why_none

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Checks that could not be done, of the circuit or of a changed one: what was changed there is no fix."""
        return self._fixes.faults

    def to_dict(self) -> dict[str, Any]:
        """As ``circuitcheck fixes --json`` prints it."""
        return {
            "fixes": [fix.to_dict() for fix in self._numbered],
            "other_ways": list(self.other_ways),
            "why_none": self.why_none,
            "faults": [{"check": fault.check, "says": fault.says} for fault in self.faults],
        }

    def to_json(self) -> str:
        """The same as one line of JSON, in plain ASCII."""
        return json.dumps(self.to_dict(), allow_nan=False)

    def __len__(self) -> int:
        """How many fixes there are."""
        return len(self._numbered)

    def __iter__(self) -> Iterator[Fix]:
        """The fixes by their numbers."""
        return iter(self._numbered)

    def __getitem__(self, place: int) -> Fix:
        """The fix at a place, counted from 0; its number is one more."""
        return self._numbered[place]
