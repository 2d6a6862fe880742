"""The subcommands: name, what it does in a line, and the module that does it.

A module has ``add_arguments(parser)`` and ``run(arguments) -> exit status``. To add a subcommand, add both.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from importlib import import_module
from typing import Protocol, cast


class Command(Protocol):
    """What a subcommand's module offers."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        """Declare the subcommand's arguments."""

    def run(self, arguments: argparse.Namespace) -> int:
        """Carry it out. Returns the exit status. Raises: CircuitcheckError for what the user can put right."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the list: ``module`` is the name under ``circuitcheck.cli``; ``stays_open`` until the user leaves."""

    module: str
    does: str
    stays_open: bool = False

    def load(self) -> Command:
        """The module, imported now."""
        return cast(Command, import_module(f"circuitcheck.cli.{self.module}"))


COMMANDS: dict[str, Entry] = {
    "check": Entry("check", "check circuit files and print the findings"),
    "fixes": Entry("fixes", "list changes to the plan that were checked again, smallest first"),
    "demo": Entry("demo", "the main job on a bundled example: findings on screen, note beside"),
    "edit": Entry("edit", "open a circuit file in the terminal", stays_open=True),
    "compare": Entry("compare", "show what differs between files, editions of the code, or circuits of the house"),
    "box": Entry("box", "count one box from what is in it, without a circuit file"),
    "note": Entry("note", "write the note for an electrician or inspector"),
    "survey": Entry("survey", "write a sheet to walk the house with"),
    "plan": Entry("plan", "write the work plan for whoever does the work"),
    "serve": Entry("serve", "show the terminal screens in a browser on this machine", stays_open=True),
    "product": Entry("product", "copy one of your own products into a circuit file"),
    "tidy": Entry("tidy", "write a circuit file in the short or the long form, comments kept"),
    "schema": Entry("schema", "print the schema of the circuit file for an editor, or of the report"),
    "tables": Entry("tables", "list rulebooks and tables with their sources, or print one"),
    "completion": Entry("completion", "print the completion script for a shell"),
    "self-test": Entry("self_test", "try what is installed here: checks, PDF, screens, browser"),
}
