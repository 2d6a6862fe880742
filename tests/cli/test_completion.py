"""The completion of each shell names every command and option. Shells themselves are tried by `make doors`."""

import pytest

from circuitcheck.cli.commands import COMMANDS
from circuitcheck.cli.parser import parser_of
from circuitcheck.tables.rulebook import editions

pytest.importorskip("shtab", reason="a dependency: reinstall")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_it_names_every_command_option_and_rulebook(run, shell) -> None:
    ran = run("completion", shell)
    assert ran.status == 0
    words = set(ran.out.replace("'", " ").replace('"', " ").replace("(", " ").replace(")", " ").split())
    for command in COMMANDS:
        assert command in words, command
    for option in ("--json", "--working", "--rulebook", "--output", "--replace"):
        assert option in ran.out or f"-l {option.removeprefix('--')}" in ran.out, option
    for edition in editions():
        assert edition in ran.out


def test_another_shell_is_refused(run) -> None:
    ran = run("completion", "nosuch")
    assert ran.status == 2
    assert "bash" in ran.err


def test_every_subcommand_is_filled_in_when_all_are_asked_for() -> None:
    text = parser_of(COMMANDS).format_help()
    assert all(name in text for name in COMMANDS)
