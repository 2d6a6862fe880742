"""What is imported is declared, and what is declared is imported: for users, for PDF, for serving, and for us."""

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from trove_classifiers import classifiers

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
EXTRAS = PROJECT["project"]["optional-dependencies"]
GROUPS = PROJECT["dependency-groups"]

#: Used by name and not by import, with what calls them.
CALLED = {
    "pytest-asyncio": "pytest, by asyncio_mode",
    "pytest-xdist": "pytest, by -n",
    "ruff": "make lint",
    "mypy": "make types",
    "build": "the tests of the wheel",
    "hatchling": "the tests of the wheel build without fetching it",
    "hatch-fancy-pypi-readme": "the same: it makes the README for a package index",
}

#: Our own folders that one file imports from another.
OURS = {"circuitcheck", "making", "tests", "benchmarks", "doors"}


def names(requirements: list[str]) -> set[str]:
    """The distributions that these requirements name."""
    return {re.split(r"[\[<>=!~; ]", one)[0].lower() for one in requirements if isinstance(one, str)}


def imported(*folders: str) -> set[str]:
    """The distributions that Python files below these folders import, anywhere in them."""
    by_module = packages_distributions()
    found: set[str] = set()
    for folder in folders:
        for path in (ROOT / folder).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.Import):
                    modules = [alias.name for alias in node.names]
                elif isinstance(node, ast.ImportFrom) and not node.level:
                    modules = [node.module or ""]
                elif isinstance(node, ast.Call) and ast.unparse(node.func) == "pytest.importorskip":
                    modules = [str(node.args[0].value)] if isinstance(node.args[0], ast.Constant) else []
                else:
                    continue
                tops = {module.split(".")[0] for module in modules} - OURS - set(sys.stdlib_module_names)
                found |= {by_module.get(top, [top])[0].lower().replace("_", "-") for top in tops}
    return found


def test_the_program_imports_what_it_declares_and_declares_what_it_imports() -> None:
    declared = names(PROJECT["project"]["dependencies"]) | names(EXTRAS["pdf"]) | names(EXTRAS["serve"])
    assert imported("circuitcheck") == declared


def test_tests_and_makers_import_what_a_group_declares() -> None:
    lists = [PROJECT["project"]["dependencies"], *EXTRAS.values(), *GROUPS.values()]
    declared = set().union(*map(names, lists))
    assert imported("tests", "making", "benchmarks", "doors") - declared - _local_modules() == set()


def test_what_the_group_for_us_declares_is_used() -> None:
    used = imported("tests", "making", "benchmarks", "doors") | CALLED.keys()
    assert names(GROUPS["dev"]) - used == set()


def _local_modules() -> set[str]:
    """Modules beside the tests that import one another by bare name."""
    folders = ("tests", "benchmarks", "doors")
    return {path.stem.replace("_", "-") for folder in folders for path in (ROOT / folder).rglob("*.py")}


@pytest.mark.parametrize("classifier", PROJECT["project"]["classifiers"])
def test_a_classifier_is_one_that_indexes_know(classifier: str) -> None:
    assert classifier in classifiers
