"""Cable and its place: whether the kind of cable may run outdoors, in the ground or in a crawl space.

What it asks: the type of each added cable against where it runs.

Why: ordinary indoor cable soaks up water like a wick. Outdoors, in the ground, and in conduit there, its paper and
its sheath rot and its insulation fails.

What to do: outdoors and in the ground use cable or conductors made for it. In a crawl space that is not dry do the
same, and run small cable through bored holes or on running boards.

Cannot see: sunlight, how deep a cable is buried, corrosive air, and whether a crawl space stays dry. A cable inside a
wall that ends in an outdoor box counts as inside.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Row, Rulebook

#: The columns that a place may mean, the best first; a dry place has none.
DRY = ""
PLACES = {"outdoors": ("damp", "wet"), "underground": ("buried",), "crawl space": (DRY, "damp")}
INDOOR = "NM-B"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added branch cable outdoors, in the ground or in a crawl space."""
    table = book.table("cable-places")
    boards = book.value("small-cable-in-crawl-space")
    for cable in circuit.tree.branch_cables:
        if not is_added(cable) or cable.place not in PLACES:
            continue
        row = table.find(cable.type) if cable.type else None
        if row is not None:
            yield _finding(circuit, cable, row, boards.source, boards.text)
        elif cable.type is None and cable.place != "crawl space":
            yield Finding(
                check=RULE.name,
                subject=cable.id,
                outcome=Outcome.CAUTION,
                says=f"Choose for {cable.id} a cable that is made for wet places: it runs {cable.place}.",
                sources=tuple(dict.fromkeys(one.source for one in table.rows)),
                keys=(f"cable.{cable.id}.type",),
                to_do=("Use UF-B, or conductors for wet places in conduit.",),
            )


def _finding(circuit: Circuit, cable: Cable, row: Row, source: Source, boards: str) -> Finding:
    columns = PLACES[cable.place or ""]
    location = circuit.tree.box[cable.to_id].location
    if cable.place == "outdoors" and location in columns:
        columns = (location,)
    answers = {("yes" if column == DRY else row.text(column) or "ask") for column in columns}
    needs: tuple[str, ...] = ()
    ask: tuple[str, ...] = ()
    where = f"{cable.place}" if cable.place != "crawl space" else "in a crawl space"
    sources = [row.source]
    if answers == {"yes"}:
        outcome, says = Outcome.PASS, f"{cable.type} may run {where}, as cable {cable.id} does."
    elif answers == {"no"}:
        outcome, says = Outcome.FAIL, f"Cable {cable.id} is {cable.type}, which may not run {where}."
    elif "ask" in answers:
        outcome, says = (
            Outcome.CAUTION,
            f"Whether cable {cable.id} ({cable.type}) may run {where} depends on its marking.",
        )
        ask = (row.text("question") or "",)
    elif DRY in columns:
        outcome = Outcome.CAUTION
        says = f"Cable {cable.id} is {cable.type}, which may run in a crawl space only where that is always dry."
    else:
        outcome, needs = Outcome.UNDETERMINED, (f"box.{cable.to_id}.location",)
        says = f"Cable {cable.id} is {cable.type}: it may run outdoors in damp places, not in wet ones."
    if cable.type == INDOOR and DRY in columns and cable.run == "across framing":
        outcome, says = Outcome.CAUTION, f"Cable {cable.id} crosses the joists of a crawl space: {boards}"
        sources.append(source)
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=says,
        working=(f"place: {cable.place}; type: {cable.type}",),
        sources=tuple(sources),
        needs=needs,
        keys=(f"cable.{cable.id}.type", f"cable.{cable.id}.place"),
        to_do=() if outcome is Outcome.PASS else ("Use cable or conductors made for the place, or another way.",),
        ask=ask,
    )


RULE = Rule(
    name="cable-place",
    title="Cable of a kind that suits its place",
    family="site",
    uses=("cable-places", "value:small-cable-in-crawl-space"),
    check=check,
)
