"""``circuitcheck plan FILE… -o OUT``: the work plan for whoever does the work."""

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
    """Write a plan of each file. Returns the worst status of their own answers, which a verdict may be better than."""
    from circuitcheck.advice.readiness import State
    from circuitcheck.sheets import write_plan

    said = {
        State.STOP: ("STOP, call a licensed electrician first", statuses.FAILS),
        State.MUST_CHANGE: ("NOT READY, something must change first", statuses.FAILS),
        State.UNKNOWN: ("NOT READY, something is still unknown", statuses.UNDETERMINED),
        State.NOTHING_OPEN: ("nothing open on paper", statuses.FITS),
    }

    def write(checked: Checked, output: Path) -> tuple[str, int]:
        kept = {"replace": arguments.replace, "paper": arguments.paper}
        return said[write_plan(checked.report, checked.circuit, checked.book, checked.data, output, **kept)]

    return each_sheet(arguments, "plan", write)
