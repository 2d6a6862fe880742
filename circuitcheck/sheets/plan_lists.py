"""The cut list and the list of materials of a plan, with where every figure comes from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.advice.cutting import Cut, CutList
from circuitcheck.advice.item import Item, span_words
from circuitcheck.circuit.model import PANEL
from circuitcheck.findings import Source, Status, merge_sources
from circuitcheck.note.alike import told_once
from circuitcheck.note.known import physical
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Known, Listing, Paragraph, Row, RowKind, Section, Table, Tone
from circuitcheck.quantities import shown
from circuitcheck.tables.rulebook import Rulebook

CUT_COLUMNS = (
    Column("Run", 1.8),
    Column("From", 1.5),
    Column("To", 1.5),
    Column("Box to box", 1.6, numeric=True),
    Column("Left free at each box", 1.1, numeric=True),
    Column("Cut", 1.4, numeric=True),
)
ITEM_COLUMNS = (Column("How many", 1.2), Column("What", 3.2), Column("Where", 2.0), Column("Why", 3.4))


def cut_section(cuts: CutList) -> Section | None:
    """Each added run; None without one."""
    if not cuts.cuts:
        return None
    rows = tuple(told_once([_cut_row(cut) for cut in cuts.cuts]))
    blocks: list[Table | Paragraph] = [Table("", CUT_COLUMNS, rows, _cut_note(cuts))]
    if any(cut.piece is None for cut in cuts.cuts):
        words = "Where the run is not known, measure it along the way that the cable will take, ups and downs included."
        blocks.append(Paragraph(words, Tone.CAUTION))
    return Section("Cut list", tuple(blocks), together=False)


def _cut_row(cut: Cut) -> Row:
    cable = cut.cable
    free = "see the panel" if cut.at_panel and cable.to_id == PANEL else shown(cut.free_m, "in")
    piece = cut.piece
    return Row(
        (
            Cell(cable.id),
            Cell(cable.from_id),
            Cell(cable.to_id),
            physical(cable.length_m, "ft"),
            Cell(free),
            Cell(span_words(piece.low, piece.high, "ft"), strong=True)
            if piece is not None
            else Cell("", Known.UNKNOWN),
        )
    )


def _cut_note(cuts: CutList) -> str:
    at_panel = (
        " What goes into the panel is the electrician's to add." if any(cut.at_panel for cut in cuts.cuts) else ""
    )
    return (
        f"Cut = the run, and at each box the free conductor and a little sheath. Waste ({100 * cuts.waste:g} %) comes "
        f"on top, in the list of materials. A small box opening may ask for more free conductor.{at_panel} "
        f"From: {sources_words(cuts.sources)}."
    )


def materials_section(items: Sequence[Item]) -> Section:
    """Every line under its heading."""
    rows: list[Row] = []
    group = None
    for item in items:
        if item.group is not group:
            group = item.group
            rows.append(Row((Cell(str(group)),), RowKind.GROUP))
        why = f"{item.why}. {sources_words(item.sources)}" if item.sources else f"{item.why}. Common practice"
        cells = (Cell(item.amount, strong=True), Cell(typeset(item.what)), Cell(item.where), Cell(typeset(why)))
        rows.append(Row(cells))
    note = (
        "Counted from the circuit file. Not counted: nails and screws of the boxes, tools, patching, and whatever the "
        "leaflets of the parts ask for besides."
    )
    if not rows:
        return Section("Materials", (Paragraph("The file adds nothing to this circuit."),))
    return Section("Materials", (Table("", ITEM_COLUMNS, tuple(rows), note),), together=False)


def sources_words(sources: Iterable[Source]) -> str:
    """Where figures stand, each place once: ``NFPA 70 2023: 334.30; 314.17``, ``common practice``."""
    places: dict[str, list[str]] = {}
    for source in sources:
        if source.status is Status.COMMON_PRACTICE:
            places.setdefault("common practice", [])
            continue
        doubt = " (from memory)" if source.status is Status.FROM_MEMORY else ""
        named = places.setdefault(f"{source.document} {source.edition}", [])
        if source.place + doubt not in named:
            named.append(source.place + doubt)
    return "; ".join(f"{document}: {', '.join(named)}" if named else document for document, named in places.items())


def sources_section(items: Sequence[Item], cuts: CutList, book: Rulebook) -> Section:
    """How sure the figures of this plan are: what was compared with a source, and what was not yet."""
    sources = merge_sources(cuts.sources, *(item.sources for item in items))
    memory = [source for source in sources if source.status is Status.FROM_MEMORY]
    practice = [source for source in sources if source.status is Status.COMMON_PRACTICE]
    lines = [f"Reckoned by {book.title}; which edition is in force, the permit office says."]
    if memory:
        lines.append(f"Used from memory, not yet compared with a source: {sources_words(memory)}.")
    if practice:
        places = ", ".join(dict.fromkeys(source.place for source in practice if source.place))
        lines.append(f"Common practice, in no code: {places}.")
    return Section("Where the figures come from", (Listing(tuple(lines)),))
