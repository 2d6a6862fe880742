"""What every rule of cases keeps to, whoever wrote it: no unknowns, no ranges, no engine; names are no text."""

import ast
import inspect
from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.case import CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_file
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from making import make_parts

ROOT = Path(__file__).parents[2]
CASE_RULES = [rule for rule in ALL_RULES if isinstance(rule, CaseRule)]
#: Of the model only names that are no entries of a file: the panel's id, and the small tables of a box.
OF_THE_MODEL = {"PANEL", "Device", "FixtureWires", "OtherCable", "Unbroken"}
BARRED = ("circuitcheck.possible", "circuitcheck.checking", "circuitcheck.advice", "circuitcheck.case.entry")
BY_NAME = {"ids": lambda rule: rule.name}


def imports_of(module: object) -> list[tuple[str, str]]:
    tree = ast.parse(inspect.getsource(module))
    return [
        (node.module or "", alias.name)
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    ]


@pytest.mark.parametrize("rule", CASE_RULES, **BY_NAME)
def test_it_imports_nothing_that_knows_of_the_unknown(rule):
    for module, name in imports_of(inspect.getmodule(rule.answer)):
        assert not module.startswith(BARRED), f"{rule.name} imports {module}"
        assert name != "Interval", f"{rule.name} imports Interval"
        if module == "circuitcheck.circuit.model":
            assert name in OF_THE_MODEL, f"{rule.name} imports {name} of the model"


@pytest.mark.parametrize("rule", CASE_RULES, **BY_NAME)
def test_it_answers_with_an_answer_about_known_things(rule):
    returned = inspect.signature(rule.answer).return_annotation
    assert returned in ("Answer", "Answer | None"), f"{rule.name} returns {returned}"


def test_the_known_parts_are_made_from_the_keys_and_what_is_possible():
    assert make_parts.FILE.read_text("utf-8").split() == make_parts.text().split(), "run: python making/make_parts.py"


def renamed(circuit: Circuit, name) -> Circuit:
    """The circuit with every id changed, and every place that names it."""
    ids = [
        part.id
        for field in ("boxes", "cables", "loads", "drivers", "low_voltage_loads", "controls", "framing")
        for part in getattr(circuit, field)
    ]
    new = {old: name(old) for old in ids}
    links = ("id", "box", "from_id", "to_id", "switched_by", "with_id", "paralleled_with", "cable")

    def changed(part):
        given = {link: new.get(getattr(part, link), getattr(part, link)) for link in links if hasattr(part, link)}
        return replace(part, **given)

    return replace(
        circuit,
        **{
            field: tuple(map(changed, getattr(circuit, field)))
            for field in ("boxes", "cables", "loads", "drivers", "low_voltage_loads", "controls", "framing")
        },
    )


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.circuit.toml")), ids=lambda path: path.name)
def test_braces_in_a_name_are_text(path):
    """Names are filled in, never part of a template."""
    circuit = renamed(read_file(path, vocabulary()), lambda old: f"{{{old}}}{{0}}")
    book = load_rulebook(circuit.job.rulebook)
    case = case_of(circuit, book)
    for rule in CASE_RULES:
        for finding in findings_of_rule(rule, case):
            assert finding.says
            assert all(finding.working)
