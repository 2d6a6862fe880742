"""``circuitcheck completion bash|zsh|fish``: prints what makes a shell complete commands, options and files."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from typing import Any

from circuitcheck.cli import statuses
from circuitcheck.cli.streams import put

SHELLS = ("bash", "zsh", "fish")

#: The attribute in which shtab looks for what completes an argument.
_COMPLETED_AS = "complete"

#: Placeholders of arguments that name files.
_FILES = frozenset({"FILE", "OUT", "NEW"})

_HOW = """\
where it goes:
  bash   circuitcheck completion bash > ~/.local/share/bash-completion/completions/circuitcheck
  zsh    circuitcheck completion zsh > a folder of $fpath/_circuitcheck
  fish   circuitcheck completion fish > ~/.config/fish/completions/circuitcheck.fish
Open a new shell after that."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the shell."""
    parser.add_argument("shell", choices=SHELLS, help="the shell that is to complete")
    parser.epilog = _HOW
    parser.formatter_class = argparse.RawDescriptionHelpFormatter


def run(arguments: argparse.Namespace) -> int:
    """Print the completion."""
    import shtab

    from circuitcheck.cli.commands import COMMANDS
    from circuitcheck.cli.parser import parser_of

    parser = parser_of(COMMANDS)
    _name_choices(parser, shtab.FILE)
    put(shtab.complete(parser, shell=arguments.shell).rstrip("\n") + "\n")
    return statuses.FITS


def _name_choices(parser: argparse.ArgumentParser, files: Any) -> None:
    """Say of each argument of every subcommand what may stand there: files, rulebooks, tables."""
    from circuitcheck.tables.rulebook import all_table_names, all_value_names, editions

    names: dict[tuple[str, str], Sequence[str]] = {("tables", "name"): sorted({*all_table_names(), *all_value_names()})}
    for command, action in _actions(parser):
        if action.metavar in _FILES:
            setattr(action, _COMPLETED_AS, files)
        elif action.dest == "rulebook":
            action.choices = editions()
        elif (command, action.dest) in names:
            action.choices = names[command, action.dest]


def _actions(parser: argparse.ArgumentParser) -> Iterator[tuple[str, argparse.Action]]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for name, subparser in action.choices.items():
                yield from ((name, inner) for inner in subparser._actions)
