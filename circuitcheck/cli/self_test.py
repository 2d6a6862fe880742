"""``circuitcheck self-test``: what is installed here and whether it works, tried and not only looked up."""

from __future__ import annotations

import argparse
import os
import platform
import shutil
import sys
import textwrap
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from circuitcheck import __version__
from circuitcheck.cli import statuses
from circuitcheck.cli.streams import page_width, put
from circuitcheck.text import shown_text

EXAMPLE = "hallway.circuit.toml"

#: Counted by hand for the box "attic" of the example: six 14 AWG conductors, a set of clamps and a set of grounds at
#: 2.00 in^3 each (NFPA 70 2023, Table 314.16(B)(1)) against the 15.5 in^3 of a 4 x 1-1/2 octagon (Table 314.16(A)).
_NEEDED_IN3, _ROOM_IN3 = 16.0, 15.5


@dataclass(frozen=True, slots=True)
class Trial:
    """What one trial gave. ``works`` is None for what is not installed, which is no fault."""

    works: bool | None
    says: str


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """It takes none."""


def run(arguments: argparse.Namespace) -> int:
    """Try everything. Returns 0 when all that is installed works, else the status of a fault of the program."""
    put(f"circuitcheck {__version__}, Python {platform.python_version()}, {platform.system()} {platform.machine()}\n")
    put(f"{shown_text(sys.executable or 'built into one file')}\n\n")
    faulty = False
    for name, trial in TRIALS.items():
        given = _tried(trial)
        faulty = faulty or given.works is False
        word = {True: "works", False: "FAULT", None: "not installed"}[given.works]
        put(_row(name, word, given.says))
    put(_row("terminal", "", _terminal()))
    put(_row("settings", "", _settings()))
    put("\nThis tries the program, not a house: turn off the breaker and test that wires are dead all the same.\n")
    return statuses.FAULT if faulty else statuses.FITS


def _row(name: str, word: str, says: str) -> str:
    head = f"{name:10}{word:15}"
    lines = textwrap.wrap(shown_text(says), page_width(), initial_indent=head, subsequent_indent=" " * len(head))
    return "\n".join(lines) + "\n"


def _tried(trial: Callable[[], Trial]) -> Trial:
    try:
        return trial()
    except Exception as fault:  # a trial that stops is an answer too, and the others still matter
        return Trial(False, f"{type(fault).__name__}: {fault}")


def _check() -> Trial:
    from circuitcheck.cli.examples import example_file
    from circuitcheck.cli.sources import check_file

    with example_file(EXAMPLE) as path:
        report = check_file(str(path), shown_as=EXAMPLE).report
    if report.faults:
        return Trial(False, "; ".join(fault.line for fault in report.faults))
    found = {(finding.check, finding.subject): finding for finding in report.findings}
    box = found["box-fill", "attic"]
    if (box.value, box.limit) != (_NEEDED_IN3, _ROOM_IN3):
        return Trial(False, f"the example's box counts {box.value} of {box.limit} in^3, by hand {_NEEDED_IN3}")
    return Trial(True, f"the example's overfull box counts as by hand; {len(report.findings)} findings")


def _tables() -> Trial:
    from circuitcheck.tables.rulebook import editions, load_rulebook

    counts = {name: sum(len(table.rows) for table in load_rulebook(name).tables.values()) for name in editions()}
    return Trial(True, ", ".join(f"{name} ({count} rows)" for name, count in counts.items()))


def _pdf() -> Trial:
    from circuitcheck.cli.examples import example_file
    from circuitcheck.cli.sources import check_file
    from circuitcheck.note import TOOL, note_outline
    from circuitcheck.paper.trying import try_pdf

    with example_file(EXAMPLE) as path:
        checked = check_file(str(path), shown_as=EXAMPLE)
    outline = note_outline(checked.report, checked.circuit, checked.book, digest="", tool=TOOL, made=date(2026, 1, 1))
    trial = try_pdf(outline)
    if trial is None:
        return Trial(None, "it comes with the extra pdf; without it: notes as .html, .md and .txt")
    numbers = f"; {', '.join(trial.numbers)} would stand as numbers" if trial.numbers else ""
    return Trial(True, f"the note was set with typst {trial.version}; letters: {', '.join(trial.letters)}{numbers}")


def _screens() -> Trial:
    from circuitcheck.ui.trying import try_screens

    return Trial(True, f"the start page opens, with textual {try_screens()}")


def _browser() -> Trial:
    from circuitcheck.ui.trying import try_serving

    version = try_serving()
    if version is None:
        return Trial(None, "it comes with the extra serve, for circuitcheck serve")
    return Trial(True, f"textual-serve {version}")


def _terminal() -> str:
    from circuitcheck.cli.colors import has_colors

    encoding = sys.stdout.encoding or "unknown"
    if not sys.stdout.isatty():
        return f"the output is no terminal; encoding {encoding}"
    size = shutil.get_terminal_size()
    small = "" if size.columns >= 80 and size.lines >= 24 else "; the screens want 80 by 24"
    colors = "colors" if has_colors(sys.stdout) else "no colors"
    return f"{size.columns} by {size.lines}{small}; {colors}; encoding {encoding}; TERM={os.environ.get('TERM', '')}"


def _settings() -> str:
    from circuitcheck.ui.settings import settings_path

    return f"the screens keep recent files in {settings_path()}"


#: What is tried, by name, in this order.
TRIALS: dict[str, Callable[[], Trial]] = {
    "check": _check,
    "tables": _tables,
    "pdf": _pdf,
    "screens": _screens,
    "browser": _browser,
}
