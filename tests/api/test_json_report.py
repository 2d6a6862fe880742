"""The JSON report has the promised keys, loses nothing of a finding, and its schema is current."""

import json
from dataclasses import asdict, fields
from pathlib import Path

import pytest

from circuitcheck.api.json_report import report_json
from circuitcheck.api.report_shape import (
    FindingEntry,
    GuessEntry,
    PartEntry,
    ReportEntry,
    RoomLeftEntry,
    SourceEntry,
    UnknownEntry,
    report_schema,
)
from circuitcheck.cli.sources import check_file
from circuitcheck.findings import Finding, Guess, Outcome, Part, Report, RoomLeft, Source, Status, Unknown, Verdict

ROOT = Path(__file__).parents[2]


def test_promised_keys() -> None:
    finding = Finding(
        check="box-fill",
        subject="attic",
        outcome=Outcome.FAIL,
        says="One sentence.",
        value=16.0,
        limit=15.5,
        unit="in^3",
        low=16.0,
        high=16.0,
        working=("6 insulated 14 AWG x 2.00 = 12.00",),
        sources=(Source("NFPA 70", "2023", "314.16(B)", Status.PUBLISHED, "a page"),),
    )
    report = Report(
        file="gallery.circuit.toml",
        title="Lights",
        rulebook="nec-2023",
        verdict=Verdict.DOES_NOT_FIT,
        findings=(finding,),
        cautions=("c",),
        unknowns=(Unknown("cable.feed.length", True, "measure it", "cable.feed.length"),),
    )
    document = json.loads("".join(report_json(report)))
    assert document["report"] == 1
    assert document["verdict"] == "does not fit"
    promised = {"report", "file", "rulebook", "verdict", "findings", "cautions", "unknowns"}
    assert promised <= document.keys()
    (found,) = document["findings"]
    promised = {
        "check", "subject", "outcome", "value", "limit", "unit", "low", "high", "says", "working", "sources", "needs",
    }  # fmt: skip
    assert promised <= found.keys()
    assert (found["outcome"], found["value"], found["limit"], found["unit"]) == ("fail", 16.0, 15.5, "in^3")
    assert {key: found["sources"][0][key] for key in ("document", "edition", "place", "status")} == {
        "document": "NFPA 70",
        "edition": "2023",
        "place": "314.16(B)",
        "status": "published",
    }
    assert document["unknowns"] == [
        {
            "key": "cable.feed.length",
            "decides": True,
            "how_to_find": "measure it",
            "written": "cable.feed.length",
            "visit": "",
            "alone": None,
            "settles": None,
            "ends": None,
            "checks": [],
        }
    ]
    assert "chosen" not in found


def test_wire_size_has_its_own_keys() -> None:
    finding = Finding(
        check="wire-size",
        subject="new",
        outcome=Outcome.PASS,
        says="s",
        chosen="14 AWG",
        smallest="14 AWG",
        decided_by="x",
    )
    report = Report(file="f", title="t", rulebook="nec-2023", verdict=Verdict.FITS, findings=(finding,))
    (found,) = json.loads("".join(report_json(report)))["findings"]
    assert (found["chosen"], found["smallest"], found["decided_by"], found["value"]) == ("14 AWG", "14 AWG", "x", None)


def test_wire_size_has_its_keys_even_where_nothing_fits() -> None:
    finding = Finding(
        check="wire-size", subject="new", outcome=Outcome.UNDETERMINED, says="s", needs=("cable.new.size",)
    )
    report = Report(file="f", title="t", rulebook="nec-2023", verdict=Verdict.UNDETERMINED, findings=(finding,))
    (found,) = json.loads("".join(report_json(report)))["findings"]
    assert (found["chosen"], found["smallest"], found["decided_by"]) == (None, None, None)


def test_nothing_of_a_finding_is_lost() -> None:
    for entry, inner in (
        (FindingEntry, Finding),
        (SourceEntry, Source),
        (PartEntry, Part),
        (UnknownEntry, Unknown),
        (GuessEntry, Guess),
        (RoomLeftEntry, RoomLeft),
    ):
        assert set(entry.model_fields) == {field.name for field in fields(inner) if field.init}


def test_nothing_of_a_report_is_lost() -> None:
    """``stop`` picks findings out of ``findings``, where each carries its own ``stop``."""
    assert set(ReportEntry.model_fields) - {"report", "tool"} == {field.name for field in fields(Report)} - {"stop"}


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.circuit.toml")), ids=lambda path: path.name)
@pytest.mark.parametrize("finding_a_line", [False, True])
def test_what_is_written_has_the_shape_and_the_content(path: Path, finding_a_line: bool) -> None:
    report = check_file(str(path)).report
    text = "".join(report_json(report, finding_a_line=finding_a_line))
    assert text.isascii()
    assert len(text.splitlines()) == (len(report.findings) + 2 if finding_a_line else 1)
    read = ReportEntry.model_validate_json(text)
    for entry, inner in (
        *zip(read.findings, report.findings, strict=True),
        *zip(read.unknowns, report.unknowns, strict=True),
        *zip(read.guesses, report.guesses, strict=True),
    ):
        assert plain(entry.model_dump()) == plain(asdict(inner))
    assert (read.file, read.title, read.rulebook) == (report.file, report.title, report.rulebook)
    assert (read.verdict, tuple(read.cautions)) == (report.verdict, report.cautions)


def plain(value: object) -> object:
    """Nested dicts and lists with numbers to ten digits, so that a finding and its entry can be compared."""
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items() if key != "_hash"}  # a source keeps its own
    if isinstance(value, (list, tuple)):
        return [plain(inner) for inner in value]
    return float(f"{value:.10g}") if isinstance(value, float) else value


def test_a_report_without_findings() -> None:
    report = Report(file="f", title="t", rulebook="nec-2023", verdict=Verdict.FITS, findings=())
    for finding_a_line in (False, True):
        assert json.loads("".join(report_json(report, finding_a_line=finding_a_line)))["findings"] == []


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf")])
def test_a_number_that_is_not_finite_is_never_written(number: float) -> None:
    finding = Finding(check="c", subject="s", outcome=Outcome.PASS, says="s", value=number)
    report = Report(file="f", title="t", rulebook="nec-2023", verdict=Verdict.FITS, findings=(finding,))
    with pytest.raises(ValueError, match="JSON"):
        "".join(report_json(report))


def test_the_schema_is_current() -> None:
    assert json.loads((ROOT / "docs" / "report.schema.json").read_text("utf-8")) == report_schema()


def test_the_schema_asks_for_what_is_promised() -> None:
    schema = report_schema()
    assert {"report", "file", "rulebook", "verdict", "findings", "cautions", "unknowns"} <= set(schema["required"])
    required = set(schema["$defs"]["FindingEntry"]["required"])
    assert {"check", "subject", "outcome", "value", "limit", "unit", "low", "high", "says", "needs"} <= required
    assert not required & {"chosen", "smallest", "decided_by"}
