"""``circuitcheck plan FILE -o OUT``: the work plan for whoever does the work."""

from __future__ import annotations

import argparse

from circuitcheck.cli import statuses
from circuitcheck.cli.sheets import add_file_argument, add_output_arguments, checked_source, put_written


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file and what every written sheet asks."""
    add_file_argument(parser)
    add_output_arguments(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the plan. Returns the status of its own answer: a circuit that fits may have a plan that is not ready."""
    from circuitcheck.advice.readiness import State
    from circuitcheck.sheets import write_plan

    checked = checked_source(arguments)
    state = write_plan(
        checked.report,
        checked.circuit,
        checked.book,
        checked.data,
        arguments.output,
        replace=arguments.replace,
        paper=arguments.paper,
    )
    answer, status = {
        State.STOP: ("STOP, call a licensed electrician first", statuses.FAILS),
        State.MUST_CHANGE: ("NOT READY, something must change first", statuses.FAILS),
        State.UNKNOWN: ("NOT READY, something is still unknown", statuses.UNDETERMINED),
        State.NOTHING_OPEN: ("nothing stands open on paper", statuses.FITS),
    }[state]
    put_written(f"{arguments.output}: {answer}.")
    return status
