"""Counting what stands in a box, line by line, once at the best and once at the worst that the file leaves open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.circuit.model import Box, Cable, Circuit, FixtureWires
from circuitcheck.findings import Source
from circuitcheck.rules.once import once
from circuitcheck.tables.rulebook import Rulebook

#: Names of the tables and values that counting may cite; a rule that calls it adds them to its ``uses``.
BOX_COUNT_USES = (
    "conductor-volume",
    "metric-equivalents",
    "cable-types",
    "value:unknown-cable-conductors",
    "value:unknown-conductor-sizes",
    "value:box-fill-conductor-ending",
    "value:box-fill-conductor-through",
    "value:box-fill-conductor-loop",
    "value:box-fill-canopy-fixture-wires",
    "value:box-fill-canopy-wire-size",
    "value:box-fill-internal-clamps",
    "value:box-fill-support-fitting",
    "value:box-fill-device",
    "value:box-fill-device-each-gang",
    "value:box-fill-equipment-grounds-first",
    "value:box-fill-equipment-grounds-free-count",
    "value:box-fill-equipment-grounds-each-more",
    "value:box-fill-terminal-block",
)


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a count: ``count`` conductors' worth of ``size``, each ``each_m3`` [m^3]; ``subject``: a cable."""

    name: str
    count: float
    size: str
    each_m3: float
    sources: tuple[Source, Source]
    subject: str = ""

    @property
    def volume_m3(self) -> float:
        """The space that the line takes [m^3]."""
        return self.count * self.each_m3


class UnlistedSizeError(Exception):
    """A conductor in the box is larger than the table of box conductors goes; ``size`` names it."""

    def __init__(self, size: str) -> None:
        """Keep the size for the sentence that is made at the edge."""
        super().__init__(size)
        self.size = size


def count_lines(box: Box, circuit: Circuit, book: Rulebook, *, at_worst: bool) -> tuple[Line, ...]:
    """Every line of the count, with unknown keys taken at their worst or at their best.

    Raises: UnlistedSizeError.
    Source: NFPA 70, 314.16(B).
    """
    return tuple(_Count(box, circuit, book, at_worst).lines())


@dataclass(frozen=True, slots=True)
class _Ends:
    """Insulated conductors of one cable that end in the box; ``joinable``: how many of them may run on unbroken.

    The two differ where the number is unknown: at worst few run on, at best many.
    """

    cable: Cable
    size: str
    count: int
    joinable: int
    incoming: bool


@once
def _places(_: Circuit, book: Rulebook) -> dict[str, int]:
    """Size -> where it stands in the table of box conductors, which goes from thin to thick."""
    return {row.key[0]: place for place, row in enumerate(book.table("conductor-volume").rows)}


class _Count:
    def __init__(self, box: Box, circuit: Circuit, book: Rulebook, at_worst: bool) -> None:
        self.box = box
        self.book = book
        self.at_worst = at_worst
        self.volumes = book.table("conductor-volume")
        self.order = _places(circuit, book)
        self.thickness: dict[str, int] = {}
        self.low_voltage = circuit.tree.driver_of
        self.ends = [self._ends(cable) for cable in circuit.tree.cables_at.get(box.id, ())]
        self.counts = {one.cable.id: one.count for one in self.ends}
        self.largest = self._largest()

    def lines(self) -> Iterator[Line]:
        """The lines in the order of the book's clauses."""
        yield from self._conductors()
        yield from self._fixture_wires()
        if self.box.internal_clamps or (self.box.internal_clamps is None and self.at_worst):
            yield self._line("internal clamps", "box-fill-internal-clamps", 1, self.largest)
        for fitting in dict.fromkeys(self.box.fittings):
            yield self._line(fitting, "box-fill-support-fitting", 1, self.largest)
        yield from self._devices()
        yield from self._grounds()
        block = self.book.find_value("box-fill-terminal-block")
        if block is not None and self.box.terminal_blocks:
            yield self._line("terminal blocks", "box-fill-terminal-block", self.box.terminal_blocks, self.largest)

    def _line(self, name: str, value: str, times: float, size: str, subject: str = "") -> Line:
        counted = self.book.value(value)
        row = self.volumes.rows[self._place(size)]
        each = row.number("volume") or 0.0
        return Line(name, times * counted.number, size, each, (counted.source, row.source), subject)

    def _place(self, size: str) -> int:
        """Where a size stands in the table of box conductors; thinner ones count as its thinnest.

        A metric size counts as the next AWG above its stand-in, since the stand-in is never thicker than it.

        Raises: UnlistedSizeError.
        """
        known = self.thickness.get(size)
        if known is not None:
            return known
        place = self.order.get(size)
        if place is None:
            stand_in = self.book.table("metric-equivalents").find(size)
            awg = stand_in.text("awg") if stand_in is not None else None
            if awg is not None and awg in self.order and self.order[awg] + 1 < len(self.order):
                place = self.order[awg] + 1
            elif awg is None and _is_thinner(size, self.volumes.rows[0].key[0]):
                place = 0
            else:
                raise UnlistedSizeError(size)
        self.thickness[size] = place
        return place

    def _thickest(self, sizes: Sequence[str]) -> str:
        return max(sizes, key=self._place)

    def _unknown_size(self) -> str:
        sizes = self.book.value("unknown-conductor-sizes").items
        return sizes[-1] if self.at_worst else sizes[0]

    def _ends(self, cable: Cable) -> _Ends:
        count = joinable = cable.conductors
        if count is None or joinable is None:
            unknown = [int(item) for item in self.book.value("unknown-cable-conductors").items]
            count, joinable = (max(unknown), min(unknown)) if self.at_worst else (min(unknown), max(unknown))
        return _Ends(cable, cable.size or self._unknown_size(), count, joinable, cable.to_id == self.box.id)

    def _largest(self) -> str:
        """The largest conductor in the box, for clamps, fittings and devices."""
        sizes = [one.size for one in self.ends if one.count]
        sizes += [one.size for one in self.box.unbroken if one.count]
        sizes += [one.size for one in self.box.fixture_wires if one.count]
        sizes += [one.size for one in self.box.devices if one.size is not None]
        return self._thickest(sizes) if sizes else self.book.value("unknown-conductor-sizes").items[0]

    def _conductors(self) -> Iterator[Line]:
        """Conductors that end here, those that run through taken out of the two cable ends which they join."""
        through = self._through_ends()
        for one in self.ends:
            count = one.count - through.get(one.cable.id, 0)
            if count > 0:
                yield self._line(
                    f"insulated conductors of {one.cable.id}",
                    "box-fill-conductor-ending",
                    count,
                    one.size,
                    one.cable.id,
                )
        for run in self.box.unbroken:
            if run.count > 0:
                value = "box-fill-conductor-loop" if run.loop else "box-fill-conductor-through"
                name = "unbroken loops" if run.loop else "conductors running through unbroken"
                yield self._line(name, value, run.count, run.size)

    def _through_ends(self) -> dict[str, int]:
        """Cable id -> how many of its conductors run on through the box unbroken.

        An unbroken conductor joins one end of the cable that comes in to one end of a cable that leaves, and is counted
        on a line of its own; both ends then go. Those of another circuit are none of the conductors of the cables that
        are listed here, so they only add; where nobody said, they do so at worst.
        """
        taken: dict[str, int] = {}
        for run in self.box.unbroken:
            if run.other_circuit or (run.other_circuit is None and self.at_worst):
                continue
            arriving = self._free_ends(run.size, True, taken)
            leaving = self._free_ends(run.size, False, taken)
            joined = min(run.count, sum(arriving.values()), sum(leaving.values()))
            for side in (arriving, leaving):
                self._take(joined, side, taken)
        return taken

    def _take(self, joined: int, side: dict[str, int], taken: dict[str, int]) -> None:
        """Take so many ends from one side: first those that are counted for sure, then those that there may be more."""
        left = joined
        for counted in (self.counts, None):
            for cable_id, free in side.items():
                most = free if counted is None else min(free, max(counted[cable_id] - taken.get(cable_id, 0), 0))
                now = min(left, most)
                taken[cable_id] = taken.get(cable_id, 0) + now
                side[cable_id] -= now
                left -= now

    def _free_ends(self, size: str, incoming: bool, taken: dict[str, int]) -> dict[str, int]:
        """Ends of that size on one side; a cable of unknown size may match only at best."""
        return {
            one.cable.id: one.joinable - taken.get(one.cable.id, 0)
            for one in self.ends
            if one.incoming is incoming and (one.cable.size == size or (one.cable.size is None and not self.at_worst))
        }

    def _fixture_wires(self) -> Iterator[Line]:
        """Luminaire wires, less those that a domed canopy lets out."""
        wires = sorted(self.box.fixture_wires, key=lambda one: -self._place(one.size))
        free = int(self.book.value("box-fill-canopy-fixture-wires").number) if self._canopy() else 0
        for one in wires:
            out = min(free, one.count) if self._small_enough(one) else 0
            free -= out
            if one.count > out:
                yield self._line("luminaire wires", "box-fill-conductor-ending", one.count - out, one.size)

    def _canopy(self) -> bool:
        """Whether the canopy exception is used; unknown counts as no canopy at worst."""
        return bool(self.box.canopy) or (self.box.canopy is None and not self.at_worst)

    def _small_enough(self, wires: FixtureWires) -> bool:
        return self._place(wires.size) <= self._place(self.book.value("box-fill-canopy-wire-size").text)

    def _devices(self) -> Iterator[Line]:
        for device in self.box.devices:
            value = "box-fill-device" if device.gangs == 1 else "box-fill-device-each-gang"
            yield self._line(f"{device.kind} ({device.gangs} gang)", value, device.gangs, device.size or self.largest)

    def _grounds(self) -> Iterator[Line]:
        """Equipment grounds: the first few together, each more a part (2020 and later), all at the largest of them."""
        sizes = [one.size for one in self.ends if self._has_ground(one.cable)]
        if self.box.fixture_ground is not None and not self._canopy():
            sizes.append(self.box.fixture_ground)
        if not sizes:
            return
        largest = self._thickest(sizes)
        yield self._line(f"equipment grounds ({len(sizes)} together)", "box-fill-equipment-grounds-first", 1, largest)
        free = self.book.find_value("box-fill-equipment-grounds-free-count")
        if free is not None and len(sizes) > free.number:
            more = len(sizes) - free.number
            name = f"equipment grounds past the first {free.number:g}"
            yield self._line(name, "box-fill-equipment-grounds-each-more", more, largest)

    def _has_ground(self, cable: Cable) -> bool:
        """Whether a ground wire of this cable enters; unknown: at worst yes, for low-voltage cable no."""
        if cable.ground is None:
            return self.at_worst and cable.id not in self.low_voltage
        return cable.ground


def _is_thinner(size: str, least: str) -> bool:
    """Whether an AWG size has the higher gauge number, so is thinner."""
    number, unit = size.partition(" ")[::2]
    return unit == "AWG" and number.isdigit() and int(number) > int(least.partition(" ")[0])
