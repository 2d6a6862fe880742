"""Writes the notes of our own examples beside them, each with the date of its file. Run: python making/make_notes.py"""

from __future__ import annotations

import hashlib
from datetime import date
from pathlib import Path

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_bytes
from circuitcheck.note import TOOL, note_outline
from circuitcheck.paper import Outline
from circuitcheck.paper.writing import rendered
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

EXAMPLES = Path(__file__).parents[1] / "examples"
NOTED = ("bedroom", "den", "hallway")
ENDINGS = (".md", ".html", ".pdf")

#: Texts that the tests hold the two plain forms against.
GOLDEN = Path(__file__).parents[1] / "tests" / "note" / "golden"


def outline(name: str) -> Outline:
    """The note of an example."""
    file = EXAMPLES / f"{name}.circuit.toml"
    data = file.read_bytes()
    circuit = read_bytes(data, file.name, vocabulary())
    book = load_rulebook(circuit.job.rulebook)
    made = date.fromisoformat(circuit.job.date or "2026-01-01")
    digest = hashlib.sha256(data).hexdigest()
    return note_outline(check(circuit, book), circuit, book, digest=digest, tool=TOOL, made=made)


def paths(name: str) -> tuple[Path, ...]:
    """The files that hold the note of an example."""
    return (*(EXAMPLES / f"{name}.note{ending}" for ending in ENDINGS), GOLDEN / f"{name}.txt")


def notes() -> dict[Path, bytes]:
    """Every note as its file holds it."""
    made: dict[Path, bytes] = {}
    for name in NOTED:
        note = outline(name)
        made.update((path, rendered(note, path, paper="letter")) for path in paths(name))
    return made


if __name__ == "__main__":
    GOLDEN.mkdir(exist_ok=True)
    for file, data in notes().items():
        file.write_bytes(data)
