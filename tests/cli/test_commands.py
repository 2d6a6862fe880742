"""Every subcommand is documented, imports what it names, and help and version work."""

import argparse

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
