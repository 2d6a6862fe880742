"""``circuitcheck plan FILE -o OUT``: the work plan for whoever does the work."""

from __future__ import annotations

import argparse

from circuitcheck.cli import statuses
from circuitcheck.cli.lines import PageStyle
from circuitcheck.cli.note import add_output_arguments
from circuitcheck.cli.page import safety_page
from circuitcheck.cli.sources import check_file
from circuitcheck.cli.streams import page_width, put


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file and the output."""
    parser.add_argument("file", metavar="FILE", help="circuit file (*.circuit.toml); - reads standard input")
    add_output_arguments(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the plan. Returns the status of the verdict that it rests on."""
    from circuitcheck.sheets import write_plan

    checked = check_file(arguments.file)
    write_plan(
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
