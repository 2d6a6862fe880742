"""What the commands that write a sheet share: where to write, on which paper, and what is said afterwards."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.page import safety_page
from circuitcheck.cli.sources import Checked, check_file
from circuitcheck.cli.streams import page_style, put
from circuitcheck.paper.writing import refuse_own_source
from circuitcheck.text import shown_text


def add_file_argument(parser: argparse.ArgumentParser) -> None:
    """Declare the one circuit file that the sheet is about."""
    parser.add_argument("file", metavar="FILE", help="circuit file (*.circuit.toml); - reads standard input")


def add_output_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare where to write and on which paper."""
    parser.add_argument(
        "-o", "--output", metavar="OUT", type=Path, required=True, help="file to write: .html, .pdf, .md or .txt"
    )
    parser.add_argument("--replace", action="store_true", help="replace OUT if it is there already")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper for .pdf and print")


def checked_source(arguments: argparse.Namespace) -> Checked:
    """The circuit that the sheet is about, checked. Raises: CommandError where the sheet would replace that file."""
    refuse_own_source(Path(arguments.file), arguments.output)
    return check_file(arguments.file)


def write_with_verdict(arguments: argparse.Namespace, write: Callable[..., None]) -> int:
    """Check the file and let ``write`` put its sheet down. Returns the status of the verdict that the sheet carries."""
    checked = checked_source(arguments)
    write(
        checked.report,
        checked.circuit,
        checked.book,
        checked.data,
        arguments.output,
        replace=arguments.replace,
        paper=arguments.paper,
    )
    verdict = "STOP, call a licensed electrician first" if checked.report.stop else f"{checked.report.verdict}"
    put_written(f"{arguments.output}: {verdict}.")
    return statuses.status_of(checked.report.verdict)


def put_written(what: str) -> None:
    """Say what was written, with the cautions after it, since whoever reads it is about to touch wiring."""
    put(f"Wrote {shown_text(what)}\n")
    put(safety_page(page_style()))
