"""The fixture schedule: what each added light and driver is, as a desk asks for it, and how new cable is run."""

from __future__ import annotations

from circuitcheck.circuit.model import Box, Cable, Circuit, Driver, Load
from circuitcheck.note.alike import alike_together
from circuitcheck.note.known import BLANK, UNKNOWN, physical, word, yes_no
from circuitcheck.note.part_words import cable_make, load_rating
from circuitcheck.paper import Cell, Column, Row, Section, Table

FIXTURE_COLUMNS = (
    Column("Fixture", 2.0),
    Column("Maker and model", 1.9),
    Column("Rated", 1.2),
    Column("Listing mark", 1.0),
    Column("Marked for", 1.0),
    Column("IC", 0.8),
    Column("Weight", 1.0),
    Column("Supply wire", 1.1),
)
METHOD_COLUMNS = (
    Column("New cable", 1.8),
    Column("Make", 1.9),
    Column("Run", 1.4),
    Column("Supports", 1.7),
    Column("Steel plates", 1.1),
    Column("Guard strips", 1.1),
    Column("Free conductor", 1.1),
)


def fixtures_section(circuit: Circuit) -> Section | None:
    """A row for each added light and driver, those alike in everything as one; None where none is added."""
    rows = [_fixture(load) for load in circuit.loads if load.is_added and load.kind != "receptacle"]
    rows += [_driver(driver) for driver in circuit.drivers if driver.is_added]
    if not rows:
        return None
    note = (
        "Maker and model: write them in, or attach the instructions. Marked for: dry, damp or wet locations. "
        "IC: marked for contact with insulation. Supply wire: the insulation temperature that the label requires."
    )
    return Section(
        "Fixture schedule",
        (Table("", FIXTURE_COLUMNS, tuple(alike_together(rows, spread=(2,), times=2)), note),),
        together=False,
    )


def _fixture(load: Load) -> Row:
    rating = load_rating(load)
    many = f"{load.pieces} × " if load.pieces != 1 else ""
    recessed = load.mounting in ("recessed", None)
    return Row(
        (
            Cell(load.id),
            BLANK if load.product is None else Cell(load.product),
            Cell(f"{many}{rating.text}" if rating.text else "", rating.known),
            yes_no(load, "listed", load.listed),
            word(load, "location_marked", load.location_marked),
            yes_no(load, "insulation_contact", load.insulation_contact) if recessed else Cell("not recessed"),
            physical(load.weight_kg, "lb"),
            _supply(load),
        )
    )


def _supply(load: Load) -> Cell:
    return physical(load.supply_temperature_c, "degC") if load.supply_temperature_c is not None else UNKNOWN


def _driver(driver: Driver) -> Row:
    return Row(
        (
            Cell(driver.id),
            BLANK if driver.product is None else Cell(driver.product),
            physical(driver.output_power_w, "W"),
            yes_no(driver, "listed", driver.listed),
            word(driver, "location_marked", driver.location_marked),
            Cell("driver"),
            Cell(""),
            Cell(""),
        )
    )


def method_section(circuit: Circuit, checklist: tuple[str, ...]) -> Section | None:
    """How each new cable is run and held, and what the new work still has to keep; None where nothing is added."""
    rows = [_method(cable) for cable in circuit.tree.branch_cables if cable.is_added]
    if not rows and not checklist:
        return None
    blocks: list[Table] = []
    if rows:
        blocks.append(Table("", METHOD_COLUMNS, tuple(alike_together(rows)), _covers(circuit)))
    if checklist:
        lines = tuple(Row((Cell("☐"), Cell(line))) for line in checklist)
        columns = (Column("Kept", 0.5), Column("What it has to keep", 9.5))
        blocks.append(Table("Checklist for the new work", columns, lines))
    return Section("Method", tuple(blocks), together=False)


def _method(cable: Cable) -> Row:
    return Row(
        (
            Cell(cable.id),
            cable_make(cable),
            word(cable, "run", cable.run),
            _supports(cable),
            yes_no(cable, "plates", cable.plates),
            yes_no(cable, "guard_strips", cable.guard_strips),
            physical(cable.free_length_m, "in"),
        )
    )


def _supports(cable: Cable) -> Cell:
    spacing, near = physical(cable.support_spacing_m, "ft"), physical(cable.support_from_box_m, "in")
    if not spacing.text and not near.text:
        return UNKNOWN
    told = [f"every {spacing.text}" if spacing.text else "", f"{near.text} from boxes" if near.text else ""]
    return Cell(", ".join(part for part in told if part))


def _covers(circuit: Circuit) -> str:
    """Whether every box of the circuit stays covered and within reach, as the file says."""
    open_boxes = [box for box in circuit.boxes if not (_settled(box))]
    if not open_boxes:
        return "Covers: every box is covered and within reach, as the file says."
    return f"Covers: {len(open_boxes)} of {len(circuit.boxes)} boxes are not given as covered and within reach."


def _settled(box: Box) -> bool:
    return bool(box.covered) and bool(box.reachable)
