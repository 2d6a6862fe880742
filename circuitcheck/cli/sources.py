"""From a file name on the command line to a checked circuit."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from circuitcheck.errors import CommandError, nearest

if TYPE_CHECKING:
    from circuitcheck.circuit.model import Circuit
    from circuitcheck.findings import Report
    from circuitcheck.tables.rulebook import Rulebook

STANDARD_INPUT = "-"


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
    from circuitcheck.circuit.reader import read_bytes, read_circuit
    from circuitcheck.tables.rulebook import editions, load_rulebook, vocabulary

    data = sys.stdin.buffer.read() if name == STANDARD_INPUT else read_bytes(name)
    shown = shown_as or ("standard input" if name == STANDARD_INPUT else name)
    circuit = read_circuit(data, shown, vocabulary())
    if rulebook is not None:
        if rulebook not in editions():
            near = nearest(rulebook, editions())
            raise CommandError(f'there is no rulebook "{rulebook}"' + (f'; did you mean "{near}"?' if near else ""))
        circuit = replace(circuit, job=replace(circuit.job, rulebook=rulebook))
    book = load_rulebook(circuit.job.rulebook)
    return Checked(data=data, circuit=circuit, book=book, report=check(circuit, book))
