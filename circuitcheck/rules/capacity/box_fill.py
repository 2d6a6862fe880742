"""Box fill: whether every box has room for the conductors, clamps and devices in it.

What it asks: the marked volume of each box, or its trade size, against a count of what is inside: insulated
conductors, equipment grounds, clamps, fittings, devices, luminaire wires and terminal blocks.

Why: crowded wires are nicked and cannot shed heat, and splices come apart when they are pushed back. An overfull box
is the defect that inspectors name most.

What to do: fit a deeper box or an extension ring with a marked volume, or take the new cable from another box.
Clamps, studs and devices that were forgotten are what most often tips the count.

Cannot see: a low-voltage cable that starts at a driver and enters the box, conductors of other circuits unless they
are listed as unbroken (with `other_circuit = true`, since they then come on top), isolated grounds, and whether an
armored cable's ground is its armor (where the file says that it has a ground, a wire is counted). Devices count as they
are listed; one that a switch or receptacle in the file must have is asked for where it would tip the count.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Finding, Outcome, Part, Source, exceeds, merge_sources
from circuitcheck.quantities import in_unit, need_and_room, rounded_up
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.capacity.box_count import BOX_COUNT_USES, Line, UnlistedSizeError, count_lines
from circuitcheck.rules.capacity.unlisted_devices import what_stands_on_a_device, with_device
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Row, Rulebook, Value

UNIT = "in^3"

#: Tables of volumes have two decimals.
DIGITS = 4


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for each box [in^3]."""
    for box in circuit.boxes:
        try:
            worst = count_lines(box, circuit, book, at_worst=True)
            assumed = _assumed(box, circuit)
            best = count_lines(box, circuit, book, at_worst=False) if assumed else worst
            worst, assumed = _with_unlisted_device(box, circuit, book, worst, assumed)
        except UnlistedSizeError as error:
            yield _unlisted(box, circuit, error.size)
        else:
            yield _finding(box, book, best, worst, assumed)


def _unlisted(box: Box, circuit: Circuit, size: str) -> Finding:
    cables = circuit.tree.cables_at.get(box.id, ())
    keys = tuple(f"cable.{cable.id}.size" for cable in cables if cable.size == size) or (f"box.{box.id}.unbroken",)
    return Finding(
        check=RULE.name,
        subject=box.id,
        outcome=Outcome.UNDETERMINED,
        says=f"Cannot count box {box.id}: {size} is beyond the table for such boxes; other rules size that box.",
        unit=UNIT,
        needs=keys,
        keys=keys,
        ask=(f"What box does {size} need here?",),
    )


def _finding(
    box: Box, book: Rulebook, best: tuple[Line, ...], worst: tuple[Line, ...], assumed: dict[str, str]
) -> Finding:
    low, high = _sum(best), _sum(worst)
    room, room_lines, room_sources = _room(box, book)
    outcome = _outcome(low, high, room)
    smallest = None if outcome is Outcome.PASS else _smallest(box, book, high)
    size_keys = (f"box.{box.id}.trade_size", f"box.{box.id}.volume")
    needs: tuple[str, ...] = ()
    if room is None:
        needs = size_keys[1:]
    elif outcome is Outcome.UNDETERMINED:
        needs = (*assumed, *_ranged_keys(box))
    volumes = [_cubic_inches(line.volume_m3) for line in worst]
    working = [_shown(line, volume) for line, volume in zip(worst, volumes, strict=True)]
    if low != high:
        working = [f"at worst: {line}" for line in working]
        working += [f"at best: {_shown(line, _cubic_inches(line.volume_m3))}" for line in best]
    return Finding(
        check=RULE.name,
        subject=box.id,
        outcome=outcome,
        says=_says(box, low, high, room, outcome, smallest),
        value=_cubic_inches(high),
        limit=_cubic_inches(room[0]) if room is not None else None,
        unit=UNIT,
        low=_cubic_inches(low),
        high=_cubic_inches(high),
        working=(*working, f"needed: {_needed(low, high)}", *room_lines),
        sources=merge_sources(room_sources, *(line.sources for line in worst)),
        needs=needs,
        assumed=tuple(assumed.values()),
        assumed_keys=tuple(assumed),
        keys=(*needs, *size_keys),
        parts=tuple(
            Part(line.name, volume, line.subject, line.count, _cubic_inches(line.each_m3))
            for line, volume in zip(worst, volumes, strict=True)
        ),
        smallest=smallest,
        to_do=_to_do(outcome, smallest, room is None),
    )


def _outcome(low: float, high: float, room: tuple[float, float] | None) -> Outcome:
    if room is None or (exceeds(high, room[0]) and not exceeds(low, room[1])):
        return Outcome.UNDETERMINED
    return Outcome.FAIL if exceeds(low, room[1]) else Outcome.PASS


def _ranged_keys(box: Box) -> tuple[str, ...]:
    keys = [f"box.{box.id}.volume"] if box.volume_m3 is not None and not box.volume_m3.exact else []
    if any(not extension.exact for extension in box.extensions_m3):
        keys.append(f"box.{box.id}.extensions")
    return tuple(keys)


def _room(box: Box, book: Rulebook) -> tuple[tuple[float, float] | None, tuple[str, ...], tuple[Source, ...]]:
    """The space that the box has, at least and at most [m^3], its lines and sources; None where it is not known."""
    lines: list[str] = []
    sources: list[Source] = []
    row = _row(box, book)
    if box.volume_m3 is not None:
        least, most = box.volume_m3.low, box.volume_m3.high
        lines.append(f"room: {_in3(least, most)} marked on the box")
    elif row is not None:
        least = most = row.number("volume") or 0.0
        sources.append(row.source)
        lines.append(f"room: {_in3(least)} by the table for {box.trade_size}")
    else:
        return None, (), ()
    for extension in box.extensions_m3:
        least, most = least + extension.low, most + extension.high
        lines.append(f"+ {_in3(extension.low, extension.high)} marked on an extension")
    if box.class_2_barrier:
        barrier = divider_of(box, book)
        least, most = least - barrier.number, most - barrier.number
        sources.append(barrier.source)
        lines.append(f"- {_in3(barrier.number)} for the barrier")
    return (least, most), tuple(lines), tuple(sources)


def divider_of(box: Box, book: Rulebook) -> Value:
    """What an unmarked divider takes of the box's space [m^3]."""
    return book.value(f"box-fill-barrier-{'metal' if box.material == 'metal' else 'nonmetallic'}")


def _row(box: Box, book: Rulebook) -> Row | None:
    return book.table("box-volumes").find(box.trade_size) if box.trade_size is not None else None


def _smallest(box: Box, book: Rulebook, needed_m3: float) -> str | None:
    """The smallest trade size that holds ``needed_m3`` [m^3], of the box's own shape first; None: no size of the table.

    Extensions and a divider that are there stay. Boxes that are listed by the gang are no substitute for another shape.
    """
    needed = needed_m3 - sum(extension.low for extension in box.extensions_m3)
    if box.class_2_barrier:
        needed += divider_of(box, book).number
    own = _row(box, book)
    shape = own.text("shape") if own is not None else None
    fitting = [row for row in book.table("box-volumes").rows if not exceeds(needed, row.number("volume") or 0.0)]
    same = [row for row in fitting if row.text("shape") == shape]
    others = [row for row in fitting if "gang" not in (row.text("shape") or "")]
    chosen = min(same or others, key=lambda row: row.number("volume") or 0.0, default=None)
    return chosen.key[0] if chosen is not None else None


def _assumed(box: Box, circuit: Circuit) -> dict[str, str]:
    """Unknown key -> the worst case taken for it."""
    found: dict[str, str] = {}
    if box.internal_clamps is None:
        found[f"box.{box.id}.internal_clamps"] = f"{box.id}: nobody said, so clamps inside the box are counted."
    if box.canopy is None and (box.fixture_wires or box.fixture_ground is not None):
        found[f"box.{box.id}.canopy"] = f"{box.id}: nobody said, so luminaire wires count as if no canopy helped."
    cables = circuit.tree.cables_at.get(box.id, ())
    passed = any(cable.to_id == box.id for cable in cables) and any(cable.from_id == box.id for cable in cables)
    if passed and any(run.count and run.other_circuit is None for run in box.unbroken):
        found[f"box.{box.id}.unbroken.other_circuit"] = (
            f"{box.id}: nobody said whether the unbroken conductors are this circuit's, so they are counted on top."
        )
    for cable in cables:
        place = f"cable.{cable.id}"
        if cable.size is None:
            found[f"{place}.size"] = f"{cable.id}: size not known, so the thickest that is usual is counted."
        if cable.conductors is None:
            found[f"{place}.conductors"] = f"{cable.id}: conductors not known, so the most that is usual are counted."
        if cable.ground is None and cable.id not in circuit.tree.driver_of:
            found[f"{place}.ground"] = f"{cable.id}: nobody said, so an equipment ground is counted."
    return found


def _with_unlisted_device(
    box: Box, circuit: Circuit, book: Rulebook, worst: tuple[Line, ...], assumed: dict[str, str]
) -> tuple[tuple[Line, ...], dict[str, str]]:
    """The worst count and what is assumed, with a device that the file does not list although one must be there.

    A list that is left out is empty, so the device is counted only where it would tip the answer, and else only told.
    """
    on_device = what_stands_on_a_device(circuit, book).get(box.id)
    if on_device is None:
        return worst, assumed
    room, _, _ = _room(box, book)
    fuller = count_lines(with_device(box), circuit, book, at_worst=True)
    tips = room is not None and exceeds(_sum(fuller), room[0]) and not exceeds(_sum(worst), room[0])
    says = f"{box.id}: {on_device} is there and no device is listed, " + (
        "so one is counted at worst." if tips else "so one may have to be added to the count."
    )
    return fuller if tips else worst, {**assumed, f"box.{box.id}.devices": says}


def _says(
    box: Box, low: float, high: float, room: tuple[float, float] | None, outcome: Outcome, smallest: str | None
) -> str:
    if room is None:
        needed = _needed(low, high)
        return f"Cannot tell whether box {box.id} is big enough: {needed} are needed, and its volume is not known."
    needed, has = _needed_and_has(low, high, room)
    if outcome is Outcome.FAIL:
        bigger = f"; the smallest that would do is {smallest}" if smallest else ""
        return f"Box {box.id} is too full: it needs {needed} and has {has}{bigger}."
    if outcome is Outcome.UNDETERMINED:
        return (
            f"Cannot tell whether box {box.id} is big enough: it has {has}, and {needed} are needed by what is known."
        )
    return f"Box {box.id} has room: {needed} of its {has} are needed."


def _to_do(outcome: Outcome, smallest: str | None, room_unknown: bool) -> tuple[str, ...]:
    if room_unknown:
        return ("Breaker off and tested dead: read the volume marked inside the box, or measure its trade size.",)
    if outcome is Outcome.FAIL:
        bigger = f"a {smallest} box or larger" if smallest else "a larger box with a marked volume"
        return (
            f"Breaker off and tested dead: fit {bigger}, add an extension ring with a marked volume, or take the new "
            "cable from another box.",
        )
    if outcome is Outcome.UNDETERMINED:
        return ("Breaker off and tested dead: open the box and look at what was counted at its worst.",)
    return ()


def _sum(lines: Iterable[Line]) -> float:
    return sum(line.volume_m3 for line in lines)


@lru_cache(maxsize=4096)
def _cubic_inches(volume_m3: float) -> float:
    """Cubic inches, without the noise of the unit's own conversion."""
    return round(in_unit(volume_m3, UNIT), 9)


def _shown(line: Line, volume: float) -> str:
    """The line with what each takes and all together take (``volume``) [in^3]."""
    each = _cubic_inches(line.each_m3)
    return f"{line.name}: {line.count:g} x {each:.2f} ({line.size}) = {volume:.2f} {UNIT}"


def _needed(low_m3: float, high_m3: float) -> str:
    """What is needed, rounded up, since somebody buys a box by it."""
    first, last = rounded_up(_cubic_inches(low_m3), DIGITS), rounded_up(_cubic_inches(high_m3), DIGITS)
    return f"{last} {UNIT}" if first == last else f"{first} to {last} {UNIT}"


def _needed_and_has(low_m3: float, high_m3: float, room_m3: tuple[float, float]) -> tuple[str, str]:
    """What is needed, rounded up, and what there is, rounded down, told apart where they are not equal."""
    low, high = _cubic_inches(low_m3), _cubic_inches(high_m3)
    least, most = map(_cubic_inches, room_m3)
    (worst, worst_room), (best, best_room) = need_and_room(high, least, DIGITS), need_and_room(low, most, DIGITS)
    needed = worst if low == high else f"{best} to {worst}"
    return f"{needed} {UNIT}", f"{worst_room if least == most else f'{worst_room} to {best_room}'} {UNIT}"


def _in3(low_m3: float, high_m3: float | None = None) -> str:
    low = in_unit(low_m3, UNIT)
    return span(low, low if high_m3 is None else in_unit(high_m3, UNIT), UNIT)


RULE = Rule(
    name="box-fill",
    title="Whether every box has room for what is in it",
    family="capacity",
    uses=(
        *BOX_COUNT_USES,
        "box-volumes",
        "value:box-fill-barrier-metal",
        "value:box-fill-barrier-nonmetallic",
    ),
    check=check,
)
