"""Box depth: whether a shallow box is deep enough for what it holds.

What it asks: the depth inside each box that new work touches, where the file says it, against the least depth for a
plain box and for one that holds a switch or a receptacle.

Why: in a pancake box the wires are pressed against the plate, and a device behind them crushes their insulation. What
fits by volume may still not fit by depth.

What to do: take a deeper box, or add an extension ring. A pancake box mostly has room for one cable and no device;
how full it is, the box-fill check says.

Cannot see: how far a device reaches to the back: one that is deep itself needs more. A box listed together with its
device may be shallower.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.findings import Finding, Outcome, judge_at_least
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value

SMALL = ("14 AWG", "16 AWG", "18 AWG")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each touched box whose depth the file says; value and limit in inches."""
    for box in circuit.boxes:
        if box.depth_m is None:
            continue
        if is_added(box) or any(is_added(cable) for cable in circuit.tree.cables_at.get(box.id, ())):
            yield _finding(box, *_limits(circuit, box, book))


def _limits(circuit: Circuit, box: Box, book: Rulebook) -> tuple[Value, Value, tuple[str, ...]]:
    """The least depth at worst and at best, and the keys that tell which."""
    if not box.devices:
        plain = book.value("box-depth-plain")
        return plain, plain, ()
    thin, thick = book.value("box-depth-device-thin"), book.value("box-depth-device-thick")
    cables = circuit.tree.cables_at.get(box.id, ())
    sizes = [device.size for device in box.devices if device.size is not None]
    if any(device.size is None for device in box.devices):
        sizes += [cable.size for cable in cables if cable.size is not None]
    if any(size not in SMALL for size in sizes):
        return thick, thick, ()
    open_keys = tuple(f"cable.{cable.id}.size" for cable in cables if cable.size is None)
    if not sizes or open_keys:
        return thick, thin, open_keys
    return thin, thin, ()


def _finding(box: Box, worst: Value, best: Value, open_keys: tuple[str, ...]) -> Finding:
    key = f"box.{box.id}.depth"
    depth = box.depth_m
    assert depth is not None  # noqa: S101 - check passes over boxes without a depth
    bad = judge_at_least(depth.low, depth.high, worst.number)
    good = judge_at_least(depth.low, depth.high, best.number)
    outcome = bad if bad is good else Outcome.UNDETERMINED
    needs = (*open_keys, *(() if depth.exact else (key,))) or (key,)
    holds = "a switch or receptacle" if box.devices else "only wires"
    return Finding(
        check=RULE.name,
        subject=box.id,
        outcome=outcome,
        says=f"Box {box.id} is {in_unit(depth.low, 'in'):.3g} in deep and holds {holds}: "
        f"at least {in_unit(worst.number, 'in'):.4g} in is asked for.",
        value=in_unit(depth.low, "in"),
        limit=in_unit(worst.number, "in"),
        unit="in",
        low=in_unit(depth.low, "in"),
        high=in_unit(depth.high, "in"),
        sources=(worst.source,),
        needs=needs if outcome is Outcome.UNDETERMINED else (),
        keys=(key,),
        to_do=()
        if outcome is Outcome.PASS
        else ("Take a deeper box, or add an extension ring that is marked for it.",),
    )


RULE = Rule(
    name="box-depth",
    title="A box deep enough for what it holds",
    family="site",
    uses=("value:box-depth-plain", "value:box-depth-device-thin", "value:box-depth-device-thick"),
    check=check,
)
