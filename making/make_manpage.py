"""Writes docs/circuitcheck.1, the manual page, from the command line's own reader.

Run: python making/make_manpage.py (or: make docs)
"""

from __future__ import annotations

import os
from pathlib import Path

from argparse_manpage.manpage import Manpage

from circuitcheck import __version__
from circuitcheck.cli.commands import COMMANDS
from circuitcheck.cli.parser import parser_of
from circuitcheck.safety import SHORT

PAGE = Path(__file__).parents[1] / "docs" / "circuitcheck.1"

#: The page changes with the program and not with the day on which it is made.
DATE = "2026"

EXIT_STATUS = {
    "0": "every check passes; cautions are allowed",
    "1": "something does not fit",
    "2": "the file or the command line is wrong, and nothing was written",
    "3": "nothing fails, but something cannot be told yet",
    "4": "a fault of the program itself",
    "130": "stopped by Ctrl+C; after another signal 128 and its number",
}

ENVIRONMENT = {
    "NO_COLOR": "set to anything: no colors",
    "FORCE_COLOR": "set to anything but 0: colors also where the output is no terminal",
    "CIRCUITCHECK_CONFIG": "the folder in which the screens keep what they remember",
}

EXAMPLES = (
    "circuitcheck check my.circuit.toml",
    "circuitcheck note my.circuit.toml -o my.pdf",
    "circuitcheck edit my.circuit.toml",
)


def page() -> str:
    """The manual page."""
    os.environ["COLUMNS"] = "80"  # the reader of the command line wraps by it
    parser = parser_of(COMMANDS)
    parser.epilog = None
    data = {"project_name": "circuitcheck", "version": __version__, "date": DATE, "manual_title": "User Commands"}
    made = Manpage(parser, data)
    made.description = "check whether new hardwired lights fit on a lighting circuit"
    parser._manpage = [
        {"heading": "exit status", "content": _terms(EXIT_STATUS)},
        {"heading": "environment", "content": _terms(ENVIRONMENT)},
        {"heading": "examples", "content": "\n".join([".nf", *map(_plain, EXAMPLES), ".fi"])},
        {"heading": "caution", "content": "\n.PP\n".join(map(_plain, SHORT))},
    ]
    return str(made)


def _terms(terms: dict[str, str]) -> str:
    return "\n".join(f".TP\n.B {_plain(term)}\n{_plain(says)}" for term, says in terms.items())


def _plain(text: str) -> str:
    return text.replace("\\", "\\\\").replace("-", "\\-")


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
