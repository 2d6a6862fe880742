"""The word and the mark of each answer, for every page and screen. They differ in shape: no colour is needed."""

from __future__ import annotations

from circuitcheck.findings import Finding, Outcome, Verdict

OUTCOME_WORD: dict[Outcome, str] = {
    Outcome.FAIL: "FAIL",
    Outcome.UNDETERMINED: "CANNOT TELL",
    Outcome.CAUTION: "CAUTION",
    Outcome.PASS: "PASS",
}

OUTCOME_MARK: dict[Outcome, str] = {
    Outcome.FAIL: "✗",
    Outcome.UNDETERMINED: "?",
    Outcome.CAUTION: "!",
    Outcome.PASS: "✓",
}

VERDICT_WORD: dict[Verdict, str] = {
    Verdict.DOES_NOT_FIT: "DOES NOT FIT",
    Verdict.UNDETERMINED: "CANNOT TELL YET",
    Verdict.FITS: "FITS ON PAPER",
}

STOP_WORD = "STOP"


def heading_word(finding: Finding) -> str:
    """Mark and word of a finding: ``✗ FAIL``, ``✗ STOP`` for one that ends the job."""
    return f"{OUTCOME_MARK[finding.outcome]} {STOP_WORD if finding.stop else OUTCOME_WORD[finding.outcome]}"
