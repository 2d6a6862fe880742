"""The cut list and the list of materials of a plan, with where every figure comes from."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from circuitcheck.advice.cutting import Cut, CutList, Span
from circuitcheck.advice.item import Item, piece_words
from circuitcheck.findings import Source, Status, merge_sources
from circuitcheck.note.alike import SHORT, alike_together
from circuitcheck.note.known import physical
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Known, Listing, Paragraph, Row, RowKind, Section, Table, Tone
from circuitcheck.quantities import in_unit, rounded_up
from circuitcheck.tables.rulebook import Rulebook

#: The book whose section numbers stand without its name.
BOOK = "NFPA 70"

_SECTION = re.compile(r"\d{3}\.\d+")

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
    rows = [_cut_row(cut, cuts.metric) for cut in cuts.cuts]
    columns: tuple[Column, ...] = CUT_COLUMNS
    if len(rows) > SHORT:  # without the ends, runs that are cut alike can be told once
        rows = alike_together([Row((row.cells[0], *row.cells[3:])) for row in rows])
        columns = (CUT_COLUMNS[0], *CUT_COLUMNS[3:])
    blocks: list[Table | Paragraph] = [Table("", columns, tuple(rows), _cut_note(cuts))]
    if any(cut.piece is None for cut in cuts.cuts):
        words = (
            "Where the run is not known, measure it along the route that the cable will take, ups and downs included."
        )
        blocks.append(Paragraph(words, Tone.CAUTION))
    return Section("Cut list", tuple(blocks), together=False)


def _cut_row(cut: Cut, metric: bool) -> Row:
    cable = cut.cable
    unit = "cm" if metric else "in"
    free = f"{rounded_up(in_unit(cut.free_m, unit))} {unit}"
    piece = cut.piece
    return Row(
        (
            Cell(cable.id),
            Cell(cable.from_id),
            Cell(cable.to_id),
            physical(cable.length_m, "ft"),
            Cell(free),
            _piece_cell(piece, metric),
        )
    )


def _piece_cell(piece: Span | None, metric: bool) -> Cell:
    if piece is None:
        return Cell("", Known.UNKNOWN)
    return Cell(piece_words(piece.low, piece.high, metric=metric), strong=True)


def _cut_note(cuts: CutList) -> str:
    at_panel = (
        " What goes into the panel is the electrician's to add." if any(cut.at_panel for cut in cuts.cuts) else ""
    )
    return (
        f"Cut = the run, and at each box the free conductor and a little sheath. Waste ({100 * cuts.waste:g} %) comes "
        f"on top, in the list of materials. A small box opening may require more free conductor.{at_panel} "
        f"[{sources_words(cuts.sources)}]"
    )


def materials_section(items: Sequence[Item]) -> Section:
    """Every line under its heading."""
    note = (
        "Counted from the circuit file; in brackets the section or the practice that a line comes from. Not counted: "
        "nails and screws of the boxes, tools, patching, and whatever else the parts' instructions require."
    )
    if not items:
        return Section("Materials", (Paragraph("The file adds nothing to this circuit."),))
    return Section("Materials", (items_table("", items, note),), together=False)


def items_table(title: str, items: Sequence[Item], note: str = "") -> Table:
    """The lines, grouped, each with where its rule or practice stands."""
    rows: list[Row] = []
    group = None
    for item in items:
        if item.group is not group:
            group = item.group
            rows.append(Row((Cell(str(group)),), RowKind.GROUP))
        why = f"{item.why} [{sources_words(item.sources) or 'common practice'}]"
        cells = (Cell(item.amount, strong=True), Cell(typeset(item.what)), Cell(item.where), Cell(typeset(why)))
        rows.append(Row(cells))
    return Table(title, ITEM_COLUMNS, tuple(rows), note)


def sources_words(sources: Iterable[Source]) -> str:
    """Where a figure stands, as short as a column is wide: ``334.30, 314.17``, ``common practice``."""
    doubted: dict[str, bool] = {}
    for source in sources:
        if source.status is Status.COMMON_PRACTICE:
            places = [str(source.status)]
        else:
            places = _SECTION.findall(source.place) if source.document == BOOK else [source.document]
        for place in places:
            doubted[place] = doubted.get(place, False) or source.status is Status.FROM_MEMORY
    return ", ".join(f"{place} (from memory)" if doubt else place for place, doubt in doubted.items())


def _whole_words(sources: Iterable[Source]) -> str:
    return "; ".join(dict.fromkeys(f"{source.document} {source.edition} {source.place}" for source in sources))


def sources_section(items: Sequence[Item], cuts: CutList, book: Rulebook) -> Section:
    """How sure the figures of this plan are: what was compared with a source, and what was not yet."""
    sources = merge_sources(cuts.sources, *(item.sources for item in items))
    memory = [source for source in sources if source.status is Status.FROM_MEMORY]
    practice = [source for source in sources if source.status is Status.COMMON_PRACTICE]
    lines = [
        f"Numbers in square brackets are sections of NFPA 70 as {book.title} has them; which edition is in force, the "
        "permit office says."
    ]
    if memory:
        lines.append(f"Used from memory, not yet compared with a source: {_whole_words(memory)}.")
    if practice:
        places = ", ".join(dict.fromkeys(source.place for source in practice if source.place))
        lines.append(f"Common practice, in no code: {places}.")
    return Section("Where the figures come from", (Listing(tuple(lines)),))
