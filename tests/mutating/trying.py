"""Whether the tests notice a change: ``python -m tests.mutating.trying 20`` tries twenty of them, drawn at random.

Each change lives in a process of its own, forked from one that has read everything else already. Tests that stand
closest to the change are run first, those of whole circuits only where it survives these, and where it survives these
too what else of ``make test`` is cheap and knows its numbers from elsewhere.
"""

from __future__ import annotations

import ast
import importlib.abc
import os
import random
import re
import resource
import signal
import sys
import time
from collections.abc import Callable, Iterator, Sequence, Set
from dataclasses import replace
from functools import cache
from importlib.machinery import ModuleSpec
from importlib.util import spec_from_loader
from pathlib import Path
from types import ModuleType
from typing import TypeAlias, cast

import pytest

from tests.mutating.changes import PACKAGE, Change, changes_of
from tests.mutating.entries import Changed, changed_rows

TESTS = Path(__file__).parents[1]
#: How long tests may compute, and how long they may take at all where others compute too or one waits for nobody,
#: before a change counts as noticed [s]: it made something endless.
COMPUTED, PATIENCE = 300, 1800.0
#: How many files of tests are run for one change.
_MOST_FILES = 8
#: Tests of whole circuits, for what survives the tests that stand closest.
_WIDER = [
    str(TESTS / "cases"),
    str(TESTS / "checking" / "test_directions.py"),
    str(TESTS / "checking" / "test_directions_by_hand.py"),
]
#: What else ``make test`` notices, as far as it is cheap: the second opinion, the examples' reports and notes, advice.
_WIDEST = [
    str(TESTS / name)
    for name in (
        "rules/test_forms.py",
        "advice/test_box_sizes.py",
        "advice/test_driver_leads.py",
        "advice/test_fix_kinds.py",
        "advice/test_joints_by_hand.py",
        "advice/test_lengths_and_supports.py",
        "advice/test_materials_by_hand.py",
        "advice/test_order_changes.py",
        "advice/test_readiness.py",
        "advice/test_switching.py",
        "checking/test_cables_told_apart.py",
        "examples",
        "oracle",
    )
]
#: As these, but sets PDFs when it is read, in threads that a process forked later would wait for without end.
_IN_THREADS = str(TESTS / "note" / "test_examples.py")
#: Too dear for every change that survives.
_LEFT_OUT = TESTS / "checking" / "test_refinement.py"
#: Ours, to be read anew where it stands on what is changed.
_OURS = ("circuitcheck", "making", "tests")

_IMPORTED = re.compile(r"^from circuitcheck\.([\w.]+) import", re.MULTILINE)

Tried: TypeAlias = "Change | Changed"


def code_changes(*folders: str) -> Iterator[Change]:
    """Every change of the modules of these folders (or files) of the package."""
    for folder in folders:
        place = PACKAGE / folder
        for path in sorted(place.rglob("*.py")) if place.is_dir() else [place]:
            if path.name != "__init__.py":
                yield from changes_of(path)


def files_for(tried: Tried) -> list[str]:
    """The tests to run: those of the rule, of the rules that stand on a module, or of what reads the entry."""
    if isinstance(tried, Changed):
        attribute = re.compile(rf"\b{tried.key.partition('.')[2]}")
        files = [path for path in sorted((TESTS / "rules").glob("test_*.py")) if attribute.search(path.read_text())]
        return [str(TESTS / "possible"), *map(str, files[:_MOST_FILES])]
    folder, _, name = tried.module.rpartition("/")
    own = list(TESTS.glob(f"*/test_{name}.py"))
    if folder == "checking":
        own += [*_of_the_engine(), TESTS / "checking" / "test_guesses.py"]
    if folder == "case":
        own += [TESTS / "case", *_of_the_engine()]
    if folder == "possible":
        own.append(TESTS / "possible")
    if folder == "domain":
        imported = re.compile(rf"domain\.{name} import")
        rules = [path for path in sorted((PACKAGE / "rules").rglob("*.py")) if imported.search(path.read_text())]
        own += [path for path in sorted((TESTS / "domain").glob("test_*.py")) if imported.search(path.read_text())]
        own += [path for rule in rules if (path := TESTS / "rules" / f"test_{rule.stem}.py").exists()][:_MOST_FILES]
    return [str(path) for path in dict.fromkeys(own)]


def rings(tried: Tried) -> Iterator[list[str]]:
    """The tests to run, each ring where all before let it through: the closest, whole circuits, all that is cheap."""
    close = files_for(tried)
    yield close
    yield _WIDER
    done = {*close, *_WIDER}
    yield [file for file in [*_still_near(tried), *_WIDEST, _IN_THREADS] if file not in done]


def _still_near(tried: Tried) -> list[str]:
    """The tests of every rule that stands on a changed module in any way, of all of the folder, or of every rule."""
    if isinstance(tried, Changed):
        return []
    folder = tried.module.partition("/")[0]
    if folder == "checking":
        return [str(path) for path in sorted((TESTS / "checking").glob("test_*.py")) if path != _LEFT_OUT]
    files = [path for path in sorted((PACKAGE / folder).rglob("*.py")) if path.stem != "__init__"]
    if folder == "domain":
        files += [path for path in sorted((PACKAGE / "rules").rglob("*.py")) if path.stem != "__init__"]
    names = {path: path.relative_to(PACKAGE).with_suffix("").as_posix().replace("/", ".") for path in files}
    imports = {path: set(_IMPORTED.findall(path.read_text("utf-8"))) for path in files}
    standing = {tried.module.replace("/", ".")}
    while more := {names[path] for path in files if imports[path] & standing} - standing:
        standing |= more
    tests = (TESTS / "rules" / f"test_{name.rpartition('.')[2]}.py" for name in sorted(standing))
    return [str(path) for path in tests if path.exists()]


def _of_the_engine() -> list[Path]:
    """The tests on rules that are made for a test."""
    files = sorted((TESTS / "checking").glob("test_*.py"))
    return [path for path in files if "trial_rules import" in path.read_text("utf-8")]


def is_noticed(tried: Tried, *, wider: bool = True) -> bool:
    """Whether a test of this change fails, or takes too long; ``wider``: of those further away too."""
    child = os.fork()
    if child == 0:
        resource.setrlimit(resource.RLIMIT_CPU, (COMPUTED, COMPUTED))
        os._exit(_run_tests(tried, wider=wider))
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return os.waitstatus_to_exitcode(status) != 0
        time.sleep(0.02)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return True


def _run_tests(tried: Tried, *, wider: bool) -> int:
    if isinstance(tried, Changed):
        _forget(set(sys.modules))
        from circuitcheck.possible import table

        row, rows = tried.row, cast("dict[str, table.Declared]", table.declared())
        later = table.Later(str(row.later)) if row.later is not None else None
        changed = replace(rows[tried.key], may_be=row.may_be, infer=row.infer, later=later, presumed=row.presumed)
        rows[tried.key] = changed
    else:
        name = f"circuitcheck.{tried.module.replace('/', '.')}"
        _forget(_standing_on(name))
        sys.meta_path.insert(0, _Changing(name, tried))
    for ring in rings(tried) if wider else [files_for(tried)]:
        if ring and (noticed := _tests_run(ring)):
            return noticed
    return 0


def _tests_run(files: Sequence[str], *more: str) -> int:
    """What comes of these tests: 0 where all pass."""
    return int(pytest.main(["-q", "-x", "-n0", "-p", "no:cacheprovider", *more, *files]))


def _forget(names: Set[str]) -> None:
    """Have these modules, as far as they are ours, read anew when they are next asked for."""
    for name in [name for name in sys.modules if name.partition(".")[0] in _OURS]:
        if name in names:
            del sys.modules[name]
    package = sys.modules.get("circuitcheck")
    for name in getattr(package, "__all__", ()):
        if name != "__version__":
            vars(package).pop(name, None)  # what is promised is imported when it is first asked for


def _standing_on(name: str) -> set[str]:
    """The modules that were read and stand on this one, directly or not, with itself and whole packages."""
    modules = {each for each in sys.modules if each.startswith(tuple(f"{ours}." for ours in _OURS))}
    imports = {each: _imports(each) & modules for each in modules}
    standing = {name}
    while True:
        below = tuple(f"{each}." for each in standing if hasattr(sys.modules.get(each), "__path__"))
        more = {each for each in modules if imports[each] & standing or each.startswith(below)} - standing
        if not more:
            return standing
        standing |= more


@cache
def _imports(name: str) -> set[str]:
    """What a module imports; one that finds others by their files imports all beside it."""
    file = getattr(sys.modules[name], "__file__", None)
    if not file or not Path(file).exists():
        return set()
    source = Path(file).read_text("utf-8")
    asked: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            asked |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            asked |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    if "import_module(" in source:
        package = name if hasattr(sys.modules[name], "__path__") else name.rpartition(".")[0]
        asked |= {each for each in sys.modules if each.startswith(f"{package}.")}
    return asked - {name}


class _Changing(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Loads one module changed."""

    def __init__(self, name: str, change: Change) -> None:
        self.name, self.change = name, change

    def find_spec(self, fullname: str, path: object, target: object = None) -> ModuleSpec | None:
        """The module that is changed; nothing of any other."""
        return spec_from_loader(fullname, self) if fullname == self.name else None

    def exec_module(self, module: ModuleType) -> None:
        """Run the changed source."""
        module.__file__ = str(self.change.path)
        exec(compile(self.change.source(), str(self.change.path), "exec"), module.__dict__)


def survivors(
    tried: Sequence[Tried], tell: Callable[[str], None] = lambda line: None, *, wider: bool = True
) -> list[str]:
    """The names of the changes that no test notices. All are tried in a process that has read the tests before."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        with os.fdopen(writing, "w") as answers:
            _try_all(tried, lambda noticed: print(int(noticed), file=answers, flush=True), wider=wider)
        os._exit(0)
    os.close(writing)
    left = []
    with os.fdopen(reading) as answers:
        for each, answer in zip(tried, answers, strict=True):
            noticed = bool(int(answer))
            tell(f"{'noticed ' if noticed else 'SURVIVES'} {each.name}")
            if not noticed:
                left.append(each.name)
    os.waitpid(child, 0)
    return left


def _try_all(tried: Sequence[Tried], answer: Callable[[bool], None], *, wider: bool) -> None:
    silent = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silent, 1)
    os.dup2(silent, 2)
    files = dict.fromkeys(file for each in tried for file in files_for(each))
    more = [*_WIDER, *_WIDEST] if wider else []
    _tests_run([*files, *more], "--collect-only")
    _standing_on("circuitcheck.checking.judging")  # what imports what is read once, not for every change
    for each in tried:
        answer(is_noticed(each, wider=wider))


def sample(count: int, seed: int, *folders: str) -> list[Tried]:
    """Some of the changes of the code, drawn at random."""
    return random.Random(seed).sample(list(code_changes(*folders)), count)


def main(arguments: list[str]) -> None:
    """Try so many changes of rules, domain and checking, or of the files named; ``possible`` stands for its entries."""
    count, seed, *folders = (
        arguments[:1] + (arguments[1:2] or ["1"]) + (arguments[2:] or ["rules", "domain", "checking"])
    )
    changes: list[Tried] = list(changed_rows()) if folders == ["possible"] else list(code_changes(*folders))
    tried = changes if count == "all" else random.Random(int(seed)).sample(changes, int(count))
    left = survivors(tried, lambda line: print(line, flush=True))
    print(f"{len(left)} of {len(tried)} survive")


if __name__ == "__main__":
    main(sys.argv[1:])
