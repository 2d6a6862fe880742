"""Every subcommand is documented, imports what it names, and help and version work."""

import argparse
import os
import subprocess
import sys
from pathlib import Path

import pytest

from circuitcheck import __version__
from circuitcheck.cli.commands import COMMANDS
from circuitcheck.safety import ONE_LINE


def test_screens_without_a_terminal_say_so(run, tmp_path) -> None:
    for arguments in ([], ["edit", tmp_path / "a.circuit.toml"]):
        ran = run(*arguments)
        assert ran.status == 2
        assert ran.out == ""
        assert "--plain" in ran.err


def test_help_carries_the_caution(run) -> None:
    assert ONE_LINE in " ".join(run("--help").out.split())


def test_version(run) -> None:
    ran = run("--version")
    assert ran.status == 0
    assert ran.out == f"circuitcheck {__version__}\n"


def test_help_names_every_command_and_every_status(run) -> None:
    ran = run("--help")
    assert ran.status == 0
    for name, entry in COMMANDS.items():
        assert name in ran.out
        assert entry.does.split(":")[0] in " ".join(ran.out.split())
    for status in (
        "0 every finding passes",
        "1 something fails",
        "2 the file",
        "3 something is undetermined",
        "4 a fault",
    ):
        assert status in " ".join(ran.out.split())


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_for_every_argument(run, name) -> None:
    ran = run(name, "--help")
    assert ran.status == 0
    assert ran.out.startswith(f"usage: circuitcheck {name}")
    parser = argparse.ArgumentParser()
    COMMANDS[name].load().add_arguments(parser)
    for action in parser._actions:
        assert action.help, f"{name}: {action.dest} has no help"


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_a_docstring_that_names_it(name) -> None:
    module = COMMANDS[name].load()
    assert f"circuitcheck {name}" in (module.__doc__ or "")


def interrupted_at(module: str) -> str:
    """A program that presses Ctrl+C when this module is first read, and then goes on as the installed command does."""
    return (
        "import builtins, os, signal, sys, circuitcheck.cli.entry as program; real = builtins.__import__\n"
        "def reading(name, *more, **named):\n"
        f"    if name == {module!r} and name not in sys.modules: os.kill(os.getpid(), signal.SIGINT)\n"
        "    return real(name, *more, **named)\n"
        "builtins.__import__ = reading; program.entry()"
    )


@pytest.mark.skipif(os.name != "posix", reason="sends a signal")
@pytest.mark.parametrize(
    "module",
    [
        pytest.param("argparse", id="before the command line is read"),
        pytest.param("circuitcheck.checking", id="while the file is checked"),
    ],
)
def test_ctrl_c_shows_no_traceback_at_any_moment(circuit_file, module) -> None:
    ran = subprocess.run(
        [sys.executable, "-c", interrupted_at(module), "check", str(circuit_file())],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert ran.returncode == 130
    assert "Traceback" not in ran.stderr
    assert ran.stdout == ""


def test_the_installed_command_is_the_one_that_is_quiet_from_the_start() -> None:
    import tomllib

    project = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text("utf-8"))
    assert project["project"]["scripts"] == {"circuitcheck": "circuitcheck.cli.entry:entry"}
    assert "circuitcheck.cli.entry" in (Path(__file__).parents[2] / "circuitcheck" / "__main__.py").read_text("utf-8")


@pytest.mark.parametrize("words", [("--plain", "edit"), ("edit", "--plain")])
def test_plain_counts_before_the_command_and_behind_it(circuit_file, words) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "circuitcheck", *words, str(circuit_file())],
        input="leave\n", capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert ran.returncode == 0
    assert "Porch light" in ran.stdout
