"""Whole circuit files with the answer that an inspector would give, written without a look at the rules.

Each ``<name>.circuit.toml`` has a ``<name>.expected.toml`` beside it: the line of the list of right answers that it
shows, the verdicts allowed, what single findings have to say, the entries that must be asked for (``asks``), listed as
assumed at least (``told``) or named as not fitting together (``names``), why, and the text that says so.
``not-yet.toml`` lists the cases that are answered otherwise today; a line is struck there when the rule is corrected,
and the test fails until it is.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from circuitcheck.case import EvidenceRule
from circuitcheck.case.making import case_of
from circuitcheck.checking import check
from circuitcheck.circuit.guide import key_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_found, as_planned
from circuitcheck.circuit.reader import read_file
from circuitcheck.errors import CircuitFileError
from circuitcheck.findings import Finding, Outcome, Report, exceeds
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

HERE = Path(__file__).parent
NAMES = sorted(path.name.removesuffix(".circuit.toml") for path in HERE.glob("*.circuit.toml"))
NOT_YET: dict[str, Any] = tomllib.loads((HERE / "not-yet.toml").read_text("utf-8"))

#: what an expected file may say
EXPECTED_KEYS = {"line", "verdict", "finding", "asks", "told", "names", "problem", "reasoning", "source"}
FINDING_KEYS = {
    "check",
    "subject",
    "outcome",
    "not_outcome",
    "value",
    "limit",
    "within",
    "value_at_least",
    "value_at_most",
    "stop",
}
OUTCOMES = {outcome.value for outcome in Outcome}
VERDICTS = {"fits", "does not fit", "undetermined", "refused"}
#: the numbered lines that these cases have to show, each at least once
LINES = {f"A{number}" for number in range(1, 24)} | {f"B{number}" for number in range(1, 14)}


@cache
def expected_of(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / f"{name}.expected.toml").read_text("utf-8"))


@cache
def answer_of(name: str) -> Report | str:
    """The report of the case, or why its file is refused."""
    try:
        circuit = read_file(HERE / f"{name}.circuit.toml", vocabulary())
    except CircuitFileError as error:
        return "\n".join(f"{problem.key}: {problem.says}" for problem in error.problems)
    return check(circuit, load_rulebook(circuit.job.rulebook))


def as_list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def differences(expected: dict[str, Any], answer: Report | str) -> Iterator[str]:
    """What the answer says otherwise than expected, a line each."""
    verdicts = as_list(expected["verdict"])
    if isinstance(answer, str):
        if "refused" not in verdicts:
            yield f"the file is refused: {answer.splitlines()[0]}"
        elif expected.get("problem", "") not in answer:
            yield f"the refusal does not name {expected['problem']}: {answer}"
        return
    if answer.verdict.value not in verdicts:
        open_or_failed = [f"{each.check} {each.subject}" for each in answer.findings if is_bad(each)]
        yield f"verdict is {answer.verdict.value}, not {' or '.join(verdicts)} ({', '.join(open_or_failed)})"
    for wanted in expected.get("finding", []):
        yield from finding_differences(wanted, answer.findings)
    asked = {key for each in answer.findings if each.outcome is not Outcome.PASS for key in each.needs}
    for key in expected.get("asks", []):
        if not names(key, asked):
            yield f"{key} is not asked"
    undecided = [each for each in answer.findings if each.outcome is Outcome.UNDETERMINED]
    named = {key for each in undecided for key in (*each.needs, *each.keys)}
    for key in expected.get("names", []):
        if not names(key, named):
            yield f"no open answer names {key}"
    told = asked | {unknown.key for unknown in answer.unknowns}
    for key in expected.get("told", []):
        if not names(key, told):
            yield f"{key} is neither asked nor listed as assumed"


def is_bad(finding: Finding) -> bool:
    return finding.outcome in {Outcome.FAIL, Outcome.UNDETERMINED}


def names(key: str, open_keys: Iterable[str]) -> bool:
    """Whether the key, or a part of it (a device of a list of devices), is among the open ones; "a or b": either."""
    keys = key.split(" or ")
    return any(each == option or re.match(re.escape(option) + r"[.\[]", each) for each in open_keys for option in keys)


def finding_differences(wanted: dict[str, Any], findings: Iterable[Finding]) -> Iterator[str]:
    """One wanted finding: at least one of those with its check and subject has to be so, none may be what is barred."""
    checks, subjects = as_list(wanted["check"]), as_list(wanted.get("subject", []))
    of_it = [each for each in findings if each.check in checks and (not subjects or each.subject in subjects)]
    where = f"{' or '.join(checks)} of {' or '.join(subjects) or 'anything'}"
    for barred in as_list(wanted.get("not_outcome", [])):
        yield from (f"{where} is {barred}" for each in of_it if each.outcome.value == barred)
    rest = {key: value for key, value in wanted.items() if key not in {"check", "subject", "not_outcome"}}
    if rest and not any(is_so(rest, each) for each in of_it):
        yield f"{where} is {[(each.outcome.value, each.value, each.limit) for each in of_it]}, not {rest}"


def is_so(wanted: dict[str, Any], finding: Finding) -> bool:
    """Whether the finding has the wanted outcome and numbers."""
    within = wanted.get("within", 0.005)
    if "outcome" in wanted and finding.outcome.value not in as_list(wanted["outcome"]):
        return False
    if "stop" in wanted and finding.stop is not wanted["stop"]:
        return False
    for key, number in (("value", finding.value), ("limit", finding.limit)):
        if key in wanted and (number is None or abs(number - wanted[key]) > within):
            return False
    if "value_at_least" in wanted and (finding.value is None or finding.value < wanted["value_at_least"]):
        return False
    return not ("value_at_most" in wanted and (finding.value is None or finding.value > wanted["value_at_most"]))


#: Checks whose limit is the least that their value may be; of all others it is the most.
AT_LEAST = {
    "bath-zone",
    "box-depth",
    "cable-edge",
    "clearance",
    "dimmer-least-load",
    "driver-least-load",
    "free-conductor",
    "low-voltage-drop",
}
#: Checks that may fail by something else than the number beside their limit.
OTHERWISE = {"ampacity", "class-2", "clearance", "framing-cut"}
#: Checks whose rows are what their value is added up from.
SUMS = {"box-fill", "dimmer-rating", "driver-capacity", "fixed-equipment-share", "load-share"}


def disagreements(answer: Report, voltage_v: float | None) -> Iterator[str]:
    """Where a finding does not agree with its own numbers, or names what is no entry of a file."""
    for each in answer.findings:
        where = f"{each.check} {each.subject}"
        yield from (
            f"{where} names {key}" for key in (*each.keys, *each.needs) if key.count(".") > 1 and not key_of(key)
        )
        if not each.sources or not each.says:
            yield f"{where} names no source, or says nothing"
        if is_bad(each) and not (each.to_do or each.cause):
            yield f"{where} is {each.outcome} and tells nothing to do"
        if each.value is None:
            continue
        if each.limit is not None:
            over = exceeds(each.limit, each.value) if each.check in AT_LEAST else exceeds(each.value, each.limit)
            if (each.outcome is Outcome.PASS and over) or (
                each.outcome is Outcome.FAIL and not over and each.check not in OTHERWISE
            ):
                yield f"{where} is {each.outcome} with {each.value} beside {each.limit}"
        if each.low is not None and each.high is not None and each.value not in (each.low, each.high):
            yield f"{where} is {each.value}, neither {each.low} nor {each.high}"
        yield from not_added_up(each, voltage_v)


def not_added_up(each: Finding, voltage_v: float | None) -> Iterator[str]:
    """Where the rows of a finding do not add up to its value."""
    if each.value is None:
        return
    total = sum(part.value for part in each.parts)
    added_up = each.value if each.check in SUMS and each.unit != "lamps" else None
    if each.check == "voltage-drop" and each.parts and voltage_v is not None:
        added_up = each.value / 100 * voltage_v
    if added_up is not None and abs(total - added_up) > 1e-9 * max(1.0, total):
        yield f"the rows of {each.check} {each.subject} add up to {total}, not {added_up}"


#: Rules about entries themselves ask for what they look at, open or not.
OF_EVIDENCE = {rule.name for rule in ALL_RULES if isinstance(rule, EvidenceRule)}


def asked_of_nobody(answer: Report, circuit: Circuit) -> Iterator[str]:
    """Open answers that name nothing to find out; what is asked for, or assumed, though nothing there is open.

    A rule that finds what is known at odds with itself asks for what decides it, ``keys``, once more.
    What is assumed is said in the words of ``tables/possible`` and its inferences, not in a rule's own.
    """
    book = load_rulebook(circuit.job.rulebook)
    opened = [entry for held in (as_planned(circuit), as_found(circuit)) for entry in case_of(held, book).entries]
    paths, words = {str(entry.ref) for entry in opened}, {entry.possible.assumed for entry in opened} - {""}
    for each in answer.findings:
        if each.check in OF_EVIDENCE:
            continue
        where = f"{each.check} {each.subject}"
        if each.outcome is Outcome.UNDETERMINED and not (each.needs or each.ask):
            yield f"{where} is open and names nothing to find out"
        yield from (f"{where} asks for {key}, which is known" for key in each.needs if key not in {*paths, *each.keys})
        yield from (f"{where} assumes {key}, which is known" for key in each.assumed_keys if key not in paths)
        for sentence in each.assumed:
            if not any(f": {word}" in sentence for word in words):
                yield f"{where} assumes in words of its own: {sentence}"


@pytest.mark.parametrize("name", NAMES)
def test_the_answer_is_an_inspectors(name: str) -> None:
    answer = answer_of(name)
    found = list(differences(expected_of(name), answer))
    if isinstance(answer, Report):
        circuit = read_file(HERE / f"{name}.circuit.toml", vocabulary())
        volts = circuit.supply.voltage_v
        assert not list(disagreements(answer, volts.low if volts.exact else None))
        assert not list(asked_of_nobody(answer, circuit))
    if name in NOT_YET:
        assert found, f"{name} is answered right now: strike its line in not-yet.toml"
    else:
        assert not found, "\n".join(found)


@pytest.mark.parametrize("name", NAMES)
def test_an_expected_file_can_be_held_to(name: str) -> None:
    """A word that nothing compares would let any answer through."""
    expected = expected_of(name)
    assert set(expected) <= EXPECTED_KEYS
    assert {"line", "verdict", "reasoning", "source"} <= set(expected)
    assert set(as_list(expected["verdict"])) < VERDICTS
    for wanted in expected.get("finding", []):
        assert set(wanted) <= FINDING_KEYS
        assert set(wanted) - {"check", "subject"}
        for word in (*as_list(wanted.get("outcome", [])), *as_list(wanted.get("not_outcome", []))):
            assert word in OUTCOMES


def test_each_line_has_a_case() -> None:
    shown = {line for name in NAMES for line in as_list(expected_of(name)["line"])}
    assert shown == LINES


def test_each_case_is_whole() -> None:
    assert sorted(path.name.removesuffix(".expected.toml") for path in HERE.glob("*.expected.toml")) == NAMES
    assert set(NOT_YET) <= set(NAMES)


def test_what_is_not_yet_right_says_so() -> None:
    for name, entry in NOT_YET.items():
        assert entry["line"] == expected_of(name)["line"], name
        assert entry["today"], name


def test_the_comparison_notices() -> None:
    """A comparison that never differs would pass all cases."""
    name = next(name for name in NAMES if name not in NOT_YET and not isinstance(answer_of(name), str))
    answer = answer_of(name)
    assert isinstance(answer, Report)
    others = [each for each in ("fits", "does not fit", "undetermined") if each != answer.verdict.value]
    assert list(differences({"verdict": others}, answer))
    first = answer.findings[0]
    fine = {"verdict": answer.verdict.value}
    wrong: list[dict[str, Any]] = [
        {"check": first.check, "subject": first.subject, "not_outcome": first.outcome.value},
        {"check": first.check, "subject": "nothing of this name", "outcome": first.outcome.value},
        {"check": first.check, "subject": first.subject, "value_at_least": (first.value or 0) + 1},
        {"check": first.check, "subject": first.subject, "limit": (first.limit or 0) + 1},
    ]
    for each in wrong:
        assert list(differences({**fine, "finding": [each]}, answer)), each
    assert list(differences({**fine, "asks": ["supply.nothing"]}, answer))
    assert list(differences({**fine, "told": ["supply.nothing"]}, answer))
    assert list(differences({**fine, "names": ["supply.nothing"]}, answer))
    assert not list(differences(fine, answer))
