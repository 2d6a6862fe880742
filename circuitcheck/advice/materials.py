"""What the work takes: every line with the rule or the common practice that it comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.advice.cutting import Bought, CutList
from circuitcheck.advice.item import Group, Item, bought_words, counted, named, span_words
from circuitcheck.advice.low_voltage_wiring import low_voltage_wiring_of
from circuitcheck.advice.materials_boxes import (
    box_items,
    changed_boxes,
    cover_items,
    fitting_items,
    grounding_items,
    plate_items,
)
from circuitcheck.advice.materials_changes import change_items
from circuitcheck.advice.materials_joining import joining_items
from circuitcheck.advice.supports import Supports, Way, supports_of
from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.circuit.model import Circuit, Control, Load
from circuitcheck.findings import Finding, Outcome, Report, merge_sources
from circuitcheck.quantities import in_unit, rounded_down
from circuitcheck.tables.rulebook import Rulebook

_GROUPS = tuple(Group)

#: Checks that ask for a protecting device, and the answers after which one may still have to be fitted.
PROTECTING = ("arc-fault", "ground-fault")
STILL_OPEN = (Outcome.FAIL, Outcome.UNDETERMINED)


def materials_of(
    circuit: Circuit,
    report: Report,
    book: Rulebook,
    cuts: CutList,
    wiring: Sequence[BoxWiring],
) -> tuple[Item, ...]:
    """Every line, by group."""
    fill = {finding.subject: finding for finding in report.findings if finding.check == "box-fill"}
    items = [
        *(_cable(bought, cuts) for bought in cuts.bought),
        *box_items(circuit, book, fill),
        *fitting_items(circuit, book),
        *_staples(supports_of(circuit, book)),
        *plate_items(circuit, book),
        *joining_items(book, wiring, low_voltage_wiring_of(circuit)),
        *grounding_items(circuit, book),
        *_devices(circuit),
        *_luminaires(circuit),
        *cover_items(circuit, book),
        *_protection(report.findings),
        *change_items(circuit),
    ]
    return tuple(sorted(items, key=lambda item: _GROUPS.index(item.group)))


def items_for_runs(circuit: Circuit, book: Rulebook, cuts: CutList) -> tuple[Item, ...]:
    """Cable and supports alone, for the runs of a cut list that leaves others out."""
    runs = {cut.cable.id for cut in cuts.cuts}
    held = [one for one in supports_of(circuit, book) if one.cable.id in runs]
    return (*(_cable(bought, cuts) for bought in cuts.bought), *_staples(held))


def items_for_changes(circuit: Circuit, report: Report, book: Rulebook) -> tuple[Item, ...]:
    """What the findings that fail ask for instead of what is planned or there: boxes, protection. Nothing else."""
    fill = {one.subject: one for one in report.findings if one.check == "box-fill" and one.outcome is Outcome.FAIL}
    failing = [finding for finding in report.findings if finding.outcome is Outcome.FAIL]
    return (*changed_boxes(circuit, book, fill), *_protection(failing))


def _cable(bought: Bought, cuts: CutList) -> Item:
    """A kind of cable with the length of all its pieces and waste."""
    known = bought.with_waste.high > 0
    more = bought.with_waste
    length = bought_words(more.low, more.high, metric=cuts.metric) if known else "length not known"
    if bought.open_runs and known:
        length = f"more than {length}"
    runs = len(bought.cables)
    still = f"; {bought.open_runs} without a length yet" if bought.open_runs else ""
    why = f"{runs} run{'s' if runs > 1 else ''} with the free ends, and {100 * cuts.waste:g} % waste{still}"
    return Item(Group.CABLE, length, kind_words(bought), named(bought.cables), why, cuts.sources)


def kind_words(bought: Bought) -> str:
    """A kind of cable as it is asked for: ``NM-B 14 AWG, 2 conductors and ground, copper``."""
    kind = bought.kind
    ground = {True: " and ground", False: " without ground", None: ", ground not said"}[kind.ground]
    if kind.low_voltage and kind.ground is None:
        ground = ""
    count = f"{kind.conductors} conductors" if kind.conductors is not None else "conductors not said"
    make = f"{kind.type or 'type not said'} {kind.size or 'size not said'}"
    raceway = "; each conductor so long; the raceway is not counted" if kind.type and "raceway" in kind.type else ""
    return f"{make}, {count}{ground}, {kind.material or 'metal not said'}{raceway}"


def _staples(all_supports: Sequence[Supports]) -> Iterator[Item]:
    """Staples or straps, one line for each way in which cable is held and each spacing."""
    alike: dict[tuple[Way, tuple[float, float], float], list[Supports]] = {}
    for one in all_supports:
        alike.setdefault((one.way, one.near_m, one.spacing_m), []).append(one)
    for (way, near, spacing), found in alike.items():
        ids = named(one.cable.id for one in found)
        if way in (Way.FISHED, Way.OTHER):
            yield Item(
                Group.SUPPORTS,
                "not counted",
                "supports",
                ids,
                f"{way}",
                found[0].sources[-1:] if way is Way.FISHED else (),
            )
            continue
        highs = [one.high for one in found]
        high = None if None in highs else sum(one for one in highs if one is not None)
        amount = counted(sum(one.low for one in found), high)
        near_in = " and ".join(dict.fromkeys(rounded_down(in_unit(one, "in")) for one in near))
        each = f"{way}: at most {near_in} in from each box"
        if way is Way.STAPLED:
            each += f" and {rounded_down(in_unit(spacing, 'in'))} in apart"
        yield Item(Group.SUPPORTS, amount, "staple or strap for this cable", ids, each, found[0].sources)


def _devices(circuit: Circuit) -> Iterator[Item]:
    alike: dict[str, list[Control]] = {}
    for control in circuit.controls:
        if control.is_added:
            what = f"{control.ways or 'single-pole or three-way (not said)'} {control.kind or 'switch'}"
            alike.setdefault(what, []).append(control)
    for what, controls in alike.items():
        why = "rated for what it turns off, by its own label"
        yield Item(Group.DEVICES, str(len(controls)), what, named(one.id for one in controls), why)
    bodies = [(box.id, device.kind) for box in circuit.boxes if box.is_added for device in box.devices or ()]
    outlets = [box for box, kind in bodies if kind in ("receptacle", "other")]
    if outlets:
        what = "receptacle or other device"
        yield Item(Group.DEVICES, str(len(outlets)), what, named(outlets), "as the file lists them")


def _luminaires(circuit: Circuit) -> Iterator[Item]:
    alike: dict[str, list[Load]] = {}
    for load in circuit.loads:
        if load.is_added and load.kind != "receptacle":
            alike.setdefault(f"{load.kind or 'load'}, {_rating(load)}", []).append(load)
    for what, loads in alike.items():
        pieces = sum(load.pieces for load in loads)
        why = "with a testing laboratory's mark, for the place it goes to"
        yield Item(Group.LUMINAIRES, str(pieces), what, named(load.id for load in loads), why)
    for driver in circuit.drivers:
        if driver.is_added:
            kind = "class 2 driver" if driver.class_2 else "driver"
            why = "stays where it can be reached"
            yield Item(Group.LUMINAIRES, "1", kind, driver.id, why)
    lights = [light.id for light in circuit.low_voltage_loads if light.is_added]
    if lights:
        yield Item(Group.LUMINAIRES, str(len(lights)), "low-voltage light", named(lights), "as the file lists them")


def _rating(load: Load) -> str:
    for value, unit in ((load.power_w, "W"), (load.apparent_va, "VA"), (load.current_a, "A")):
        if value is not None:
            return f"rated {span_words(value.low, value.high, unit)}"
    return "rating not known"


def _protection(findings: Sequence[Finding]) -> Iterator[Item]:
    """What the checks about arc-fault and ground-fault protection leave to be fitted."""
    for check in PROTECTING:
        asked = [finding for finding in findings if finding.check == check and finding.outcome in STILL_OPEN]
        if asked:
            sure = any(finding.outcome is Outcome.FAIL for finding in asked)
            whole = all(finding.subject == "circuit" for finding in asked)
            yield Item(
                Group.PROTECTION,
                "1" if sure else "perhaps 1",
                f"{check} protection, of a kind made for this panel",
                "the whole circuit" if whole else named(finding.subject for finding in asked),
                "at the panel, or where the inspector accepts it: ask before buying; an electrician fits it",
                merge_sources(*(finding.sources for finding in asked)),
            )
