"""Every file under tests/broken has one defect; what the user is told about it is pinned to the letter beside it."""

from dataclasses import replace
from pathlib import Path

import pytest

from circuitcheck.circuit.reader import read_file
from circuitcheck.cli.problems import problem_lines
from circuitcheck.errors import CircuitFileError

BROKEN = Path(__file__).parents[1] / "broken"
FILES = sorted(BROKEN.glob("*.circuit.toml"))


def told(path: Path, vocabulary) -> str:
    """What the command line prints about the file, with its bare name."""
    with pytest.raises(CircuitFileError) as caught:
        read_file(path, vocabulary)
    problems = [replace(problem, file=path.name) for problem in caught.value.problems]
    return "".join(f"{line}\n" for line in problem_lines(problems))


def test_there_are_enough_defects_and_none_is_without_its_message():
    assert len(FILES) >= 120
    assert {path.with_suffix("").with_suffix("").name for path in FILES} == {path.stem for path in BROKEN.glob("*.txt")}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name.removesuffix(".circuit.toml"))
def test_the_message_is_pinned(path, vocabulary):
    expected = path.with_name(path.name.removesuffix(".circuit.toml") + ".txt").read_text(encoding="utf-8")
    assert told(path, vocabulary) == expected


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name.removesuffix(".circuit.toml"))
def test_a_line_that_is_told_exists(path, vocabulary):
    lines = path.read_bytes().count(b"\n") + 1
    with pytest.raises(CircuitFileError) as caught:
        read_file(path, vocabulary)
    assert all(problem.line is None or 1 <= problem.line <= lines for problem in caught.value.problems)
