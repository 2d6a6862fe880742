"""The last sheet: room for a sketch, the photos to bring, other questions, sources by section, and the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Report
from circuitcheck.note.asked import questions_left
from circuitcheck.note.causes import quoted
from circuitcheck.note.rules_table import sources_by_place
from circuitcheck.note.summary import touched_boxes
from circuitcheck.outcomes import check_words
from circuitcheck.paper import Listing, Paragraph, Section, Squares, Tone
from circuitcheck.safety import SHORT
from circuitcheck.tables.rulebook import Rulebook

#: Rows of squares that a sketch has at the least.
ROWS = 6

#: Boxes that the list of photos names one by one.
MOST_BOXES = 6

#: Questions that are listed; the report has the others.
MOST_QUESTIONS = 12

SYMBOLS = (
    "Sketch of the floor or attic, a square for a foot. Symbols: □ box, ⊗ light, S switch, S3 three-way switch, "
    "⊖ outlet, dashes for new cable, H the attic hatch, P the panel."
)


def sketch_section() -> Section:
    """Squared paper with the symbols to use."""
    return Section("Sketch", (Paragraph(SYMBOLS, Tone.SMALL), Squares(ROWS)), together=False)


def photos_section(circuit: Circuit) -> Section:
    """The pictures to bring, numbered so that a remark can name one, each with a box to tick."""
    return Section("Photos to bring", (Listing(tuple(_photos(circuit)), boxes=True, numbered=True),))


def _photos(circuit: Circuit) -> Iterator[str]:
    yield "The breaker's handle and the label inside the panel's door; the panel's own cover stays on."
    cables = [cable.id for cable in circuit.tree.branch_cables if not cable.is_added]
    if cables:
        yield f"The print on the sheath of {quoted(cables, MOST_BOXES)}."
    existing = [box.id for box in touched_boxes(circuit) if not box.is_added]
    if existing:
        yield f"Inside {quoted(existing, MOST_BOXES)}, with the marked volume: breaker off, locked, tested dead first."
    lights = [load.id for load in circuit.loads if load.is_added and load.kind != "receptacle"]
    lights += [driver.id for driver in circuit.drivers if driver.is_added]
    if lights:
        yield f"The label of each new fixture: {quoted(lights, MOST_BOXES)}."
    yield "The route of the new cable, with the location of each new box."


def questions_section(report: Report, circuit: Circuit, book: Rulebook) -> Section | None:
    """The questions for which the first page had no room; None where there are none."""
    left = questions_left(report)
    if not left:
        return None
    more = (f"And {len(left) - MOST_QUESTIONS} more, which circuitcheck check lists.",)
    shown = (*left[:MOST_QUESTIONS], *(more if len(left) > MOST_QUESTIONS else ()))
    return Section("Other questions", (Paragraph(" · ".join(shown)),), joined=True)


def sources_section(findings: Sequence[Finding], book: Rulebook, digest: str) -> Section:
    """Where every value stands, by section, with the checks that rest on it; and the file that it is all about."""
    told = " · ".join(
        f"{place}: {', '.join(map(check_words, checks))}" for place, checks in sources_by_place(findings, book).items()
    )
    file = f"Whole SHA-256 of the circuit file: {digest}"
    return Section(
        f"Sources by section, {book.title}", (Paragraph(told, Tone.SMALL), Paragraph(file, Tone.SMALL)), joined=True
    )


def cautions_section() -> Section:
    """The short safety text, at the very end."""
    return Section("Before anything is opened", tuple(Paragraph(line, Tone.SMALL) for line in SHORT[1:]), joined=True)
