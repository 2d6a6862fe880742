"""The JSON report has the promised keys, loses nothing of a finding, and its schema is current."""

import json
from dataclasses import fields
from pathlib import Path

from circuitcheck.cli.json_report import (
    FindingEntry,
    GuessEntry,
    PartEntry,
    SourceEntry,
    UnknownEntry,
    report_json,
    report_schema,
)
from circuitcheck.findings import Finding, Guess, Outcome, Part, Report, Source, Status, Unknown, Verdict

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
        unknowns=(Unknown("cable.feed.length", True, "measure it"),),
    )
    document = json.loads(report_json(report))
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
    assert document["unknowns"] == [{"key": "cable.feed.length", "decides": True, "how_to_find": "measure it"}]
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
    (found,) = json.loads(report_json(report))["findings"]
    assert (found["chosen"], found["smallest"], found["decided_by"], found["value"]) == ("14 AWG", "14 AWG", "x", None)


def test_nothing_of_a_finding_is_lost() -> None:
    for entry, inner in (
        (FindingEntry, Finding),
        (SourceEntry, Source),
        (PartEntry, Part),
        (UnknownEntry, Unknown),
        (GuessEntry, Guess),
    ):
        assert set(entry.model_fields) == {field.name for field in fields(inner)}


def test_the_schema_is_current() -> None:
    assert json.loads((ROOT / "docs" / "report.schema.json").read_text("utf-8")) == report_schema()


def test_the_schema_asks_for_what_is_promised() -> None:
    schema = report_schema()
    assert {"report", "file", "rulebook", "verdict", "findings", "cautions", "unknowns"} <= set(schema["required"])
    required = set(schema["$defs"]["FindingEntry"]["required"])
    assert {"check", "subject", "outcome", "value", "limit", "unit", "low", "high", "says", "needs"} <= required
    assert not required & {"chosen", "smallest", "decided_by"}
