"""``circuitcheck survey -o sheet.pdf``: a sheet to walk the house with, blank or with only the unknowns left open."""

from __future__ import annotations

import argparse

from circuitcheck.cli import statuses
from circuitcheck.cli.sheets import add_output_arguments, checked_source, put_written


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

    checked = checked_source(arguments) if arguments.file is not None else None
    write_survey(
        checked.report if checked else None,
        checked.circuit if checked else None,
        arguments.output,
        replace=arguments.replace,
        paper=arguments.paper,
    )
    stopped = checked is not None and bool(checked.report.stop)
    put_written(f"{arguments.output}: STOP, call a licensed electrician first." if stopped else f"{arguments.output}")
    return statuses.FITS
