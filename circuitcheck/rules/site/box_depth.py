"""Box depth: whether a shallow box is deep enough for what it holds.

What it asks: the depth inside each box that new work touches, against the least depth for a plain box and for one that
holds a switch or a receptacle. Where no depth is given, a small box with a device is taken to be deep enough, and the
report says so.

Why: in a pancake box the wires are pressed against the plate, and a device behind them crushes their insulation. What
fits by volume may still not fit by depth.

What to do: take a deeper box, or add an extension ring. A pancake box mostly has room for one cable and no device;
how full it is, the box-fill check says.

Cannot see: how far a device reaches to the back: one that is deep itself needs more. A box listed together with its
device may be shallower.
"""

from __future__ import annotations

from math import inf
from typing import Any

from circuitcheck.case import EACH, LESS, Amount, Answer, Case, CaseRule, Family, Rounding, Things, said
from circuitcheck.case.parts import Box, Part
from circuitcheck.domain.work import TOUCH_WORSE, is_touched
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook, Value

SMALL = ("14 AWG", "16 AWG", "18 AWG")
_DIGITS = 5
_DEEPER = ("Take a deeper box, or add an extension ring that is marked for it.",)


def answer(box: Box, case: Case, book: Rulebook) -> Answer | None:
    """How deep one touched box is [in]."""
    if not is_touched(case, box):
        return None
    least = _least(box, case, book)
    if box.depth_m is None:
        return _taken_for_deep(box, least, book)
    deep, limit = in_unit(box.depth_m, "in"), in_unit(least.number, "in")
    things: Things = {
        "box": box.id,
        "deep": Amount(deep, "in", Rounding.DOWN),
        "least": Amount(limit, "in", Rounding.UP, _DIGITS),
        "holds": "a switch or receptacle" if box.devices else "only wires",
    }
    return Answer(
        part=box,
        outcome=Outcome.FAIL if exceeds(least.number, box.depth_m) else Outcome.PASS,
        says=said('Box "{box}" is {deep} deep and holds {holds}: at least {least} is required.', **things),
        open_says=said(
            'Cannot tell yet whether box "{box}" is deep enough: it is {deep} deep and needs {least}.', **things
        ),
        value=deep,
        limit=limit,
        unit="in",
        at_least=True,
        sources=(least.source,),
        keys=(box.entry("depth"),),
        to_do={Outcome.FAIL: _DEEPER, Outcome.UNDETERMINED: _DEEPER},
    )


def _taken_for_deep(box: Box, least: Value, book: Rulebook) -> Answer | None:
    """A small box of unknown depth that holds a device. A box with much room cannot be too shallow for it."""
    if not box.devices or box.trade_size is not None or box.volume_m3 is None:
        return None
    faces = -(-sum(device.gangs for device in box.devices) // 2)
    if not exceeds(least.number, box.volume_m3 / (faces * book.value("box-greatest-side").number ** 2)):
        return None
    things: Things = {"box": box.id, "least": Amount(in_unit(least.number, "in"), "in", Rounding.UP, _DIGITS)}
    return Answer(
        part=box,
        outcome=Outcome.PASS,
        says=said('Box "{box}" is taken to be at least {least} deep, as its device requires.', **things),
        sources=(least.source, book.value("box-greatest-side").source),
        keys=(box.entry("depth"),),
    )


def _least(box: Box, case: Case, book: Rulebook) -> Value:
    """The least depth: of a box with devices by the largest conductor on them, or else in the box."""
    if not box.devices:
        return book.value("box-depth-plain")
    sizes = [device.size for device in box.devices if device.size is not None]
    if any(device.size is None for device in box.devices):
        sizes += [cable.size for cable in case.tree.cables_at.get(box.id, ())]
    thin = bool(sizes) and all(size in SMALL for size in sizes)
    return book.value("box-depth-device-thin" if thin else "box-depth-device-thick")


def _shallow(value: Any, part: Part, case: Case) -> Any:
    """A box of which no depth is given is taken to be deep enough."""
    return -inf if value is None else -value


def _thick(value: Any, part: Part, case: Case) -> Any:
    return value not in SMALL


def _devices_are_worse(value: Any, part: Part, case: Case) -> Any:
    """None, then devices for thin conductors, then those that go by the cables in the box, then those for thick."""
    sizes = [device.size for device in value]
    thick = any(size is not None and size not in SMALL for size in sizes)
    return thick, None in sizes, bool(sizes)


RULE = CaseRule[Box](
    name="box-depth",
    title="A box deep enough for what it holds",
    family=Family.SITE,
    rank=440,
    subjects=lambda case: case.boxes,
    answer=answer,
    worse={
        **TOUCH_WORSE,
        "box.depth": _shallow,
        "box.trade_size": EACH,
        "box.volume": LESS,
        "box.devices": _devices_are_worse,
        "cable.size": _thick,
    },
)
