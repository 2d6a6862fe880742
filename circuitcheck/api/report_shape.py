"""The shape of the JSON report, from which ``docs/report.schema.json`` is made; tests hold written reports to it."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field, FiniteFloat

from circuitcheck.findings import Outcome, Reading, Status, Verdict


class _Door(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SourceEntry(_Door):
    """Where a value stands, and how sure that is."""

    document: str
    edition: str
    place: str
    status: Status
    checked: str = Field(description="what the value was compared with, or the formula it comes from; may be empty")
    read: Reading | None = Field(description="whether what it was compared with was the text itself or somebody's word")


class PartEntry(_Door):
    """One share of a finding's value, in the finding's unit."""

    name: str
    value: FiniteFloat
    subject: str = Field(description="id of the load, box or cable, or empty")
    count: FiniteFloat | None = Field(description="how many like things it counts, or null")
    each: FiniteFloat | None = Field(description="what each of them takes, or null")


class FindingEntry(_Door):
    """One answer of one check about one part of the circuit."""

    check: str
    subject: str
    outcome: Outcome
    value: FiniteFloat | None = Field(description="the worse of low and high, in unit")
    limit: FiniteFloat | None
    unit: str | None
    low: FiniteFloat | None
    high: FiniteFloat | None
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
    to_come: bool = Field(description="only work that is still to be done decides: a line of a checklist")
    already_so: bool = Field(description="it was so before the work, of a file that plans changes")
    cause: str = Field(description="findings of one cause share this text; empty where a finding stands for itself")
    chosen: str | None = Field(default=None, description="wire-size only")
    smallest: str | None = Field(default=None, description="wire-size only")
    decided_by: str | None = Field(default=None, description="wire-size only: the check that decides")
    at_least: bool = Field(default=False, description="the limit is the least that the value may be, not the most")


class UnknownEntry(_Door):
    """A key that some finding had to do without."""

    key: str
    decides: bool = Field(description="whether finding it out can settle an undetermined answer")
    how_to_find: str
    written: str = Field(description="what the file calls the key as it is written: another name in a short form")
    visit: str = Field(description="where one goes for it: panel, room, attic, box, carton, plan, permit office …")
    alone: bool | None = Field(description="whether this one alone can end the job; null where nobody tried")
    settles: str | None = Field(description="the values at which it settles open answers well")
    ends: str | None = Field(description="the values at which it alone ends the job")
    checks: list[tuple[str, str]] = Field(description="the open answers that it turns by itself: check and subject")


class VisitEntry(_Door):
    """How many open answers one visit settles by itself."""

    visit: str
    settles: int


class RoomLeftEntry(_Door):
    """How much more there is room for: so much passes, and a little more does not."""

    of: str = Field(description="the part, such as box.attic or supply")
    kind: str = Field(description="of what: load, conductors, more of this, feet to a light …")
    amount: float | None = Field(description="null where it is open already whether the check passes: not zero")
    unit: str | None
    check: str = Field(description="the check that turns first; empty where none does")
    then: Outcome | None = Field(description="what it answers of a little more; null where amount is or none turns")
    if_listed: bool = Field(description="holds only where every load on the breaker is listed, which is unknown")
    size: str | None = Field(default=None, description="of conductors")


class GuessEntry(_Door):
    """A value that the file marks as guessed."""

    key: str
    written: str
    stands_for: str


class FaultEntry(_Door):
    """A fault of the program: a check that could not be done. The verdict is then never ``fits``."""

    check: str
    says: str


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
    least_questions: list[str] = Field(description="a least set of keys that settles all, if they turn out well")
    visits: list[VisitEntry]
    room_left: list[RoomLeftEntry] = Field(description="in the report of one file, or with --advice")
    faults: list[FaultEntry]
    not_judged: list[str] = Field(description="checks that the rulebook has nothing to judge by")


class ProblemEntry(_Door):
    """One thing that is wrong with a circuit file."""

    line: int | None = Field(description="counted from 1; null where it is not known")
    key: str = Field(description="such as cable.feed.length; may be empty")
    says: str
    given: str = Field(description="what stands in the file; may be empty")
    allowed: str = Field(description="what may stand there; may be empty")
    nearest: str | None = Field(description="what was most likely meant, where that is clear")


class ProblemsEntry(_Door):
    """What ``circuitcheck check --json`` prints for a file that cannot be used."""

    report: Literal[1]
    file: str
    problems: list[ProblemEntry]


#: Keys that only some findings have.
_NOT_ALWAYS = ("chosen", "smallest", "decided_by", "at_least")


def report_schema() -> dict[str, Any]:
    """The JSON schema of the report (draft 2020-12)."""
    schema = ReportEntry.model_json_schema(mode="serialization")
    finding = schema["$defs"]["FindingEntry"]
    finding["required"] = [key for key in finding["required"] if key not in _NOT_ALWAYS]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def problems_schema() -> dict[str, Any]:
    """The JSON schema of the document for a wrong file (draft 2020-12)."""
    schema = ProblemsEntry.model_json_schema(mode="serialization")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
