"""Materials for joining: connectors by what their label has to list, pigtails, marks for white conductors."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from circuitcheck.advice.item import Group, Item, counted, listed, named
from circuitcheck.advice.joints import EndKind, Joint, JointKind
from circuitcheck.advice.low_voltage_wiring import LowVoltagePlace
from circuitcheck.advice.nets import NetKind
from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.quantities import in_unit, rounded_up
from circuitcheck.tables.rulebook import Rulebook

NOT_KNOWN = "of unknown size"


def composition(joint: Joint) -> str:
    """What a splice holds, as a connector's label lists it: ``3 x 14 AWG + 1 x 18 AWG, copper``."""
    sure: Counter[str] = Counter()
    perhaps: Counter[str] = Counter()
    for size, _, maybe in joint.in_splice:
        (perhaps if maybe else sure)[size or NOT_KNOWN] += 1
    parts = [_conductors(count, size) for size, count in sorted(sure.items(), key=_thick_first)]
    parts += [f"perhaps {_conductors(count, size)} more" for size, count in sorted(perhaps.items(), key=_thick_first)]
    return f"{' + '.join(parts)}, {_metal(joint)}"


def _conductors(count: int, size: str) -> str:
    return f"{count} {size}" if size == NOT_KNOWN else f"{count} x {size}"


def _thick_first(item: tuple[str, int]) -> tuple[int, str]:
    number, unit = item[0].partition(" ")[::2]
    return (int(number) if unit == "AWG" and number.isdigit() else 100, item[0])


def _metal(joint: Joint) -> str:
    metals = list(dict.fromkeys(metal or "metal not known" for _, metal, maybe in joint.in_splice if not maybe))
    known = [metal for metal in metals if metal != "metal not known"]
    return listed(known if len(known) == len(metals) else [*known, "metal not known"])


def joining_items(book: Rulebook, wiring: Sequence[BoxWiring], low: Sequence[LowVoltagePlace]) -> Iterator[Item]:
    """Connectors for every splice that the work makes or adds to, pigtails, and marks."""
    yield from _connectors([(one.box.id, joint) for one in wiring for joint in one.joints.splices], book, "")
    yield from _connectors([(one.name, joint) for one in low for joint in one.joints.splices], book, " (low voltage)")
    untold = [one.box.id for one in wiring if one.joints.untold]
    if untold:
        yield Item(
            Group.CONNECTORS,
            "not counted",
            "connectors for what is unknown",
            named(untold),
            "it is not known which conductors join there",
        )
    yield from _caps(wiring, book)
    yield from _device_leads(wiring, book)
    yield from _pigtails(wiring, book)
    yield from _marks(wiring, book)


def _connectors(splices: Iterable[tuple[str, Joint]], book: Rulebook, kind: str) -> Iterator[Item]:
    source = book.value("splice-connector-listed").source
    groups: dict[str, list[str]] = {}
    for place, joint in splices:
        if joint.is_new:
            groups.setdefault(composition(joint), []).append(place)
    for holds, places in groups.items():
        many = Counter(places)
        where = named(f"{place} ({count})" if count > 1 else place for place, count in many.items())
        yield Item(
            Group.CONNECTORS,
            str(len(places)),
            f"connector listed for {holds}{kind}",
            where,
            "a new one for each splice that is made or added to",
            (source,),
        )


def _caps(wiring: Sequence[BoxWiring], book: Rulebook) -> Iterator[Item]:
    """Caps for what waits in a box that is there, until the last day: new conductors, and wires that a fixture left."""
    waiting: list[str] = []
    perhaps = 0
    for one in wiring:
        if one.is_existing:
            ends = [end for joint in one.joints.joints for end in joint.ends]
            ends += [untold.end for untold in one.joints.untold]
            held = [
                end for end in ends if end.added is (end.kind is EndKind.CABLE) and end.kind is not EndKind.TERMINAL
            ]
            waiting += [one.box.id] * len(held)
            perhaps += sum(end.perhaps for end in held)
    if waiting:
        yield Item(
            Group.CONNECTORS,
            counted(len(waiting) - perhaps, len(waiting)),
            "wire connector that may close off one conductor, to use as a cap",
            named(f"{place} ({count})" if count > 1 else place for place, count in Counter(waiting).items()),
            "for conductors that wait in a box until the last day: new ones, and those that a fixture was taken off",
            (book.value("splice-connector-listed").source,),
        )


def _device_leads(wiring: Sequence[BoxWiring], book: Rulebook) -> Iterator[Item]:
    """Connectors for devices that have leads where others have terminals: as many more as that takes."""
    sizes: dict[str, list[str]] = {}
    for one in wiring:
        for joint in one.joints.joints:
            device = any(end.kind is EndKind.TERMINAL and end.added for end in joint.ends)
            if joint.kind is JointKind.TERMINAL and device:
                cable = next(end for end in joint.ends if end.kind is EndKind.CABLE)
                sizes.setdefault(cable.size or NOT_KNOWN, []).append(one.box.id)
    for size, places in sizes.items():
        yield Item(
            Group.CONNECTORS,
            counted(0, len(places)),
            f"connector listed for {_conductors(1, size)} + the lead of a device or fixture",
            named(places),
            "where a dimmer, driver or fixture has leads instead of terminals",
            (book.value("splice-connector-listed").source,),
        )


def _pigtails(wiring: Sequence[BoxWiring], book: Rulebook) -> Iterator[Item]:
    length, terminal = book.value("pigtail-length"), book.value("one-conductor-each-terminal")
    sizes: dict[tuple[str, bool], list[str]] = {}
    for one in wiring:
        for joint in one.joints.joints:
            new = [end for end in joint.ends if end.kind is EndKind.TERMINAL and end.added]
            if joint.kind is JointKind.SPLICE and new:
                key = (joint.pigtail_size or NOT_KNOWN, joint.net.kind is NetKind.GROUND)
                sizes.setdefault(key, []).extend([one.box.id] * len(new))
    for (size, is_ground), places in sizes.items():
        kind = "bare or green" if is_ground else "insulated"
        yield Item(
            Group.CONNECTORS,
            str(len(places)),
            f"pigtail {size}, {kind}, {rounded_up(in_unit(length.number, 'in'))} in each",
            named(places),
            "from a splice to a terminal of a new part; cut from the rest of the cable",
            (length.source, terminal.source),
        )


def _marks(wiring: Sequence[BoxWiring], book: Rulebook) -> Iterator[Item]:
    places = [one.box.id for one in wiring for cable in one.hot_whites if not cable.white_remarked]
    if places:
        yield Item(
            Group.CONNECTORS,
            str(len(places)),
            "lasting mark (tape or sleeve, not white, gray or green) for a white wire that is hot",
            named(places),
            "where such a wire comes into a box that is opened",
            (book.value("white-conductor-remarked").source,),
        )
