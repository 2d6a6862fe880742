"""``circuitcheck note FILE -o OUT``: the page that an electrician or inspector reads."""

from __future__ import annotations

import argparse
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.sources import check_file
from circuitcheck.cli.streams import page_width, put


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file and what every written sheet asks."""
    parser.add_argument("file", metavar="FILE", help="circuit file (*.circuit.toml); - reads standard input")
    add_output_arguments(parser)


def add_output_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare where to write and on which paper."""
    parser.add_argument(
        "-o", "--output", metavar="OUT", type=Path, required=True, help="file to write: .html, .pdf, .md or .txt"
    )
    parser.add_argument("--replace", action="store_true", help="replace OUT if it is there already")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper for .pdf and print")


def run(arguments: argparse.Namespace) -> int:
    """Write the note. Returns the status of the verdict that it carries."""
    from circuitcheck.cli.lines import PageStyle
    from circuitcheck.cli.page import safety_page
    from circuitcheck.note import write_note

    checked = check_file(arguments.file)
    write_note(
        checked.report,
        checked.circuit,
        checked.book,
        checked.data,
        arguments.output,
        replace=arguments.replace,
        paper=arguments.paper,
    )
    put(f"Wrote {arguments.output}: {checked.report.verdict}.\n")
    put(safety_page(PageStyle(width=page_width())))
    return statuses.status_of(checked.report.verdict)
