"""Streams that are closed, full or no terminal, in a process of its own without Python's unbuffered mode."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "hallway.circuit.toml")
FULL = Path("/dev/full")
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}

needs_shell = pytest.mark.skipif(os.name != "posix", reason="the redirections are those of a POSIX shell")
needs_full = pytest.mark.skipif(not FULL.exists(), reason="this system has no device that is always full")


def shell(line: str) -> subprocess.CompletedProcess[str]:
    """Runs a shell line in which ``$C`` is circuitcheck."""
    environment = {**ENVIRONMENT, "PY": sys.executable, "EXAMPLE": EXAMPLE}
    line = line.replace("$C", '"$PY" -m circuitcheck').replace("$E", '"$EXAMPLE"')
    return subprocess.run(["sh", "-c", line], env=environment, capture_output=True, text=True, timeout=60, check=False)


@needs_shell
@pytest.mark.parametrize("arguments", ["--help", "--version", "check --help", "tables --help", "note --help"])
def test_help_reaches_a_pipe(arguments) -> None:
    done = shell(f"$C {arguments} | cat")
    assert done.stdout.strip()
    assert done.stderr == ""


@needs_shell
@pytest.mark.parametrize("arguments", ["--help", "check --help", "tables", "check $E"])
def test_a_reader_that_reads_nothing_is_no_fault(arguments) -> None:
    done = shell(f"$C {arguments} | true")
    assert (done.returncode, done.stderr) == (0, "")


@needs_shell
@pytest.mark.parametrize(("line", "status"), [("$C check $E", 1), ("$C --help", 0), ("$C tables", 0)])
def test_a_closed_output_changes_no_status(line, status) -> None:
    done = shell(f"{line} >&-")
    assert done.returncode == status
    assert "Traceback" not in done.stderr


@needs_shell
@needs_full
@pytest.mark.parametrize("arguments", ["check $E", "check --json $E", "--help", "check --help", "tables"])
def test_an_output_that_is_full_is_told_and_is_status_2(arguments) -> None:
    done = shell(f"$C {arguments} >/dev/full")
    assert done.returncode == 2
    assert done.stderr == "circuitcheck: the output could not be written: No space left on device\n"


@needs_shell
@pytest.mark.parametrize("nowhere", ["2>&-", pytest.param("2>/dev/full", marks=needs_full)])
@pytest.mark.parametrize(
    ("line", "status"), [("$C check missing.toml", 2), ("$C check", 2), ("$C check $E", 1), ("$C nonsense", 2)]
)
def test_an_error_that_cannot_be_told_keeps_its_status(line, status, nowhere) -> None:
    assert shell(f"{line} {nowhere}").returncode == status


@needs_shell
def test_a_closed_standard_input_is_a_wrong_input() -> None:
    done = shell("$C check - <&-")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "standard input: it is closed, so there is nothing to read\n"
