"""Whatever a circuit is made of, each finding's numbers are finite, and its low end is never above its high end.

The circuits are the examples with entries moved to the ends of what the file format allows, made a range between such
ends, or left out; and the random circuits of the second opinion.
"""

import math
import random
import re
import tomllib
from pathlib import Path

import pytest

from circuitcheck.checking import check
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import CircuitFileError
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.oracle.circuits import random_circuit
from tests.oracle.reading import written

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.circuit.toml"))
EACH, EACH_LONG = 20, 60


def spelled(dice, kind):
    """A value at an end, between the ends (evenly in its logarithm), or a range."""
    least, greatest = kind.least, kind.greatest
    between = math.exp(dice.uniform(math.log(max(least, greatest * 1e-6, 1e-6)), math.log(max(greatest, 1e-5))))
    first, second = sorted(dice.sample((least, between, greatest), 2))
    one = dice.choice((first, second))
    unit = f" {kind.unit}" if kind.unit else ""
    return dice.choice((f"{one:.6f}{unit}", f"{one:.6f}{unit}", f"{first:.6f}{unit} to {second:.6f}{unit}"))


def moved(example, seed):
    """The example's entries with some of them moved or left out."""
    dice = random.Random(seed)
    sections = tomllib.loads(example.read_text("utf-8"))
    del sections["format"]
    parts = [(name, part) for name, held in sections.items() if name in SECTIONS
             for part in (held if isinstance(held, list) else [held])]  # fmt: skip
    for _ in range(dice.choice((1, 2, 4, 8))):
        name, part = dice.choice(parts)
        physical = [key for key in SECTIONS[name].keys.values() if key.form is Form.PHYSICAL]
        words = [key for key in SECTIONS[name].keys.values() if key.form is Form.WORD and key.words]
        key = dice.choice(physical + words) if physical + words else None
        if key is None:
            continue
        if not key.required and dice.random() < 0.25:
            part.pop(key.name, None)
            part.get("known_by", {}).pop(key.name, None)
        elif key.form is Form.WORD:
            part[key.name] = dice.choice(key.words)
        else:
            part[key.name] = spelled(dice, key.kind)
    return sections


def out_of_order(finding):
    """What is wrong with the numbers of a finding, or nothing."""
    numbers = {"value": finding.value, "limit": finding.limit, "low": finding.low, "high": finding.high}
    numbers |= {f"part {part.name}": part.value for part in finding.parts}
    wrong = [f"{name} {number}" for name, number in numbers.items() if number is not None and not math.isfinite(number)]
    if finding.low is not None and finding.high is not None and finding.low > finding.high:
        wrong.append(f"low {finding.low} above high {finding.high}")
    # No wire is millions of feet long and no house draws millions of amperes: such a number is an overflow in words.
    told = (finding.says, *finding.working, *finding.to_do)
    return wrong + [text for text in told if re.search(r"(?<![.\d])\d{8,}|\b(inf|nan)\b", text)]


def findings_of(sections):
    """The findings, or none for what the reader refuses."""
    try:
        circuit = read_circuit(written(sections), "moved", vocabulary())
    except CircuitFileError:
        return ()
    return check(circuit, load_rulebook(circuit.job.rulebook)).findings


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
@pytest.mark.parametrize("each", [EACH, pytest.param(EACH_LONG, marks=pytest.mark.long)])
def test_examples_with_entries_moved_to_their_ends(example, each):
    answered = 0
    for seed in range(each):
        findings = findings_of(moved(example, seed))
        answered += bool(findings)
        for finding in findings:
            assert out_of_order(finding) == [], (seed, finding.check, finding.subject)
    assert answered > each / 4


@pytest.mark.parametrize("last", [530, pytest.param(620, marks=pytest.mark.long)])
def test_random_circuits(last):
    for seed in range(500, last):
        for finding in findings_of(random_circuit(seed)):
            assert out_of_order(finding) == [], (seed, finding.check, finding.subject)
