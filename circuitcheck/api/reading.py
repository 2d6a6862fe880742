"""Reading circuits and checking them, from Python."""

from __future__ import annotations

from dataclasses import replace
from os import PathLike, fspath
from pathlib import Path
from typing import TYPE_CHECKING

from circuitcheck.api.circuit import Circuit
from circuitcheck.api.report import Report
from circuitcheck.circuit import model, reader
from circuitcheck.errors import CommandError, nearest
from circuitcheck.tables.rulebook import editions, load_rulebook, vocabulary

if TYPE_CHECKING:
    from circuitcheck.api.found_fixes import Fixes


def rulebooks() -> tuple[str, ...]:
    """The names of the editions that a circuit can be checked under, oldest first."""
    return editions()


def read_file(path: str | PathLike[str]) -> Circuit:
    """The circuit in a file.

    Raises: CircuitFileError, whose ``problems`` name line, key, what was given and what is allowed.
    """
    return Circuit(reader.read_file(Path(fspath(path)), vocabulary()))


def read_text(text: str, *, name: str = "text") -> Circuit:
    """The circuit in a text; ``name`` stands for its file in messages. Raises: CircuitFileError."""
    return Circuit(reader.read_circuit(text, name, vocabulary()))


def check(circuit: Circuit, *, rulebook: str | None = None, advice: bool = False) -> Report:
    """Everything there is to say about a circuit; ``rulebook`` takes the place of the one its file names.

    ``advice``: also what to find out first and how much room is left, which asks the checks again many times.

    Raises: CommandError for a rulebook that is not among ``rulebooks()``.
    """
    from circuitcheck.checking import check as check_circuit

    held = circuit.model if rulebook is None else _under(circuit.model, rulebook)
    book = load_rulebook(held.job.rulebook)
    report = check_circuit(held, book)
    if advice:
        from circuitcheck.advice.advised import advised

        report = advised(report, held, book)
    return Report(report)


def fixes(circuit: Circuit, *, rulebook: str | None = None) -> Fixes:
    """Changes to the plan that were carried out in memory and re-checked in full, the smallest first.

    Raises: CommandError for a rulebook that is not among ``rulebooks()``.
    """
    from circuitcheck.advice.fixes import fixes_of
    from circuitcheck.api.found_fixes import Fixes

    held = circuit.model if rulebook is None else _under(circuit.model, rulebook)
    return Fixes(fixes_of(held, load_rulebook(held.job.rulebook)), held)


def check_file(path: str | PathLike[str], *, rulebook: str | None = None, advice: bool = False) -> Report:
    """Read a file and check it; see ``check``. Raises: CircuitFileError, CommandError."""
    return check(read_file(path), rulebook=rulebook, advice=advice)


def _under(circuit: model.Circuit, rulebook: str) -> model.Circuit:
    if rulebook not in editions():
        near = nearest(rulebook, editions())
        raise CommandError(f'there is no rulebook "{rulebook}"' + (f'; did you mean "{near}"?' if near else ""))
    return replace(circuit, job=replace(circuit.job, rulebook=rulebook))
