"""The report: verdict, order, unknowns, cautions; and the same answer every time."""

import itertools
from pathlib import Path

import pytest

from circuitcheck.case import EvidenceRule
from circuitcheck.checking import check, worst_first
from circuitcheck.circuit.model import Circuit, Job, Supply
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Finding, Outcome, Source, Status, Verdict
from circuitcheck.quantities import Interval
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

BOOK = load_rulebook("nec-2023")
CIRCUIT = Circuit(
    file="trial",
    job=Job(title="Trial", rulebook="nec-2023"),
    supply=Supply(voltage_v=Interval(120, 120), breaker_a=Interval(15, 15)),
)
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.circuit.toml"))


def rule_of(*findings: Finding) -> EvidenceRule:
    return EvidenceRule(name="trial", title="Trial", rank=1, check=lambda circuit, book: findings)


def said(outcome: Outcome, subject: str = "a", **fields) -> Finding:
    return Finding(check="trial", subject=subject, outcome=outcome, says="A sentence.", **fields)


def test_verdict_is_the_worst_that_is_certain() -> None:
    expected = {
        (): Verdict.FITS,
        (Outcome.PASS, Outcome.CAUTION): Verdict.FITS,
        (Outcome.CAUTION, Outcome.UNDETERMINED): Verdict.UNDETERMINED,
        (Outcome.UNDETERMINED, Outcome.FAIL, Outcome.PASS): Verdict.DOES_NOT_FIT,
    }
    for outcomes, verdict in expected.items():
        for order in itertools.permutations(outcomes):
            assert check(CIRCUIT, BOOK, [rule_of(*map(said, order))]).verdict is verdict


def test_stop_comes_first_and_the_rest_keeps_the_order_of_the_rules() -> None:
    report = check(
        CIRCUIT,
        BOOK,
        [
            rule_of(said(Outcome.PASS, "one"), said(Outcome.FAIL, "two")),
            rule_of(said(Outcome.FAIL, "stop", stop=True), said(Outcome.CAUTION, "three")),
        ],
    )
    assert [finding.subject for finding in report.findings] == ["stop", "one", "two", "three"]
    assert [finding.subject for finding in report.stop] == ["stop"]
    assert [finding.subject for finding in worst_first(report.findings)] == ["stop", "two", "three", "one"]


def test_unknowns_say_whether_they_decide() -> None:
    report = check(
        CIRCUIT,
        BOOK,
        [
            rule_of(
                said(Outcome.PASS, assumed_keys=("box.attic.internal_clamps", "cable.feed.length")),
                said(Outcome.UNDETERMINED, needs=("cable.feed.length",), assumed_keys=("supply.terminals",)),
                said(Outcome.CAUTION, needs=("cable.new.free_length",)),
            )
        ],
    )
    assert {unknown.key: unknown.decides for unknown in report.unknowns} == {
        "cable.feed.length": True,
        "box.attic.internal_clamps": False,
        "supply.terminals": False,
        "cable.new.free_length": False,
    }
    assert report.unknowns[0].decides
    assert all(unknown.how_to_find for unknown in report.unknowns)


def test_cautions_name_what_is_not_certain() -> None:
    memory = Source("NFPA 70", "2023", "402.5", Status.FROM_MEMORY)
    practice = Source("common practice", "", "", Status.COMMON_PRACTICE)
    published = Source("NFPA 70", "2023", "310.16", Status.PUBLISHED, "a page")
    report = check(
        CIRCUIT,
        BOOK,
        [rule_of(said(Outcome.PASS, sources=(memory, practice, published), assumed=("Clamps count.",)))],
    )
    joined = " ".join(report.cautions)
    assert "NFPA 70 2023 402.5" in joined
    assert "310.16" not in joined
    assert "common practice" in joined
    assert "trial" in joined
    assert "Clamps count." in report.cautions


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_the_same_circuit_gives_the_same_report(path: Path) -> None:
    first, second = (read_file(path, vocabulary()) for _ in range(2))
    book = load_rulebook(first.job.rulebook)
    assert check(first, book) == check(second, book) == check(first, book)
