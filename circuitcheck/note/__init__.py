"""The note: the circuit, the answer and everything it rests on, on paper for an electrician or inspector."""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path

from circuitcheck import __version__
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Report
from circuitcheck.note.sheet import note_outline
from circuitcheck.paper import write_outline
from circuitcheck.paper.writing import refuse_output
from circuitcheck.tables.rulebook import Rulebook

__all__ = ["note_outline", "write_note"]

TOOL = f"circuitcheck {__version__}"


def write_note(
    report: Report,
    circuit: Circuit,
    book: Rulebook,
    data: bytes,
    output: Path,
    *,
    replace: bool,
    paper: str = "letter",
    made: date | None = None,
) -> None:
    """Write the note to ``output``; its ending chooses the form (.html, .pdf, .md, .txt).

    data: the circuit file's bytes, of which the note carries the SHA-256. made: the note's date; left out, today.

    Raises: CommandError, with nothing written.
    """
    refuse_output(output, replace=replace)
    digest = hashlib.sha256(data).hexdigest()
    outline = note_outline(report, circuit, book, digest=digest, tool=TOOL, made=made or date.today())
    write_outline(outline, output, replace=replace, paper=paper)
