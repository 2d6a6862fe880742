"""``circuitcheck`` and ``circuitcheck edit FILE``: the terminal screens, or the same line by line with ``--plain``."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from circuitcheck.errors import CommandError

#: Set by the server that shows the screens in a browser: there they need no terminal.
_BROWSER = "TEXTUAL_DRIVER"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file and the plain form."""
    parser.add_argument("file", metavar="FILE", type=Path, help="circuit file (*.circuit.toml)")
    parser.add_argument(
        "--plain",
        action="store_true",
        default=argparse.SUPPRESS,  # so that it counts before the command as well
        help="questions and answers line by line, no full screen",
    )


def run(arguments: argparse.Namespace) -> int:
    """Open the file."""
    return open_screens(arguments.file, plain=arguments.plain)


def open_screens(path: Path | None, *, plain: bool) -> int:
    """Open the screens on a file, or at their start page without one. Returns the exit status.

    Raises: CommandError where there is no terminal to draw on.
    """
    if plain:
        from circuitcheck.ui.plain import run as run_plain

        return run_plain(path)
    if not (sys.stdin.isatty() and sys.stdout.isatty()) and _BROWSER not in os.environ:
        raise CommandError(
            "the screens need a terminal; --plain asks and answers line by line, and `circuitcheck check FILE` prints"
        )
    from circuitcheck.ui.app import run as run_app

    return run_app(path)
