"""``circuitcheck demo``: the main job on a bundled example, in an invented house."""

from __future__ import annotations

import argparse
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.check_faults import status_after
from circuitcheck.cli.examples import example_file
from circuitcheck.cli.page import report_page, safety_page
from circuitcheck.cli.sources import check_file
from circuitcheck.cli.streams import page_style, put
from circuitcheck.text import shown_text

EXAMPLE = "hallway.circuit.toml"
NOTE = "hallway-note.html"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare where the note goes."""
    parser.add_argument(
        "-o", "--output", metavar="OUT", type=Path, default=Path(NOTE), help=f"the note (default: {NOTE})"
    )
    parser.add_argument("--replace", action="store_true", help="replace the note if it already exists")


def run(arguments: argparse.Namespace) -> int:
    """Check the example, print every finding with its working and sources, write the note."""
    from circuitcheck.note import write_note

    style = page_style(working=True)
    with example_file(EXAMPLE) as path:
        checked = check_file(str(path), shown_as=EXAMPLE)
        write_note(
            checked.report,
            checked.circuit,
            checked.book,
            checked.data,
            arguments.output,
            replace=arguments.replace,
            paper="letter",
        )
        put(report_page(checked.report, style))
        put(f"\nWrote the note for an electrician or inspector: {shown_text(str(arguments.output))}\n")
        put(f"The circuit file of this example: {shown_text(str(path))}\n")
    put(safety_page(style))
    return status_after(statuses.FITS, checked.report)
