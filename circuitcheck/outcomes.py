"""The word and the mark of each answer, and what a check and its subject are called, for every page and screen.

The marks differ in shape: no color is needed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.findings import Finding, Outcome, Verdict
from circuitcheck.refs import Ref

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


def told_value(finding: Finding) -> tuple[str, float | None]:
    """A finding's number, and what stands before it: ``at least`` where it has no bound and is the best of it."""
    if not finding.is_without_bound:
        return "", finding.value
    return ("at most ", finding.high) if finding.at_least else ("at least ", finding.low)


#: What people call a part whose name does not say what it is; a light or a driver is called so in its name.
PART_WORD = {"box": "box", "cable": "cable", "control": "switch"}

#: Checks whose name, with spaces in it, would say nothing to a reader.
_CHECK_WORDS = {
    "stop-first": "danger signs",
    "who-may": "who may do the work",
    "loads-complete": "complete list of loads",
    "extend-circuit": "extending the circuit",
    "arc-fault": "arc-fault protection",
    "ground-fault": "ground-fault protection",
    "class-2": "class 2 limits",
}


def check_words(check: str) -> str:
    """The name of a check as words: ``box fill``."""
    return _CHECK_WORDS.get(check) or check.replace("-", " ")


def answer_words(finding: Finding) -> str:
    """A check and what it is about, as people say it: ``box fill, box "attic"``."""
    return f"{check_words(finding.check)}{about((finding,))}"


def about(findings: Sequence[Finding]) -> str:
    """What findings of one check are about: ``, box "attic"``; nothing for the circuit as a whole."""
    told: dict[str, list[str]] = {}
    for finding in findings:
        if finding.subject != "circuit":
            told.setdefault(_part_word(finding), []).append(f'"{finding.subject}"')
    return "".join(f", {word}{' ' if word else ''}{', '.join(dict.fromkeys(names))}" for word, names in told.items())


def _part_word(finding: Finding) -> str:
    """What kind of part a finding is about, by the entries that it names; empty where none tells."""
    paths: Iterable[str] = (*finding.keys, *finding.needs, *finding.assumed_keys)
    for path in paths:
        part = Ref.of_part(path)
        if part.id.startswith(f"{finding.subject}."):
            return PART_WORD.get(part.section, "")
    return ""
