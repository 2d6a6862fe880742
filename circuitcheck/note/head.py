"""The top of the note: what is planned and where, who does it, and the circuit at the panel."""

from __future__ import annotations

from pathlib import PurePath

from circuitcheck.circuit.model import Cable, Circuit, Load
from circuitcheck.note.known import BLANK, physical, word, yes_no
from circuitcheck.note.part_words import joined
from circuitcheck.paper import Blank, Cell, Facts, Known, Paragraph, Section, Tone
from circuitcheck.quantities import shown
from circuitcheck.tables.rulebook import Rulebook

LEGEND = (
    "How a value is known stands beside it: ● measured, ◆ read from a label, ≈ guessed, ? not known. "
    "No mark: given in the file without how it is known."
)

#: How much of the file's SHA-256 stands on the first page; the whole of it stands at the end.
SHORT_DIGEST = 12

#: More added lights than this are counted and not named.
MOST_NAMED = 6


def job_block(circuit: Circuit, book: Rulebook, digest: str) -> Facts:
    """Where it is, who can be reached, which edition, and which file: what a desk looks for first."""
    job = circuit.job
    return Facts(
        (
            ("Job address", word(job, "place", job.place) if job.place else BLANK),
            ("Permit number", BLANK),
            ("Code edition used", Cell(book.title)),
            ("In force here?", Cell("☐ yes   ☐ no, this one:")),
            ("Phone", BLANK),
            ("Date surveyed", word(job, "date", job.date) if job.date else BLANK),
            ("Filled in by", word(job, "prepared_by", job.prepared_by) if job.prepared_by else BLANK),
            ("Circuit file", Cell(f"{PurePath(circuit.file).name}, {digest[:SHORT_DIGEST]}")),
        )
    )


def people_section(circuit: Circuit) -> Section:
    """Who owns, lives there and works, the permit, the house, the circuit at the panel and what was read there."""
    site = circuit.site
    pairs: list[tuple[str, Cell]] = [
        ("Room of the new lights", word(site, "room", site.room)),
        ("Does the owner live there?", yes_no(site, "owner_occupied", site.owner_occupied)),
        ("Dwellings in the building", word(site, "dwelling_units", site.dwelling_units)),
        ("Who does the work?", word(site, "work_by", site.work_by)),
        ("Permit?", word(site, "permit", site.permit)),
        ("House wired (year)", word(site, "wired", site.wired)),
        ("Danger signs", _signs(circuit)),
    ]
    section = panel_section(circuit)
    facts, *rest = section.blocks
    assert isinstance(facts, Facts)  # noqa: S101 - made so below
    return Section(
        "Job and panel",
        (Facts((*pairs, *facts.pairs)), *rest, Paragraph(LEGEND, Tone.SMALL)),
        together=False,
        new_page=True,
    )


def scope(circuit: Circuit, *, with_names: bool = True) -> str:
    """The planned work in a sentence. ``with_names``: what is added by name, where that is not too much."""
    lights = [load for load in circuit.loads if load.is_added]
    drivers = [driver for driver in circuit.drivers if driver.is_added]
    low = [light for light in circuit.low_voltage_loads if light.is_added]
    boxes = [box for box in circuit.boxes if box.is_added]
    runs = [cable for cable in circuit.cables if cable.is_added]
    if not (lights or drivers or low or boxes or runs):
        return "Planned: nothing is added. The sheet shows the circuit as it is."
    pieces = sum(load.pieces for load in lights)

    def named(names: list[str]) -> str:
        return _named(names) if with_names else ""

    parts = [
        _counted(pieces, _called(lights), named([load.id for load in lights])) if lights else "",
        _counted(len(drivers), "driver", named([driver.id for driver in drivers])) if drivers else "",
        _counted(len(low), "low-voltage light", named([light.id for light in low])) if low else "",
        _counted(len(boxes), "box", "") if boxes else "",
        _runs(runs) if runs else "",
    ]
    existing = {box.id for box in circuit.boxes if not box.is_added} | {"panel"}
    taken = dict.fromkeys(cable.from_id for cable in runs if cable.from_id in existing)
    source = f", from {', '.join(_source(node) for node in taken)}" if taken else ""
    return f"Planned: add {joined(parts)}{source}."


def _called(loads: list[Load]) -> str:
    """What they are called together: lights where all are."""
    return "light" if all(load.kind == "light" for load in loads) else "load"


def _source(node: str) -> str:
    return "the panel" if node == "panel" else f"the existing box “{node}”"


def _counted(count: int, noun: str, names: str) -> str:
    plural = noun if count == 1 else f"{noun}es" if noun.endswith("x") else f"{noun}s"
    return f"{count} {plural}{f' ({names})' if names else ''}"


def _named(names: list[str]) -> str:
    return ", ".join(names) if len(names) <= MOST_NAMED else ""


def _runs(runs: list[Cable]) -> str:
    known = [cable.length_m for cable in runs if cable.length_m is not None]
    count = _counted(len(runs), "run", "")
    if not known:
        return f"{count} of cable"
    low, high = sum(one.low for one in known), sum(one.high for one in known)
    length = shown(high, "ft") if low == high else f"{shown(low, 'ft')} to {shown(high, 'ft')}"
    unknown = len(runs) - len(known)
    more = f" and {unknown} of unknown length" if unknown else ""
    return f"{count} of cable ({length} in all{more})"


def _signs(circuit: Circuit) -> Cell:
    signs = circuit.site.signs
    if signs is None:
        return Cell("not looked for yet", Known.UNKNOWN)
    return word(circuit.site, "signs", ", ".join(signs) if signs else "looked for, none seen")


def panel_section(circuit: Circuit) -> Section:
    """Breaker or fuse, panel, voltage, and what was read with a meter."""
    supply = circuit.supply
    pairs: list[tuple[str, Cell]] = [
        ("Breaker or fuse", _device(circuit)),
        ("Nominal voltage", physical(supply.voltage_v, "V")),
        ("Arc-fault or ground-fault", word(supply, "protection", supply.protection)),
        ("Shares its neutral", yes_no(supply, "shared_neutral", supply.shared_neutral)),
        ("Panel", word(supply, "panel", supply.panel) if supply.panel else BLANK),
        ("Slot", word(supply, "slot", supply.slot) if supply.slot else BLANK),
        ("Poles", word(supply, "poles", supply.poles)),
        ("Kind of circuit", word(supply, "serves", supply.serves)),
        ("Breaker terminals", physical(supply.terminals_c, "degC")),
    ]
    if supply.shared_neutral is not False or (supply.poles or 1) > 1 or supply.handle_tie is not None:
        pairs.append(("Handles tied together", yes_no(supply, "handle_tie", supply.handle_tie)))
    if supply.measured_voltage_v is not None:
        pairs.append(("Measured voltage", physical(supply.measured_voltage_v, "V")))
    if supply.measured_current_a is not None:
        pairs.append(("Measured current, all on", physical(supply.measured_current_a, "A")))
    if supply.impedance_ohm is not None:
        pairs.append(("Loop impedance at the panel", physical(supply.impedance_ohm, "ohm")))
    if supply.loaded_voltage_v is not None or supply.loaded_current_a is not None:
        pairs.append(("Voltage at the last outlet, loaded", physical(supply.loaded_voltage_v, "V")))
        pairs.append(("while this current flowed", physical(supply.loaded_current_a, "A")))
    blocks: list[Facts | Blank] = [Facts(tuple(pairs))]
    if any(getattr(supply, name) is not None for name in _READINGS):
        blocks.append(Blank(("Meter and date of the readings", "What was switched on"), abreast=True))
    return Section("The circuit at the panel", tuple(blocks))


_READINGS = ("measured_voltage_v", "measured_current_a", "other_leg_current_a", "loaded_voltage_v")


def _device(circuit: Circuit) -> Cell:
    supply = circuit.supply
    rating = physical(supply.breaker_a, "A")
    kind = supply.device or "breaker or fuse not known"
    fuse = f", {supply.fuse_type}" if supply.fuse_type else ""
    return Cell(f"{rating.text} {kind}{fuse}", rating.known)
