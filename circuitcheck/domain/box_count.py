"""Counting what stands in one known box, line by line, and the space that the box has.

Source: NFPA 70, 314.16.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import NamedTuple

from circuitcheck.case import Case
from circuitcheck.case.parts import Box
from circuitcheck.findings import Source
from circuitcheck.tables.rulebook import Row, Rulebook, Value

METAL = "metal"
GANG = "gang"


class Line(NamedTuple):
    """One line of a count: ``count`` conductors' worth of ``size``, each ``each_m3`` [m^3]; ``subject``: a cable."""

    name: str
    count: float  # type: ignore[assignment] # nobody asks how often a line holds something
    size: str
    each_m3: float
    sources: tuple[Source, ...]
    subject: str = ""

    @property
    def volume_m3(self) -> float:
        """The space that the line takes [m^3]."""
        return self.count * self.each_m3


class BoxCount(NamedTuple):
    """The lines of a count. ``doubtful_m3``: space of luminaire wires under a canopy that the code lets out as some
    read it, and as others do not [m^3]; the lines count them.
    """

    lines: tuple[Line, ...]
    doubtful_m3: float

    @property
    def needed_m3(self) -> float:
        """The space that everything takes [m^3]."""
        return sum(line.volume_m3 for line in self.lines)


class Room(NamedTuple):
    """One thing that gives or takes space of a box [m^3]: its marked volume, the table's, a ring, a divider."""

    name: str
    volume_m3: float
    source: Source | None = None


class Divided(NamedTuple):
    """What a divider does to a box: what is on its side of the branch circuit [m^3], and the least share of the box
    that is surely there.
    """

    power_m3: float
    least_share: float
    source: Source


class UnlistedSizeError(Exception):
    """A conductor in the box is larger than the table of box conductors goes; ``size`` names it."""

    def __init__(self, size: str) -> None:
        """Keep the size for the sentence that is made at the edge."""
        super().__init__(size)
        self.size = size


def box_count(case: Case, box: Box) -> BoxCount:
    """Every line of the count of one box.

    Raises: UnlistedSizeError.
    """
    return _Count(case, box).count()


def box_room(case: Case, box: Box) -> tuple[Room, ...]:
    """What makes up the space that a box has; empty where neither its volume nor its trade size is known."""
    row = volume_row(case.book, box)
    if box.volume_m3 is not None:
        room = [Room("marked on the box", box.volume_m3)]
    elif row is not None:
        name = f"by the table for {box.trade_size}"
        if GANG in row.printed_text("shape") and box.gangs > 1:
            name = f"{name}, for each of {box.gangs} gangs"
        room = [Room(name, volume_of_row(row, box.gangs), row.source)]
    else:
        return ()
    room += [Room("marked on an extension", volume) for volume in box.extensions_m3]
    if box.class_2_barrier:
        barrier = divider(case.book, box.material)
        room.append(Room("taken by the barrier", -barrier.number, barrier.source))
    return tuple(room)


def divided_for(case: Case, box: Box, count: BoxCount) -> Divided | None:
    """How a divider parts a box of the branch circuit; None without one. Each of its spaces is counted by itself.

    Source: NFPA 70, 314.16(A).
    """
    if not box.class_2_barrier or box.id not in case.tree.feed:
        return None
    part = case.book.value("divided-box-part")
    power = sum(line.volume_m3 for line in count.lines if line.subject not in case.tree.driver_of)
    return Divided(power, min(part.number, 1.0 / max(box.gangs, 1)), part.source)


def volume_of_row(row: Row, gangs: int) -> float:
    """The space of a trade size [m^3]; of a device box for each of its gangs."""
    volume = row.printed_number("volume")
    return max(gangs, 1) * volume if GANG in row.printed_text("shape") else volume


def volume_row(book: Rulebook, box: Box) -> Row | None:
    """The row of a box's trade size."""
    return book.table("box-volumes").find(box.trade_size) if box.trade_size is not None else None


def divider(book: Rulebook, material: str | None) -> Value:
    """What an unmarked divider takes of a box's space [m^3]."""
    return book.value(f"box-fill-barrier-{METAL if material == METAL else 'nonmetallic'}")


def _places(case: Case) -> dict[str, int]:
    """Size -> where it stands in the table of box conductors, which goes from thin to thick."""
    book = case.book
    kept: dict[str, int] | None = book.worked_out.get(_places)
    if kept is None:
        rows = book.table("conductor-volume").rows
        kept = book.worked_out[_places] = {row.key[0]: place for place, row in enumerate(rows)}
    return kept


def thickness(case: Case, size: str | None) -> int:
    """Where a size stands among the sizes of box conductors: none at all first, sizes beyond the table last."""
    if size is None:
        return -1
    try:
        return place_of(case, size)
    except UnlistedSizeError:
        return len(_places(case))


def place_of(case: Case, size: str) -> int:
    """Where a size stands in the table of box conductors; thinner ones count as its thinnest.

    A metric size counts as the next AWG above its stand-in, since the stand-in is never thicker than it. One without a
    stand-in is thinner than all of them.

    Raises: UnlistedSizeError.
    """
    order = _places(case)
    place = order.get(size)
    return _place_beside(case, size, order) if place is None else place


def _place_beside(case: Case, size: str, order: dict[str, int]) -> int:
    """Where a size stands that the table does not hold. Raises: UnlistedSizeError."""
    stand_in = case.book.table("metric-equivalents").find(size)
    awg = stand_in.printed_text("awg") if stand_in is not None else None
    if awg is not None and awg in order and order[awg] + 1 < len(order):
        return order[awg] + 1
    thin = case.book.table("metric-conductors").find(size) is not None or _is_thinner(size, next(iter(order)))
    if awg is None and thin:
        return 0
    raise UnlistedSizeError(size)


class _Count:
    """The count of one box. cables: those of which the conductors end in it."""

    def __init__(self, case: Case, box: Box) -> None:
        self.case, self.box, self.book = case, box, case.book
        self.rows, self.places = case.book.table("conductor-volume").rows, _places(case)
        self.cables = case.tree.cables_at.get(box.id, ())
        self.largest = self._largest()

    @cached_property
    def canopy(self) -> bool:
        """Whether a canopy lets anything out: nothing of a driver, and where there are both nobody says whose it is."""
        return self.box.canopy and not self.case.tree.drivers_at.get(self.box.id)

    def count(self) -> BoxCount:
        """The lines in the order of the code's clauses."""
        wires, doubtful = self._luminaire_wires()
        block = self.book.find_value("box-fill-terminal-block")
        lines = [*self._conductors(), *wires]
        if self.box.internal_clamps:
            lines.append(self._line("internal clamps", "box-fill-internal-clamps", 1, self.largest))
        fittings = dict.fromkeys(self.box.fittings)
        lines += (self._line(fitting, "box-fill-support-fitting", 1, self.largest) for fitting in fittings)
        lines += self._devices()
        lines += self._grounds()
        if block is not None and self.box.terminal_blocks:
            blocks = self.box.terminal_blocks
            lines.append(self._line("terminal blocks", "box-fill-terminal-block", blocks, self.largest))
        return BoxCount(tuple(lines), doubtful)

    def _line(self, name: str, value: str, times: float, size: str, subject: str = "") -> Line:
        counted = self.book.value(value)
        row = self.rows[self._place(size)]
        return Line(
            name, times * counted.number, size, row.printed_number("volume"), (counted.source, row.source), subject
        )

    def _place(self, size: str) -> int:
        """As ``place_of``. Raises: UnlistedSizeError."""
        place = self.places.get(size)
        return _place_beside(self.case, size, self.places) if place is None else place

    def _largest(self) -> str:
        """The largest conductor in the box, for clamps, fittings and devices."""
        none = self.book.value("unknown-conductor-sizes").items[0]
        return max(self._sizes(), key=self._place, default=none)

    def _sizes(self) -> Iterator[str]:
        """The size of everything in the box, one after the other: past one that is beyond the table nobody looks."""
        box = self.box
        for own in self.cables:
            if own.conductors:
                yield own.size
        for cable in box.other_cables:
            yield cable.size
        for run in box.unbroken:
            if run.count:
                yield run.size
        for wires in box.fixture_wires:
            if wires.count:
                yield wires.size
        for device in box.devices:
            if device.size is not None:
                yield device.size

    def _conductors(self) -> Iterator[Line]:
        """Conductors that end here, those that run through taken out of the two cable ends which they join."""
        through = self._through_ends()
        ending = "box-fill-conductor-ending"
        for cable in self.cables:
            count = cable.conductors - through.get(cable.id, 0)
            if count > 0:
                yield self._line(f"insulated conductors of {cable.id}", ending, count, cable.size, cable.id)
        for other in self.box.other_cables:
            yield self._line("conductors of another circuit's cable", ending, other.conductors, other.size)
        for run in self.box.unbroken:
            if run.count > 0:
                value = "box-fill-conductor-loop" if run.loop else "box-fill-conductor-through"
                name = "unbroken loops" if run.loop else "conductors running through unbroken"
                yield self._line(name, value, run.count, run.size)

    def _through_ends(self) -> dict[str, int]:
        """Cable id -> how many of its conductors run on through the box unbroken.

        An unbroken conductor joins one end of the cable that comes in to one end of a cable that leaves, and is counted
        on a line of its own; both ends then go. Those of another circuit are none of the conductors of the cables that
        are listed here, so they only add.
        """
        taken: dict[str, int] = {}
        for run in self.box.unbroken:
            if run.other_circuit:
                continue
            sides = [self._free_ends(run.size, incoming, taken) for incoming in (True, False)]
            joined = min(run.count, *(sum(side.values()) for side in sides))
            for side in sides:
                left = joined
                for cable_id, free in side.items():
                    now = min(left, free)
                    taken[cable_id] = taken.get(cable_id, 0) + now
                    left -= now
        return taken

    def _free_ends(self, size: str, incoming: bool, taken: dict[str, int]) -> dict[str, int]:
        """Ends of that size on one side that are not joined yet."""
        return {
            cable.id: cable.conductors - taken.get(cable.id, 0)
            for cable in self.cables
            if (cable.to_id == self.box.id) is incoming and cable.size == size
        }

    def _luminaire_wires(self) -> tuple[list[Line], float]:
        """Luminaire and driver wires, less those that a domed canopy lets out; and the space that is read both ways.

        Up to four small wires may be left out under a canopy. Where there are more than four, the code is read both
        ways: only the further ones count, or all of them.
        """
        wires = [each for each in self.box.fixture_wires if each.count]
        wires.sort(key=lambda each: -self._place(each.size))
        free = int(self.book.value("box-fill-canopy-fixture-wires").number)
        small = self._place(self.book.value("box-fill-canopy-wire-size").text)
        under = sum(each.count for each in wires if self._place(each.size) <= small)
        under = under if under and self.canopy else 0
        lines: list[Line] = []
        doubtful, out = 0.0, min(free, under)
        for each in wires:
            let_out = min(out, each.count) if self._place(each.size) <= small else 0
            out -= let_out
            line = self._line("luminaire wires", "box-fill-conductor-ending", each.count, each.size)
            if under > free:
                doubtful += let_out * line.each_m3
                lines.append(line)
            elif not let_out:
                lines.append(line)
        return lines, doubtful

    def _devices(self) -> Iterator[Line]:
        for device in self.box.devices:
            value = "box-fill-device" if device.gangs == 1 else "box-fill-device-each-gang"
            yield self._line(f"{device.kind} ({device.gangs} gang)", value, device.gangs, device.size or self.largest)

    def _grounds(self) -> Iterator[Line]:
        """Equipment grounds: the first few together, each more a part (2020 and later), all at the largest of them."""
        sizes = [cable.size for cable in self.cables if cable.ground]
        sizes += [cable.size for cable in self.box.other_cables if cable.ground]
        if self.box.fixture_ground is not None and not self.canopy:
            sizes.append(self.box.fixture_ground)
        if not sizes:
            return
        largest = max(sizes, key=self._place)
        yield self._line(f"equipment grounds ({len(sizes)} together)", "box-fill-equipment-grounds-first", 1, largest)
        free = self.book.find_value("box-fill-equipment-grounds-free-count")
        if free is not None and len(sizes) > free.number:
            more = len(sizes) - free.number
            name = f"equipment grounds past the first {free.number:g}"
            yield self._line(name, "box-fill-equipment-grounds-each-more", more, largest)


def _is_thinner(size: str, least: str) -> bool:
    """Whether an AWG size has the higher gauge number, so is thinner."""
    number, unit = size.partition(" ")[::2]
    return unit == "AWG" and number.isdigit() and int(number) > int(least.partition(" ")[0])
