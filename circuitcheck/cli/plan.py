"""``circuitcheck plan FILE -o OUT``: the work plan for whoever does the work."""

from __future__ import annotations

import argparse

from circuitcheck.cli.sheets import add_file_argument, add_output_arguments, write_with_verdict


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file and what every written sheet asks."""
    add_file_argument(parser)
    add_output_arguments(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the plan. Returns the status of the verdict that it rests on."""
    from circuitcheck.sheets import write_plan

    return write_with_verdict(arguments, write_plan)
