"""``circuitcheck survey -o sheet.pdf``: a sheet to walk the house with, blank or with only the unknowns left open."""

from __future__ import annotations

import argparse

from circuitcheck.cli import statuses
from circuitcheck.cli.lines import PageStyle
from circuitcheck.cli.note import add_output_arguments
from circuitcheck.cli.page import safety_page
from circuitcheck.cli.sources import check_file
from circuitcheck.cli.streams import page_width, put


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file, which may be left out, and the output."""
    parser.add_argument(
        "file",
        metavar="FILE",
        nargs="?",
        help="circuit file: only its unknowns stay blank; none gives a blank sheet",
    )
    add_output_arguments(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet."""
    from circuitcheck.sheets import write_survey

    checked = check_file(arguments.file) if arguments.file is not None else None
    write_survey(
        checked.report if checked else None,
        checked.circuit if checked else None,
        arguments.output,
        replace=arguments.replace,
        paper=arguments.paper,
    )
    put(f"Wrote {arguments.output}\n")
    put(safety_page(PageStyle(width=page_width())))
    return statuses.FITS
