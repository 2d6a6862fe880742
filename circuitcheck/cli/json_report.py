"""The report as JSON for scripts: the one shape that ``docs/report.schema.json`` describes."""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, FiniteFloat

from circuitcheck import __version__
from circuitcheck.findings import Outcome, Report, Status, Verdict

#: Ten digits: far more than any table prints, and without the noise of converting units and back.
Number = Annotated[FiniteFloat, AfterValidator(lambda value: float(f"{value:.10g}"))]


class _Door(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, from_attributes=True)


class SourceEntry(_Door):
    """Where a value stands, and how sure that is."""

    document: str
    edition: str
    place: str
    status: Status
    checked: str = Field(description="what the value was compared with, or the formula it comes from; may be empty")


class PartEntry(_Door):
    """One share of a finding's value, in the finding's unit."""

    name: str
    value: Number
    subject: str = Field(description="id of the load, box or cable, or empty")


class FindingEntry(_Door):
    """One answer of one check about one part of the circuit."""

    check: str
    subject: str
    outcome: Outcome
    value: Number | None = Field(description="the worse of low and high, in unit")
    limit: Number | None
    unit: str | None
    low: Number | None
    high: Number | None
    says: str = Field(description="one plain sentence")
    working: list[str]
    sources: list[SourceEntry]
    needs: list[str] = Field(description="keys to find out before this can be answered")
    assumed: list[str] = Field(description="worst cases taken for unknown keys, in words")
    assumed_keys: list[str]
    keys: list[str] = Field(description="entries of the file that decide this finding")
    parts: list[PartEntry]
    to_do: list[str]
    ask: list[str] = Field(description="questions for the electrician or the inspector")
    stop: bool = Field(description="ends the job for someone who is not an electrician")
    chosen: str | None = Field(default=None, description="wire-size only")
    smallest: str | None = Field(default=None, description="wire-size only")
    decided_by: str | None = Field(default=None, description="wire-size only: the check that decides")


class UnknownEntry(_Door):
    """A key that some finding had to do without."""

    key: str
    decides: bool = Field(description="whether finding it out can settle an undetermined answer")
    how_to_find: str


class GuessEntry(_Door):
    """A value that the file marks as guessed."""

    key: str
    written: str
    stands_for: str


class ReportEntry(_Door):
    """Everything that ``circuitcheck check`` has to say about one circuit."""

    report: Literal[1] = Field(description="version of this shape; adding a key does not change it")
    tool: str = Field(description="version of circuitcheck")
    file: str
    title: str
    rulebook: str
    verdict: Verdict
    findings: list[FindingEntry]
    cautions: list[str]
    unknowns: list[UnknownEntry]
    guesses: list[GuessEntry]


_ONLY_WIRE_SIZE = ("chosen", "smallest", "decided_by")


def report_entry(report: Report) -> ReportEntry:
    """The report in the shape of the door. Raises: pydantic.ValidationError on a number that is not finite."""
    return ReportEntry(
        report=1,
        tool=__version__,
        file=report.file,
        title=report.title,
        rulebook=report.rulebook,
        verdict=report.verdict,
        findings=[FindingEntry.model_validate(finding) for finding in report.findings],
        cautions=list(report.cautions),
        unknowns=[UnknownEntry.model_validate(unknown) for unknown in report.unknowns],
        guesses=[GuessEntry.model_validate(guess) for guess in report.guesses],
    )


def report_json(report: Report, *, indent: int | None = None) -> str:
    """The report as one JSON document, in plain ASCII; on one line unless ``indent`` is given."""
    document = report_entry(report).model_dump(mode="json")
    for finding in document["findings"]:
        for key in _ONLY_WIRE_SIZE:
            if finding[key] is None:
                del finding[key]
    return json.dumps(document, indent=indent, allow_nan=False)


def report_schema() -> dict[str, Any]:
    """The JSON schema of the report (draft 2020-12)."""
    schema = ReportEntry.model_json_schema(mode="serialization")
    finding = schema["$defs"]["FindingEntry"]
    finding["required"] = [key for key in finding["required"] if key not in _ONLY_WIRE_SIZE]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
