"""A report as Python users hold it: short to look at, with everything in it, and the same as the JSON."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields
from functools import cached_property
from typing import TYPE_CHECKING, Any, Literal

from circuitcheck import findings
from circuitcheck.api.html import paragraphs_html, table_html
from circuitcheck.findings import SEVERITY, Fault, Guess, Outcome, Unknown, Verdict
from circuitcheck.outcomes import VERDICT_WORD, heading_word, told_value
from circuitcheck.quantities import beside_limit, safe_limit
from circuitcheck.safety import SHORT
from circuitcheck.text import shown_number, shown_text

if TYPE_CHECKING:
    from circuitcheck.quantities.asked import Quantity

Amount = Literal["value", "limit", "low", "high"]

_COUNTED = {
    Outcome.FAIL: "failing",
    Outcome.UNDETERMINED: "cannot tell",
    Outcome.CAUTION: "cautions",
    Outcome.PASS: "passing",
}


@dataclass(frozen=True, repr=False, kw_only=True)
class Finding(findings.Finding):
    """One answer of one check about one part of the circuit; the report's schema describes every field."""

    def quantity(self, of: Amount = "value") -> Quantity | None:
        """The value, its limit or an end of its range as a pint quantity; None where the finding has no number.

        Raises: ValueError for another name.
        """
        if of not in ("value", "limit", "low", "high"):
            raise ValueError(f"{of!r} is none of value, limit, low and high")
        number: float | None = getattr(self, of)
        if number is None:
            return None
        from circuitcheck.quantities.asked import quantity_in

        return quantity_in(number, self.unit or "")

    def __repr__(self) -> str:
        """Outcome, check and subject, with the numbers."""
        return f"<Finding {self.outcome}: {self.check}, {shown_text(self.subject)}{_numbers(self)}>"


class Report:
    """Everything there is to say about one circuit under one edition. The fields are those of the JSON report."""

    def __init__(self, held: findings.Report) -> None:
        """``held`` is what the checks gave."""
        self._held = held

    @property
    def file(self) -> str:
        """The circuit file."""
        return self._held.file

    @property
    def title(self) -> str:
        """What the job is called."""
        return self._held.title

    @property
    def rulebook(self) -> str:
        """The edition it was checked under."""
        return self._held.rulebook

    @property
    def verdict(self) -> Verdict:
        """``fits``, ``does not fit`` or ``undetermined``; it compares equal to that text."""
        return self._held.verdict

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding; those that stop the job come first."""
        names = [field.name for field in fields(findings.Finding)]
        return tuple(Finding(**{name: getattr(finding, name) for name in names}) for finding in self._held.findings)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to keep in mind."""
        return self._held.cautions

    @property
    def unknowns(self) -> tuple[Unknown, ...]:
        """What some check had to do without, what decides an open answer first."""
        return self._held.unknowns

    @property
    def guesses(self) -> tuple[Guess, ...]:
        """What the file marks as guessed."""
        return self._held.guesses

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Checks in which the program itself failed: their answer is missing, and the verdict is never ``fits``."""
        return self._held.faults

    @property
    def not_judged(self) -> tuple[str, ...]:
        """Checks that the rulebook has nothing to judge by, and says so."""
        return self._held.not_judged

    def __iter__(self) -> Iterator[Finding]:
        """The findings."""
        return iter(self.findings)

    def __len__(self) -> int:
        """How many findings there are."""
        return len(self._held.findings)

    def of(self, check: str, subject: str | None = None) -> tuple[Finding, ...]:
        """The findings of one check, about one subject where it is given."""
        return tuple(
            finding for finding in self.findings if finding.check == check and subject in (None, finding.subject)
        )

    def rows(self) -> list[dict[str, Any]]:
        """A row for each finding, the worst first, ready for a table."""
        ordered = sorted(self.findings, key=lambda finding: (not finding.stop, SEVERITY[finding.outcome]))
        return [
            {
                "outcome": str(finding.outcome),
                "check": finding.check,
                "subject": finding.subject,
                "value": finding.value,
                "limit": finding.limit,
                "unit": finding.unit,
                "says": finding.says,
            }
            for finding in ordered
        ]

    def to_dict(self) -> dict[str, Any]:
        """The report as plain dicts, lists, texts and numbers, the same that ``circuitcheck check --json`` prints.

        That command adds the advice where it has one file: ``check(circuit, advice=True)``.
        """
        document: dict[str, Any] = json.loads(self.to_json())
        return document

    def to_json(self) -> str:
        """The report as one line of JSON, in the shape of docs/report.schema.json."""
        from circuitcheck.api.json_report import report_json

        return "".join(report_json(self._held))

    def __repr__(self) -> str:
        """Verdict and how many findings of each kind."""
        return f"<Report {VERDICT_WORD[self.verdict]} ({self.rulebook}): {self._counts()}>"

    def _counts(self) -> str:
        counts = Counter(finding.outcome for finding in self._held.findings)
        return ", ".join(f"{counts[outcome]} {_COUNTED[outcome]}" for outcome in SEVERITY if counts[outcome])

    def _repr_html_(self) -> str:
        """Verdict, a table of what does not pass, and the cautions, for notebooks."""
        ordered = sorted(self.findings, key=lambda finding: (not finding.stop, SEVERITY[finding.outcome]))
        rows = [
            {
                "": heading_word(finding),
                "check": finding.check,
                "part": finding.subject,
                "what it says": finding.says,
                "value": _amounts(finding)[0],
                "limit": _amounts(finding)[1],
            }
            for finding in ordered
            if finding.outcome is not Outcome.PASS
        ]
        head = f"{self.title}: {VERDICT_WORD[self.verdict]} ({self.rulebook}; {self._counts()})"
        table = table_html(head, rows) if rows else paragraphs_html([head])
        return table + paragraphs_html(SHORT)


def _amounts(finding: findings.Finding) -> tuple[str, str]:
    """The value and its limit with their unit, each empty where there is none."""
    (word, value), limit = told_value(finding), finding.limit
    if value is not None and limit is not None:
        numbers = beside_limit(value, limit, at_least=finding.at_least)
    else:
        numbers = (
            "" if value is None else shown_number(value),
            "" if limit is None else safe_limit(limit, at_least=finding.at_least),
        )
    first, last = (f"{number} {finding.unit or ''}".rstrip() if number else "" for number in numbers)
    return f"{word}{first}", last


def _numbers(finding: findings.Finding) -> str:
    if finding.value is None:
        return ""
    value, limit = _amounts(finding)
    return f", {value} (limit {limit})" if limit else f", {value}"
