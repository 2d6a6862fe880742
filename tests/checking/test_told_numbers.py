"""No finding disagrees with its own sentence: where the case that its value is of tells that number, so does it.

Nor with its rows, which add up to its value. The cases that a rule was asked about are listened to, so that it is known
which of them has the value of a finding.
"""

import functools
import re
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.case import Amount, CaseRule
from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_file
from circuitcheck.errors import CircuitFileError
from circuitcheck.findings import Outcome
from circuitcheck.refs import SINGLE_SECTIONS
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.cases.test_cases import not_added_up
from tests.checking.refinement import circuit_of_seed

CASES = sorted((Path(__file__).parents[1] / "cases").glob("*.circuit.toml"))
#: Circuits in which something without a bound changes a number and no outcome: a load of unknown power and the drop,
#: a strip of unknown length and its light, a lamp of unknown power and the rating of its dimmer. In the first two it
#: fails already.
SHORT = (3, 6, 14, 18, 67, 92, 111, 139, 144, 163, 233)
LONG = [seed for seed in range(300) if seed not in SHORT]


def listening(rule, heard):
    """The rule, and by check and subject all that it answers."""

    @functools.wraps(rule.answer)
    def answer(part, case, book):
        made = rule.answer(part, case, book)
        if made is not None and made.value is not None:
            ref = made.part.ref
            heard[rule.name, "circuit" if ref.section in SINGLE_SECTIONS else ref.id].append(made)
        return made

    return replace(rule, answer=answer)


def told_in(answer):
    """The text of the value in the sentence of one case; None where it does not tell it."""
    for name, thing in answer.says.things.items():
        if isinstance(thing, Amount) and thing.number == answer.value and f"{{{name}}}" in answer.says.template:
            return thing.digits
    return None


def untold(circuit):
    """The findings that have the value of some case, and a sentence that does not tell it as the one of that case."""
    heard = defaultdict(list)
    rules = [listening(rule, heard) if isinstance(rule, CaseRule) else rule for rule in ALL_RULES]
    volts = circuit.supply.voltage_v
    for finding in check(circuit, load_rulebook(circuit.job.rulebook), rules).findings:
        yield from not_added_up(finding, volts.low if volts is not None and volts.exact else None)
        if finding.value is None or finding.to_come or finding.outcome is Outcome.UNDETERMINED:
            continue
        own = [each for each in heard[finding.check, finding.subject] if each.value == finding.value]
        numbers = {told_in(each) for each in own if each.limit == finding.limit}
        if numbers and None not in numbers and not any(is_in(number, finding.says) for number in numbers):
            yield f"{finding.check} of {finding.subject} is {finding.value} {finding.unit} and says {finding.says!r}"


def is_in(number, sentence):
    """Whether a sentence tells this number, and not a longer one with the same digits."""
    return re.search(rf"(?<![\d.]){re.escape(number)}(?!\.?\d)", sentence) is not None


def test_a_longer_number_is_another_one():
    assert is_in("3.5", "3.5 A.")
    assert is_in("3.5", "It is 3.5.")
    assert not is_in("3.5", "13.5 A")
    assert not is_in("3.5", "3.51 A")
    assert not is_in("3", "3.5 A")


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.name.removesuffix(".circuit.toml"))
def test_a_case_tells_its_numbers(file):
    try:
        circuit = read_file(file, vocabulary())
    except CircuitFileError:  # a case of a file that is refused
        return
    assert not list(untold(circuit))


@pytest.mark.parametrize("seed", [*SHORT, *(pytest.param(seed, marks=pytest.mark.long) for seed in LONG)])
def test_a_drawn_circuit_tells_its_numbers(seed):
    assert not list(untold(circuit_of_seed(seed)))
