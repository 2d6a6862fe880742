"""``circuitcheck note FILE… -o OUT``: the page that an electrician or inspector reads."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from circuitcheck.cli import statuses
from circuitcheck.cli.sheets import add_file_arguments, add_output_arguments, each_sheet

if TYPE_CHECKING:
    from circuitcheck.cli.sources import Checked


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the files and what every written sheet asks."""
    add_file_arguments(parser)
    add_output_arguments(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write a note of each file. Returns the status of the worst verdict that they carry."""
    from circuitcheck.note import write_note

    def write(checked: Checked, output: Path) -> tuple[str, int]:
        report = checked.report
        kept = {"replace": arguments.replace, "paper": arguments.paper}
        write_note(report, checked.circuit, checked.book, checked.data, output, **kept)
        verdict = "STOP, call a licensed electrician first" if report.stop else f"{report.verdict}"
        return verdict, statuses.status_of(report.verdict)

    return each_sheet(arguments, "note", write)
