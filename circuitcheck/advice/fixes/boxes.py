"""More room in a box: no clamps inside, a ring, a deeper box of the right kind, or a box marked with more."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, DONE_AT_BOX, REPLACED, Asked, Step, chosen, is_there
from circuitcheck.circuit.change import ALTER, REPLACE
from circuitcheck.circuit.edits import PlanChange
from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.quantities import in_unit
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Row

#: Rooms in which the outside of a box is usually open to the hand, and a ring stands in nobody's way.
OPEN_ROOMS = ("attic", "crawl space", "basement", "garage", "utility room")
_OVERHEAD = ("ceiling", "pendant")
METAL, NONMETALLIC = "metal", "nonmetallic"
LUMINAIRE_SHAPE, DEVICE_SHAPE, SQUARE_SHAPE = "round or octagonal", "device", "square"

#: How many larger boxes are tried.
_MOST_SIZES = 4

#: What clamps that a new box may have take at the most: as much as one conductor of this size, the largest in a room.
_LARGEST = "10 AWG"


def room_steps(asked: Asked) -> Iterator[Step]:
    """What gives a box more room, the smallest first."""
    box = asked.part("boxes")
    if box is None:
        return
    yield from _clamps_out(box, asked.circuit)
    yield from _ring(box, asked)
    yield from _larger(box, asked)


def is_outside_open(box: Box) -> bool:
    """Whether a connector can be fitted from outside: the box is new, stands in an open room, or is on the surface."""
    return not is_there(box) or box.room in OPEN_ROOMS or box.mounting == "surface"


def _clamps_out(box: Box, circuit: Circuit) -> Iterator[Step]:
    if box.internal_clamps is False or box.material != METAL or not is_outside_open(box):
        return
    entries = {"internal_clamps": False}
    if is_there(box):
        says = f'Take all clamps out of box "{box.id}" and hold its cables by connectors that stay outside it.'
        yield Step(says, (PlanChange(Ref("box", box.id), ALTER, entries),), DONE_AT_BOX)
    else:
        says = f'Choose a box "{box.id}" without clamps inside, with connectors that stay outside it.'
        yield Step(says, (chosen(circuit, "box", box, entries),), CHOSEN)


def _ring(box: Box, asked: Asked) -> Iterator[Step]:
    """A ring with a mark, or one made from a box of the table, which counts as that box.

    On a flush box it would stand out of the wall, so only where the box is in the open.

    Source: NFPA 70, 314.16(A): rings count by their mark or where they are made from boxes that the table lists.
    """
    short = _short(asked)
    if short is None or not is_there(box) or not (box.room in OPEN_ROOMS or box.mounting == "surface"):
        return
    rings = [ring.text or f"{in_unit(ring.low, 'in^3'):.4g} in^3" for ring in box.extensions_m3 or ()]
    size = f"{max(2, math.ceil(short))} in^3"
    says = f'Put an extension ring on box "{box.id}" that is made for it and marked at least {size.replace("^3", "³")}.'
    edit = PlanChange(Ref("box", box.id), ALTER, {"extensions": [*rings, size]})
    yield Step(says, (edit,), DONE_AT_BOX + 0.5)
    for row in _rings_by_table(box, short, asked):
        counts = f"{in_unit(row.printed_number('volume'), 'in^3'):g} in^3"
        says = (
            f'Put an extension ring without a mark on box "{box.id}", of its size and at least as deep as a '
            f"{row.key[0]} box: by the table it counts {counts.replace('^3', '³')}."
        )
        edit = PlanChange(Ref("box", box.id), ALTER, {"extensions": [*rings, counts]})
        yield Step(says, (edit,), DONE_AT_BOX + 0.6, family=f"ring {box.id}", strength=row.printed_number("volume"))


def _rings_by_table(box: Box, short: float, asked: Asked) -> list[Row]:
    """Boxes of the table that an extension ring for this one can be made from: as wide, of its shape, small first."""
    table = asked.book.table("box-volumes")
    own = table.find(box.trade_size) if box.trade_size is not None else None
    if own is None or own.text("shape") not in (LUMINAIRE_SHAPE, SQUARE_SHAPE):
        return []
    rows = [
        row
        for row in table.rows
        if row.text("shape") == own.text("shape")
        and _width(row) == _width(own)
        and in_unit(row.printed_number("volume"), "in^3") >= short
    ]
    return sorted(rows, key=lambda row: row.printed_number("volume"))


def _width(row: Row) -> str:
    """How wide a box of the table is: the ``4`` of ``4 x 1-1/2 octagon``."""
    return row.key[0].partition(" x ")[0]


def _short(asked: Asked) -> float | None:
    """How much room is missing at worst [in^3]; None where the box's own room is unknown."""
    needed, has = asked.finding.high, asked.finding.limit
    if needed is None or has is None or needed <= has:
        return None
    return needed - has


def _larger(box: Box, asked: Asked) -> Iterator[Step]:
    if box.trade_size is not None or (box.volume_m3 is None and box.material == METAL):
        for row in list(_larger_rows(box, asked))[:_MOST_SIZES]:
            step = _other_box(box, asked, {"trade_size": row.key[0]}, f"trade size {row.key[0]}")
            yield replace(step, family=f"larger {row.text('shape')} {box.id}", strength=row.printed_number("volume"))
    if box.trade_size is None or not is_there(box):
        needed = asked.finding.high
        if needed is not None:
            clamps = _clamps(asked) if is_there(box) and box.internal_clamps is False else 0.0
            volume = math.ceil(needed + clamps)
            if volume <= in_unit(asked.book.value("largest-marked-box").number, "in^3"):
                yield _other_box(box, asked, {"volume": f"{volume} in^3"}, f"marked at least {volume} in³")


def _clamps(asked: Asked) -> float:
    """The room of clamps inside a box that is still to be bought [in^3]; of a book without that size at its most."""
    table = asked.book.table("conductor-volume")
    row = table.find(_LARGEST)
    rows = table.rows if row is None else (row,)
    return in_unit(max(each.printed_number("volume") for each in rows), "in^3")


def _larger_rows(box: Box, asked: Asked) -> Iterator[Row]:
    """Rows of the table with more room, of a shape that suits what hangs on the box, from small first."""
    table = asked.book.table("box-volumes")
    own = table.find(box.trade_size) if box.trade_size is not None else None
    least = own.printed_number("volume") if own is not None else 0.0
    shapes = _shapes(box, own, asked.circuit)
    for shape in shapes:
        rows = [row for row in table.rows if row.text("shape") == shape and row.printed_number("volume") > least]
        yield from sorted(rows, key=lambda row: row.printed_number("volume"))


def _shapes(box: Box, own: Row | None, circuit: Circuit) -> tuple[str, ...]:
    """The shapes of box that suit: a light overhead never hangs on a device box."""
    shape = own.text("shape") if own is not None else None
    loads = circuit.tree.loads_at.get(box.id, ())
    lights = [load for load in loads if load.kind in ("light", "fan", None) and load.mounting != "recessed"]
    if lights:
        overhead = any(load.mounting in (*_OVERHEAD, None) for load in lights)
        return (LUMINAIRE_SHAPE,) if overhead or shape != DEVICE_SHAPE else (DEVICE_SHAPE, LUMINAIRE_SHAPE)
    if shape is not None:
        return (shape,) if box.devices or shape == SQUARE_SHAPE else (shape, SQUARE_SHAPE)
    return (DEVICE_SHAPE,) if box.devices else (LUMINAIRE_SHAPE, SQUARE_SHAPE)


def _other_box(box: Box, asked: Asked, size: dict[str, Any], words: str) -> Step:
    if not is_there(box):
        says = f'Choose a larger box "{box.id}": {words}.'
        return Step(says, (chosen(asked.circuit, "box", box, {**size, "product": None, "depth": None}),), CHOSEN)
    new = _new_box(box, asked, size)
    marked = {"fan": ", made for a fan, which may carry a light", "luminaire": ", made for a light"}
    holds = f"{marked[new['made_for']]} and marked for 50 lb" if "support_limit" in new else ""
    says = f'Put a larger box in the place of "{box.id}": {words}{holds}.'
    return Step(says, (PlanChange(Ref("box", box.id), REPLACE, {**size, **new}),), REPLACED)


def _new_box(box: Box, asked: Asked, size: dict[str, Any]) -> dict[str, Any]:
    """What the box to buy is like besides its size. Clamps are counted as if it had them."""
    circuit = asked.circuit
    material = METAL if "trade_size" in size else box.material or NONMETALLIC
    lights = any(load.kind in ("light", "fan", None) for load in circuit.tree.loads_at.get(box.id, ()))
    new: dict[str, Any] = {
        "material": material,
        "internal_clamps": True,
        "made_for": _made_for(box, asked) if lights else box.made_for or ("device" if box.devices else "junction"),
        "mounting": _mounting(box, circuit),
        "covered": True,
    }
    if lights:
        new["support_limit"] = "50 lb"
    if material == METAL and box.ground:
        new["bonded"] = True
    if box.devices is not None:
        new["devices"] = [
            {"kind": device.kind, "gangs": device.gangs} | ({"size": device.size} if device.size else {})
            for device in box.devices
        ]
    if box.fittings:
        new["fittings"] = list(box.fittings)
    return new


def _mounting(box: Box, circuit: Circuit) -> str:
    """How another box can be held there: behind a finished wall or ceiling not as the old one was."""
    if is_outside_open(box):
        return box.mounting or "framing"
    loads = circuit.tree.loads_at.get(box.id, ())
    return "bar hanger" if any(load.mounting in _OVERHEAD for load in loads) else "retrofit"


def support_steps(asked: Asked) -> Iterator[Step]:
    """Another box of the same size, made for what hangs on it."""
    box = asked.part("boxes")
    if box is None or not is_there(box):
        return
    size: dict[str, Any] = {}
    if box.trade_size is not None:
        size = {"trade_size": box.trade_size}
    elif box.volume_m3 is not None:
        size = {"volume": f"{math.ceil(in_unit(box.volume_m3.high, 'in^3'))} in^3"}
    if size:
        yield _other_box(box, asked, size, "of the same size")


def _made_for(box: Box, asked: Asked) -> str:
    """What a box for a light is made for: for a fan where the code asks that of a new ceiling box.

    Source: NFPA 70, 314.27(C).
    """
    loads = asked.circuit.tree.loads_at.get(box.id, ())
    overhead = any(load.mounting in _OVERHEAD for load in loads)
    fan = overhead and box.fan_could_hang is not False
    asked_for = asked.book.find_value("ceiling-box-for-fan-wherever-it-could-hang") is not None
    return "fan" if fan and asked_for and not is_outside_open(box) else "luminaire"
