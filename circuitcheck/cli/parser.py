"""The reader of the command line: every subcommand with its line, and the arguments of those that are asked for."""

from __future__ import annotations

import argparse
from collections.abc import Container

from circuitcheck import __version__
from circuitcheck.cli.commands import COMMANDS
from circuitcheck.safety import ONE_LINE

_DESCRIPTION = """\
Before a box is opened: do new hardwired lights fit on the lighting circuit
that is already there? Without a command it opens the terminal screens."""

_CAUTION = ONE_LINE.replace("; ", ";\n")

_EPILOG = f"""\
{_CAUTION}

exit status: 0 every finding passes (cautions allowed), 1 something fails,
2 the file or the command line is wrong, 3 something is undetermined,
4 a fault of the program itself"""


def parser_of(commands: Container[str]) -> argparse.ArgumentParser:
    """The reader, with the arguments of these subcommands only: each subcommand that is filled in is imported."""
    parser = argparse.ArgumentParser(
        prog="circuitcheck",
        description=_DESCRIPTION,
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"circuitcheck {__version__}")
    parser.add_argument("--plain", action="store_true", help="questions and answers line by line, no full screen")
    parser.add_argument("--traceback", action="store_true", help="show the traceback of a fault of the program itself")
    subparsers = parser.add_subparsers(dest="command", metavar="COMMAND")
    for name, described in COMMANDS.items():
        subparser = subparsers.add_parser(
            name, help=described.does, description=_sentence(described.does), allow_abbrev=False
        )
        subparser.add_argument("--traceback", action="store_true", default=argparse.SUPPRESS, help=argparse.SUPPRESS)
        if name in commands:
            described.load().add_arguments(subparser)
    return parser


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}."
