"""The note of what stands on the workbench, written to a file."""

from __future__ import annotations

from pathlib import Path

from circuitcheck.checking import check
from circuitcheck.errors import CommandError
from circuitcheck.paper.writing import refuse_own_source
from circuitcheck.tables.rulebook import load_rulebook
from circuitcheck.ui.workbench import Workbench


def note_path(circuit_path: Path) -> Path:
    """The name to suggest: the circuit file's own, with note behind it."""
    stem = circuit_path.name.removesuffix(".toml").removesuffix(".circuit")
    return circuit_path.with_name(f"{stem}-note.html")


def write_note_of(bench: Workbench, path: Path, *, replace: bool) -> None:
    """Writes the note on the circuit as it stands. Raises: CircuitcheckError with a sentence for people."""
    checked = bench.checked
    if checked is None or checked.report is None or checked.circuit is None:
        raise CommandError("there is no answer yet to write down")
    from circuitcheck.note import write_note

    refuse_own_source(bench.document.path, path)
    book = load_rulebook(checked.report.rulebook)
    write_note(
        checked.report if checked.is_whole else check(checked.circuit, book),  # for paper every rule is asked
        checked.circuit,
        book,
        bench.document.text.encode(),
        path,
        replace=replace,
        paper="letter",
    )
