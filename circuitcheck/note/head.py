"""The top of the note: what is planned and where, who does it, and the circuit at the panel."""

from __future__ import annotations

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.note.known import BLANK, physical, word, yes_no
from circuitcheck.note.part_words import joined
from circuitcheck.paper import Blank, Cell, Facts, Known, Paragraph, Section, Tone
from circuitcheck.quantities import shown
from circuitcheck.safety import ONE_LINE, SHORT

LEGEND = (
    "How a value is known stands beside it: ● measured, ◆ read from a label, ≈ guessed, ? not known. "
    "No mark: stated in the file, which does not say how it is known."
)

#: More added lights than this are counted and not named.
MOST_NAMED = 6


def job_section(circuit: Circuit) -> Section:
    """Scope, place, who owns, lives there and works, permit, edition and dates."""
    job, site = circuit.job, circuit.site
    pairs: list[tuple[str, Cell]] = [
        ("Place", word(job, "place", job.place) if job.place else BLANK),
        ("Room of the new lights", word(site, "room", site.room)),
        ("Does the owner live there?", yes_no(site, "owner_occupied", site.owner_occupied)),
        ("Dwellings in the building", word(site, "dwelling_units", site.dwelling_units)),
        ("Who does the work?", word(site, "work_by", site.work_by)),
        ("Permit?", word(site, "permit", site.permit)),
        ("Wired in", word(site, "wired", site.wired)),
        ("Signs that stop the work", _signs(circuit)),
        ("Found out on", word(job, "date", job.date) if job.date else BLANK),
        ("Filled in by", word(job, "prepared_by", job.prepared_by) if job.prepared_by else BLANK),
    ]
    return Section(
        "What is planned, where and by whom",
        (
            Paragraph(f"{SHORT[0]} {ONE_LINE}", Tone.CAUTION),
            Paragraph(scope(circuit)),
            Facts(tuple(pairs)),
            Paragraph(LEGEND, Tone.SMALL),
        ),
        together=False,
    )


def scope(circuit: Circuit) -> str:
    """The planned work in a sentence."""
    lights = [load for load in circuit.loads if load.origin != "existing"]
    drivers = [driver for driver in circuit.drivers if driver.origin != "existing"]
    low = [light for light in circuit.low_voltage_loads if light.origin != "existing"]
    boxes = [box for box in circuit.boxes if box.origin != "existing"]
    runs = [cable for cable in circuit.cables if cable.origin != "existing"]
    if not (lights or drivers or low or boxes or runs):
        return "Planned: nothing is added. The sheet shows the circuit as it is."
    pieces = sum(load.quantity for load in lights)
    parts = [
        _counted(pieces, "load", _named([load.id for load in lights])) if lights else "",
        _counted(len(drivers), "driver", _named([driver.id for driver in drivers])) if drivers else "",
        _counted(len(low), "low-voltage light", _named([light.id for light in low])) if low else "",
        _counted(len(boxes), "box", "") if boxes else "",
        _runs(runs) if runs else "",
    ]
    existing = {box.id for box in circuit.boxes if box.origin == "existing"} | {"panel"}
    taken = dict.fromkeys(cable.from_id for cable in runs if cable.from_id in existing)
    source = f"; taken from {', '.join(_source(one) for one in taken)}" if taken else ""
    return f"Planned: add {joined(parts)}{source}."


def _source(node: str) -> str:
    return "the panel" if node == "panel" else f"the existing box {node}"


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
    return f"{count} of cable ({length} together{more})"


def _signs(circuit: Circuit) -> Cell:
    signs = circuit.site.signs
    if signs is None:
        return Cell("nobody has looked", Known.UNKNOWN)
    return word(circuit.site, "signs", ", ".join(signs) if signs else "looked, none seen")


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
        ("Handles tied", yes_no(supply, "handle_tie", supply.handle_tie)),
        ("Serves", word(supply, "serves", supply.serves)),
        ("Terminals", physical(supply.terminals_c, "degC")),
        ("Measured voltage", physical(supply.measured_voltage_v, "V")),
        ("Measured current, all on", physical(supply.measured_current_a, "A")),
    ]
    if supply.impedance_ohm is not None:
        pairs.append(("Loop impedance at the panel", physical(supply.impedance_ohm, "ohm")))
    if supply.loaded_voltage_v is not None or supply.loaded_current_a is not None:
        pairs.append(("Voltage at the last outlet, loaded", physical(supply.loaded_voltage_v, "V")))
        pairs.append(("while this current flows", physical(supply.loaded_current_a, "A")))
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
