"""The circuit as rows of a one-line diagram: panel, then every run, box and load on the way down.

The heaviest run keeps its column, so that a chain of a thousand boxes is one straight line; side runs stand one column
further in. Rows that are alike are told once where the diagram would be long.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from circuitcheck.circuit.model import PANEL, Cable, Circuit, Control, Driver
from circuitcheck.note.across import gone_from
from circuitcheck.note.part_words import (
    box_words,
    cable_words,
    control_words,
    driver_words,
    joined,
    load_words,
    low_voltage_words,
    supply_words,
)


class RowKind(StrEnum):
    """What a row of the diagram shows."""

    PANEL = "panel"
    DEVICE = "device"
    RUN = "run"
    BOX = "box"
    CONTROL = "control"
    LOAD = "load"
    DRIVER = "driver"
    LOW_RUN = "low-voltage run"
    LOW_LOAD = "low-voltage light"
    ALIKE = "alike"


class Rail(StrEnum):
    """How a line of the diagram is drawn: nothing, what is there already, what is added, low voltage."""

    NONE = "none"
    EXISTING = "existing"
    ADDED = "added"


@dataclass(frozen=True, slots=True)
class LineRow:
    """A row: its column, the lines that pass it in the columns before, what comes in from above and goes on below.

    ``symbol``: the kind of load or control. ``strokes``: conductors of a run. ``side``: the run leaves sideways.
    ``name`` is the owner's, ``does`` says what the part is; ``volts`` stands at the right.
    """

    kind: RowKind
    depth: int
    name: str
    does: str = ""
    added: bool = False
    symbol: str = ""
    strokes: int = 0
    side: bool = False
    rails: tuple[Rail, ...] = ()
    above: Rail = Rail.NONE
    below: Rail = Rail.NONE
    volts: str = ""
    bay: int = 0

    @property
    def called(self) -> str:
        """The name with the word for what it is, where the name does not say so itself."""
        if self.kind not in (RowKind.RUN, RowKind.BOX) or self.name.lower().startswith(self.kind.value):
            return self.name
        return f"{self.kind} {self.name}"

    @property
    def shape(self) -> tuple[object, ...]:
        """What the row shares with rows that are alike: all but its name and volts."""
        return (self.kind, self.depth, self.does, self.added, self.symbol, self.strokes, self.side, self.rails)


def _rail(added: bool) -> Rail:
    return Rail.ADDED if added else Rail.EXISTING


def _is_added(origin: str | None) -> bool:
    return origin != "existing"


@dataclass(slots=True)
class _Waiting:
    """A run still to be drawn: its cable, its column, the lines beside it."""

    cable: Cable
    depth: int
    rails: tuple[Rail, ...]
    side: bool
    #: The line that goes on in the column before a side run, once it has left.
    passing: Rail = Rail.NONE


@dataclass(slots=True)
class _Drawer:
    circuit: Circuit
    volts: Mapping[str, str]
    low_children: dict[str, list[Cable]] = field(default_factory=dict)
    controls_at: dict[str, list[Control]] = field(default_factory=dict)
    weight: dict[str, int] = field(default_factory=dict)
    bay: int = 0

    def rows(self) -> Iterator[LineRow]:
        tree = self.circuit.tree
        for node in reversed(tree.order):
            self.weight[node] = 1 + sum(self.weight.get(cable.to_id, 0) for cable in tree.children.get(node, ()))
        for cable in tree.low_voltage_cables:
            self.low_children.setdefault(cable.from_id, []).append(cable)
        for control in self.circuit.controls:
            self.controls_at.setdefault(control.box, []).append(control)
        supply = self.circuit.supply
        legs = self._ordered(tree.children.get(PANEL, ()))
        first = _rail(_is_added(legs[-1].origin)) if legs else Rail.NONE
        yield LineRow(
            RowKind.PANEL, 0, "panel", supply.panel or "", below=Rail.EXISTING, volts=self.volts.get(PANEL, "")
        )
        device = supply.device or "breaker"
        yield LineRow(RowKind.DEVICE, 0, device, supply_words(supply), symbol=device, above=Rail.EXISTING, below=first)
        waiting: list[_Waiting] = []
        self._push(waiting, legs, 0, ())
        while waiting:
            yield from self._run(waiting.pop(), waiting)
        yield from self._unreached()

    def _unreached(self) -> Iterator[LineRow]:
        """What no cable of the file reaches: it stands at the end, so that nothing of the file is missing."""
        tree = self.circuit.tree
        reached = set(tree.order) | {cable.to_id for cable in tree.low_voltage_cables}
        for box in self.circuit.boxes:
            if box.id not in reached:
                self.bay += 1
                inside = list(self._inside(box.id, 0, ()))
                yield LineRow(
                    RowKind.BOX,
                    0,
                    box.id,
                    joined(("NO CABLE IN THE FILE REACHES IT", box_words(box))),
                    added=_is_added(box.origin),
                    below=Rail.EXISTING if inside else Rail.NONE,
                    bay=self.bay,
                )
                yield from _chained(inside, Rail.NONE, Rail.EXISTING)
        for light in self.circuit.low_voltage_loads:
            if light.id not in reached:
                self.bay += 1
                yield LineRow(
                    RowKind.LOW_LOAD,
                    0,
                    light.id,
                    joined(("NO CABLE IN THE FILE REACHES IT", low_voltage_words(light))),
                    added=_is_added(light.origin),
                    symbol="light",
                    strokes=1,
                    bay=self.bay,
                )

    def _ordered(self, cables: tuple[Cable, ...] | list[Cable]) -> list[Cable]:
        """The side runs in file order, the heaviest last."""
        if not cables:
            return []
        straight = max(cables, key=lambda cable: self.weight.get(cable.to_id, 0))
        return [*(cable for cable in cables if cable is not straight), straight]

    def _push(self, waiting: list[_Waiting], ordered: list[Cable], depth: int, rails: tuple[Rail, ...]) -> None:
        """Put the runs on the pile so that side runs come off first."""
        if not ordered:
            return
        *sides, straight = ordered
        passing = _rail(_is_added(straight.origin))
        waiting.append(_Waiting(straight, depth, rails, side=False))
        waiting.extend(
            _Waiting(cable, depth + 1, (*rails, passing), side=True, passing=passing) for cable in reversed(sides)
        )

    def _run(self, here: _Waiting, waiting: list[_Waiting]) -> Iterator[LineRow]:
        cable = here.cable
        added = _is_added(cable.origin)
        self.bay += 1
        yield LineRow(
            RowKind.RUN,
            here.depth,
            cable.id,
            cable_words(cable),
            added=added,
            strokes=cable.conductors or 0,
            side=here.side,
            rails=here.rails,
            above=_rail(added),
            below=_rail(added),
            bay=self.bay,
        )
        yield from self._box(cable, here, waiting)

    def _box(self, cable: Cable, here: _Waiting, waiting: list[_Waiting]) -> Iterator[LineRow]:
        tree = self.circuit.tree
        box_id = cable.to_id
        box = tree.box.get(box_id)
        ordered = self._ordered(tree.children.get(box_id, ()))
        on = _rail(_is_added(ordered[-1].origin)) if ordered else Rail.NONE
        inside = list(self._inside(box_id, here.depth, here.rails))
        own = _rail(_is_added(cable.origin))
        yield LineRow(
            RowKind.BOX,
            here.depth,
            box_id,
            box_words(box) if box is not None else "",
            added=box is None or _is_added(box.origin),
            rails=here.rails,
            above=own,
            below=on if on is not Rail.NONE else (own if inside else Rail.NONE),
            volts=self.volts.get(box_id, ""),
            bay=self.bay,
        )
        yield from _chained(inside, on, own)
        self._push(waiting, ordered, here.depth, here.rails)

    def _inside(self, box_id: str, depth: int, rails: tuple[Rail, ...]) -> Iterator[LineRow]:
        """What is connected in a box: switches, loads, drivers with all that hangs behind them."""
        tree = self.circuit.tree
        for control in self.controls_at.get(box_id, ()):
            yield LineRow(
                RowKind.CONTROL,
                depth,
                f"{control.kind or 'switch'} {control.id}",
                control_words(control),
                added=_is_added(control.origin),
                symbol=control.ways or "switch",
                rails=rails,
                bay=self.bay,
            )
        for load in tree.loads_at.get(box_id, ()):
            yield LineRow(
                RowKind.LOAD,
                depth,
                load.id,
                load_words(load),
                added=_is_added(load.origin),
                symbol=load.kind or "light",
                rails=rails,
                volts=self.volts.get(load.id, ""),
                bay=self.bay,
            )
        for driver in tree.drivers_at.get(box_id, ()):
            yield from self._driver(driver, depth, rails)
        for symbol, name in gone_from(box_id, self.circuit):
            yield LineRow(RowKind.LOAD, depth, name, "REMOVED", symbol=symbol, rails=rails, bay=self.bay)

    def _driver(self, driver: Driver, depth: int, rails: tuple[Rail, ...]) -> Iterator[LineRow]:
        yield LineRow(
            RowKind.DRIVER,
            depth,
            driver.id,
            driver_words(driver),
            added=_is_added(driver.origin),
            symbol="driver",
            rails=rails,
            volts=self.volts.get(driver.id, ""),
            bay=self.bay,
        )
        waiting = [(cable, 1) for cable in reversed(self.low_children.get(driver.id, []))]
        lights = self.circuit.tree.low_voltage_load
        while waiting:
            cable, level = waiting.pop()
            yield LineRow(
                RowKind.LOW_RUN,
                depth,
                cable.id,
                cable_words(cable, low_voltage=True),
                added=_is_added(cable.origin),
                strokes=level,
                rails=rails,
                bay=self.bay,
            )
            light = lights.get(cable.to_id)
            yield LineRow(
                RowKind.LOW_LOAD,
                depth,
                cable.to_id,
                low_voltage_words(light) if light is not None else "splice point",
                added=light is None or _is_added(light.origin),
                symbol="light" if light is not None else "splice",
                strokes=level,
                rails=rails,
                volts=self.volts.get(cable.to_id, ""),
                bay=self.bay,
            )
            waiting.extend((further, level + 1) for further in reversed(self.low_children.get(cable.to_id, [])))


def _chained(inside: list[LineRow], on: Rail, own: Rail) -> Iterator[LineRow]:
    """The rows in a box with the line that runs past them: on to the next run, or as far as the last of them."""
    for index, row in enumerate(inside):
        more = on if on is not Rail.NONE else (own if index + 1 < len(inside) else Rail.NONE)
        yield replace(row, above=on if on is not Rail.NONE else own, below=more)


def one_line_rows(circuit: Circuit, volts: Mapping[str, str]) -> tuple[LineRow, ...]:
    """The rows, top to bottom. ``volts``: what to show at a box or load, by id; ``panel`` for the panel."""
    return tuple(_Drawer(circuit, volts).rows())
