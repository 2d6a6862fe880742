"""A rule of cases, and what rules share, sees one known circuit: no range, no unknown, no guess, no engine.

Held by what a module imports, by the attributes that it asks for, and by what its answer can reach; not by words.
"""

import ast
from pathlib import Path

import pytest

import circuitcheck.case
from circuitcheck.case import CaseRule
from circuitcheck.rules import ALL_RULES

PACKAGE = Path(__file__).parents[2] / "circuitcheck"
RULES = [rule for rule in ALL_RULES if isinstance(rule, CaseRule)]
MODULES = sorted(
    {PACKAGE.parent / f"{rule.module.replace('.', '/')}.py" for rule in RULES} | {*(PACKAGE / "domain").glob("*.py")}
)
NAMES = {
    path: f"circuitcheck.{path.relative_to(PACKAGE).with_suffix('').as_posix().replace('/', '.')}" for path in MODULES
}
TREES = {NAMES[path]: ast.parse(path.read_text("utf-8")) for path in MODULES}
BY_NAME = {"argvalues": sorted(TREES), "ids": lambda name: name.rpartition(".")[2]}

#: What works on values alone: no clock, no chance, no file.
STANDARD = {
    "__future__", "bisect", "collections", "collections.abc", "dataclasses", "enum", "functools", "heapq", "itertools",
    "math", "operator", "typing",
}  # fmt: skip
#: None: all of it. Of ``circuit`` only what is no entry of a file: the panel's id, the small tables of a box, the tree.
MAY_IMPORT: dict[str, set[str] | None] = {
    "circuitcheck.case": set(circuitcheck.case.__all__) - {"AnyRule", "EvidenceRule", "SizeRule"},
    "circuitcheck.case.along": {"along"},
    "circuitcheck.case.list_apart": None,
    "circuitcheck.case.memory": {"aside"},
    "circuitcheck.case.parts": None,
    "circuitcheck.circuit.box_contents": {"Device", "FixtureWires", "OtherCable", "Unbroken"},
    "circuitcheck.circuit.model": {"PANEL"},
    "circuitcheck.circuit.switched": None,
    "circuitcheck.errors": None,
    "circuitcheck.findings": {"Outcome", "Part", "Source", "exceeds", "merge_sources"},
    "circuitcheck.quantities": {"in_unit", "rounded_down", "rounded_up", "shown"},
    "circuitcheck.refs": {"Ref"},
    "circuitcheck.tables.rulebook": {"Row", "Rulebook", "Table", "Value"},
    "circuitcheck.text": None,
}
#: What a rule asks a case for: the book, the parts, the tree, and what the work took away, moved or opened.
OF_A_CASE = {
    "book", "job", "supply", "site", "boxes", "cables", "loads", "drivers", "low_voltage_loads", "controls", "framing",
    "control", "tree", "gone", "replaced", "moved", "opened",
}  # fmt: skip
#: Attributes of whatever holds an end, an unknown or a guess.
BARRED = {
    "assumed", "bounded", "choice", "entries", "frames", "known_by", "low", "high", "needs", "open_at", "options",
    "possible", "presumed", "settled",
}  # fmt: skip
BARRED_NAMES = {"vars", "globals", "locals", "setattr", "delattr", "eval", "exec", "open", "__import__"}
UNDERSCORED = {"_replace", "__contains__", "__getitem__", "__init__"}


@pytest.mark.parametrize("name", **BY_NAME)
def test_it_imports_only_what_knows_one_circuit(name: str) -> None:
    for node in ast.walk(TREES[name]):
        if isinstance(node, ast.Import):
            assert {alias.name for alias in node.names} <= STANDARD
        elif isinstance(node, ast.ImportFrom) and node.module not in STANDARD:
            module, names = node.module or "", {alias.name for alias in node.names}
            if not module.startswith(("circuitcheck.domain.", "circuitcheck.physics.")):
                assert module in MAY_IMPORT, f"{name} imports {module}"
                assert names <= (MAY_IMPORT[module] or names), f"{name} imports {names} of {module}"


@pytest.mark.parametrize("name", **BY_NAME)
def test_it_asks_for_nothing_that_holds_an_unknown(name: str) -> None:
    for node in ast.walk(TREES[name]):
        if isinstance(node, ast.Attribute):
            of = node.value.id if isinstance(node.value, ast.Name) else getattr(node.value, "attr", "")
            assert of != "case" or node.attr in OF_A_CASE, f"{name} asks a case for {node.attr}"
            assert node.attr not in BARRED, f"{name} asks for {node.attr}"
            assert not node.attr.startswith("_") or of == "self" or node.attr in UNDERSCORED, f"{name}: {node.attr}"
        elif isinstance(node, ast.Name):
            assert node.id not in BARRED_NAMES, f"{name} uses {node.id}"
        elif isinstance(node, ast.Constant):
            assert node.value == "_" or not str(node.value).startswith("_"), f"{name} names {node.value}"
        assert not isinstance(node, ast.Global | ast.Nonlocal), f"{name} changes what stands outside"


def reached(module: str, function: str) -> set[tuple[str, str]]:
    """Every function of rules and domain that a function names, and those that they name, and so on."""
    waiting, seen = [(module, function)], set()
    while waiting:
        here = waiting.pop()
        if here in seen:
            continue
        seen.add(here)
        tree = TREES[here[0]]
        body = next((node for node in tree.body if getattr(node, "name", "") == here[1]), None)
        if body is None:  # a constant, such as a table of directions: naming it calls none of them
            continue
        imported = {
            alias.asname or alias.name: (node.module or "", alias.name)
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom)
            for alias in node.names
        }
        used = {node.id for node in ast.walk(body) if isinstance(node, ast.Name)}
        own = {getattr(node, "name", "") for node in tree.body}
        waiting += [(here[0], word) for word in used & own]
        waiting += [imported[word] for word in used & imported.keys() if imported[word][0] in TREES]
        if "values_of" in used:
            seen.add(("circuitcheck.case", "values_of"))
    return seen


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_no_answer_asks_what_else_an_entry_could_be(rule: CaseRule) -> None:
    """A direction may (``values_of``); the answer and the subjects know one circuit."""
    assert any(getattr(node, "name", "") == rule.answer.__name__ for node in TREES[rule.module].body)
    for function in (rule.answer, rule.subjects):
        assert ("circuitcheck.case", "values_of") not in reached(function.__module__, function.__name__)


def test_what_is_reached_is_found() -> None:
    """Volts drop along a way of branch impedances: three modules from the rule."""
    far = reached("circuitcheck.rules.capacity.voltage_drop", "answer")
    assert ("circuitcheck.domain.impedance", "kind_of_cable") not in far
    assert {("circuitcheck.domain.impedance", "cable_impedance"), ("circuitcheck.domain.draws", "load_draw")} <= far
    direction = reached("circuitcheck.domain.directions", "kind_is_worse")
    assert ("circuitcheck.case", "values_of") in direction


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_no_rule_rests_on_another_rule(rule: CaseRule) -> None:
    for node in ast.walk(TREES[rule.module]):
        if isinstance(node, ast.ImportFrom):
            assert not (node.module or "").startswith("circuitcheck.rules"), f"{rule.name} imports {node.module}"
