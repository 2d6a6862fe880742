"""From a file name on the command line to a checked circuit."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from circuitcheck.errors import CommandError

if TYPE_CHECKING:
    from circuitcheck.circuit.model import Circuit
    from circuitcheck.findings import Report
    from circuitcheck.tables.rulebook import Rulebook

STANDARD_INPUT = "-"
_SHOWN_INPUT = "standard input"


@dataclass(frozen=True, slots=True)
class Checked:
    """A circuit file, what it says, the rulebook it was held against, and the report. ``data`` is the file's bytes."""

    data: bytes
    circuit: Circuit
    book: Rulebook
    report: Report


def check_file(name: str, rulebook: str | None = None, *, shown_as: str | None = None) -> Checked:
    """Read and check one file, or standard input for ``-``.

    ``rulebook`` takes the place of the one the file names; ``shown_as`` is the name that the report carries.

    Raises: CircuitFileError with every problem of the file; CommandError for an unknown rulebook.
    """
    from circuitcheck.checking import check
    from circuitcheck.circuit.reader import read_bytes
    from circuitcheck.tables.rulebook import editions, load_rulebook, vocabulary

    shown = shown_as or (_SHOWN_INPUT if name == STANDARD_INPUT else name)
    data = bytes_of(name)
    circuit = read_bytes(data, shown, vocabulary())
    if rulebook is not None:
        if rulebook not in editions():
            raise CommandError(f'there is no rulebook "{rulebook}"; the rulebooks are {", ".join(editions())}')
        circuit = replace(circuit, job=replace(circuit.job, rulebook=rulebook))
    book = load_rulebook(circuit.job.rulebook)
    return Checked(data=data, circuit=circuit, book=book, report=check(circuit, book))


def under_each_edition(checked: Checked) -> dict[str, Report]:
    """The report under each edition of the book that the file was held against, oldest first."""
    from circuitcheck.checking import check
    from circuitcheck.tables.rulebook import editions_beside, load_rulebook

    reports = {checked.book.edition: checked.report}
    for edition in editions_beside(checked.book.edition):
        if edition not in reports:
            circuit = replace(checked.circuit, job=replace(checked.circuit.job, rulebook=edition))
            reports[edition] = check(circuit, load_rulebook(edition))
    return {edition: reports[edition] for edition in editions_beside(checked.book.edition)}


def bytes_of(name: str) -> bytes:
    """The bytes of a file or of standard input. Raises: CircuitFileError when they cannot be read or are too many."""
    from circuitcheck.circuit.toml_text import LARGEST_FILE, one_problem, read_bytes

    if not name:
        raise CommandError("the name of a file is empty")
    if name != STANDARD_INPUT:
        return read_bytes(Path(name))
    if sys.stdin is None:
        raise one_problem(_SHOWN_INPUT, None, "it is closed, so there is nothing to read")
    data = sys.stdin.buffer.read(LARGEST_FILE + 1)
    if len(data) > LARGEST_FILE:
        raise one_problem(_SHOWN_INPUT, None, f"more than {LARGEST_FILE / 1e6:.0f} MB; no circuit file is that large")
    return data
