"""One box by itself: a small circuit around what somebody says is in it, asked of the same rule as any other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.advice.box_sizes import smallest_trade_size
from circuitcheck.advice.conductors_left import conductors_left, sizes_in
from circuitcheck.checking.asking_all import fault_written_down
from circuitcheck.checking.would_do import answers_about
from circuitcheck.circuit.model import Box, Cable, Circuit, Device, FixtureWires, Job, Load, Supply
from circuitcheck.errors import CommandError
from circuitcheck.findings import Fault, Finding, NotJudged, RoomLeft, Verdict, verdict_of
from circuitcheck.quantities import Interval
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import Rulebook


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What somebody says of a box; None is unknown.

    trade_size, volume_m3: the box. cables: of each what its print says, as entries of ``[[cable]]``. devices: their
    kinds. leads: of the light on it, empty where nothing hardwired hangs there; lead_ground: a size, or "none".
    """

    trade_size: str | None = None
    volume_m3: Interval | None = None
    cables: tuple[Mapping[str, Any], ...] = ()
    devices: tuple[Device, ...] = ()
    clamps: bool | None = None
    leads: tuple[FixtureWires, ...] | None = None
    lead_ground: str | None = None
    canopy: bool | None = None
    fittings: tuple[str, ...] | None = None
    extensions_m3: tuple[Interval, ...] = ()

    @property
    def name(self) -> str:
        """What the box is called: as it was named, else plainly the box."""
        return self.trade_size or (self.volume_m3.text if self.volume_m3 is not None else "") or "the box"


@dataclass(frozen=True, slots=True)
class OneBox:
    """The answer about one box. ``smallest``: the least trade size of the right kind that does, None where none."""

    finding: Finding
    room_left: tuple[RoomLeft, ...]
    smallest: str | None

    @property
    def verdict(self) -> Verdict:
        """The answer in a word."""
        return verdict_of((self.finding,))


class CountFaultError(Exception):
    """The box cannot be counted through a fault of the program: no answer, and so never that it has room."""

    def __init__(self, fault: Fault) -> None:
        """Takes the fault."""
        super().__init__(fault.line)
        self.fault = fault


def one_box(contents: Contents, book: Rulebook) -> OneBox:
    """Counts the box, how many more conductors it takes, and the smallest box that would do.

    Raises: CommandError where the book has no numbers to count a box by; CountFaultError for a fault of the program.
    """
    faults: list[Fault | NotJudged] = []
    answer: OneBox | None = None
    with fault_written_down(RULE.name, faults):
        answer = _counted(circuit_of(contents, book), book)
    for fault in faults:
        if isinstance(fault, Fault):
            raise CountFaultError(fault)
    if answer is None:
        raise CommandError(f"{book.title} has no numbers to count a box by")
    return answer


def _counted(circuit: Circuit, book: Rulebook) -> OneBox | None:
    """The answer; None where the book has no numbers for it."""
    box = circuit.boxes[0]
    findings = tuple(answers_about(circuit, book, (RULE,), frozenset((box.id,))))
    if not findings:
        return None
    (finding,) = findings
    room: tuple[RoomLeft, ...] = ()
    if finding.value is not None and (box.trade_size is not None or box.volume_m3 is not None):
        room = tuple(conductors_left(box, circuit, book, sizes_in(box, circuit, book), finding.outcome))
    return OneBox(finding, room, smallest_trade_size(box, circuit, book))


def circuit_of(contents: Contents, book: Rulebook) -> Circuit:
    """The box as part of a circuit that the work adds: the first cable feeds it, each other leads on to a next box."""
    name = contents.name
    light = contents.leads != () and (contents.leads is not None or not contents.devices)
    box = Box(
        id=name,
        origin="added",
        trade_size=contents.trade_size,
        volume_m3=contents.volume_m3,
        internal_clamps=contents.clamps,
        fittings=contents.fittings,
        devices=contents.devices,
        fixture_wires=contents.leads if light else (),
        fixture_ground=contents.lead_ground if light else "none",
        canopy=contents.canopy if light else False,
        unbroken=(),
        other_cables=(),
        extensions_m3=contents.extensions_m3,
    )
    nexts = tuple(Box(id=f"beyond cable {place}") for place in range(2, len(contents.cables) + 1))
    cables = tuple(
        Cable(
            id=f"cable {place}",
            from_id="panel" if place == 1 else name,
            to_id=name if place == 1 else f"beyond cable {place}",
            origin="added",
            **entries,
        )
        for place, entries in enumerate(contents.cables, 1)
    )
    lights = (Load(id="the light", box=name, origin="added", kind="light", mounting="ceiling"),) if light else ()
    return Circuit(
        file="",
        job=Job(title=name, rulebook=book.edition),
        supply=Supply(voltage_v=Interval(120.0, 120.0), breaker_a=Interval(15.0, 15.0)),
        boxes=(box, *nexts),
        cables=cables,
        loads=lights,
    )
