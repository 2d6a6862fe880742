"""The order of work: everything that is new stays dead until the last step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass

from circuitcheck.advice.directory import directory_wording
from circuitcheck.advice.item import boxes_named, named
from circuitcheck.advice.materials import PROTECTING, STILL_OPEN
from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.quantities import rounded_up
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.site.switched_feed import loads_killed_by

#: So many switches are told with what each turns off; the rest is for whoever knows the house.
MOST_SWITCHES = 12


@dataclass(frozen=True, slots=True)
class Phase:
    """A part of the work, with its steps in order."""

    title: str
    steps: tuple[str, ...]


def dead_test_steps(circuit: Circuit, first_boxes: Sequence[str]) -> tuple[str, ...]:
    """Shutting off and proving dead, for this circuit. ``first_boxes``: those that exist and are opened."""
    return tuple(_dead_test(circuit, first_boxes))


def _dead_test(circuit: Circuit, first_boxes: Sequence[str]) -> Iterator[str]:
    supply = circuit.supply
    place = f" in {supply.panel}" if supply.panel else ""
    slot = f", slot {supply.slot}" if supply.slot else ""
    yield (
        f"Find the {supply.device or 'breaker or fuse'} of this circuit{place}{slot} by switching it off and walking "
        "the house, not by the list in the panel. Leave the panel's own cover on: parts behind it stay live."
    )
    if supply.device == "fuse":
        yield "Take the fuse out and keep it with you; put a note on the empty holder: who works, and where."
    else:
        yield "Switch it off. Lock it, or tape it with a note: who works, and where."
    yield "Tell everyone in the house."
    if supply.shared_neutral:
        yield (
            "This circuit shares its neutral with another one: switch off and lock BOTH breakers. With one of them on, "
            "the neutral in the box can be live although every hot conductor tests dead."
        )
    elif supply.shared_neutral is None:
        yield (
            "Nobody has said whether another circuit shares this neutral. Look for two handles tied together or one "
            "handle two spaces wide, and switch off both; if it cannot be told, that is for an electrician."
        )
    boxes = boxes_named(first_boxes) if first_boxes else "the first box"
    yield (f"Open {boxes} without touching a wire. Try a two-lead tester on something known to be live.")
    yield (
        "Test every pair in the box: hot to neutral, hot to ground, neutral to ground, and each conductor of each "
        "cable against the others and against the ground. A second circuit may be in the same box."
    )
    yield (
        "Try the tester on the live source again. Only now does nothing mean dead. A non-contact tester alone is no "
        "proof."
    )
    yield "A wall switch that is off is not power off. Test again whenever you come back from a break."


def order_of_work(circuit: Circuit, report: Report, wiring: Sequence[BoxWiring]) -> tuple[Phase, ...]:
    """The phases, the joining to what is there among the last and the power at the very end."""
    new = [one.box.id for one in wiring if not one.is_existing]
    old = [one.box.id for one in wiring if one.is_existing]
    untold = {one.box.id for one in wiring if one.joints.untold}
    return (
        Phase("Before anything is opened", tuple(_before(circuit, report))),
        Phase("Run the new cable, joined to nothing", tuple(_rough(circuit, new, old))),
        Phase("Show it while it is open", _inspection()),
        Phase("Join what is new, farthest box first", tuple(_join_new(new, untold))),
        Phase("Last of all, join it to what is there", tuple(_join_old(old, untold, report))),
        Phase("Close, then power", tuple(_close(report))),
    )


def _before(circuit: Circuit, report: Report) -> Iterator[str]:
    if circuit.site.permit in (None, "not asked"):
        yield "Ask the permit office whether this work needs a permit and who may do it, and wait for the answer."
    elif circuit.site.permit == "asked":
        yield "The permit office has been asked: wait for the answer."
    if any(finding.outcome in (Outcome.FAIL, Outcome.UNDETERMINED) for finding in report.findings):
        yield "Settle everything that stands open above, change the circuit file, and make this plan again."
    yield "Have the materials at hand and read each label: connectors, boxes, luminaires say what they are listed for."
    yield "Go through the steps under “Shut off, and prove it dead” before the first existing box is opened."


def _rough(circuit: Circuit, new: Sequence[str], old: Sequence[str]) -> Iterator[str]:
    cables = [cable.id for cable in circuit.tree.branch_cables if is_added(cable)]
    if new:
        yield f"Set the new {boxes_named(new)}."
    if cables:
        yield (
            f"Run the new cable ({named(reversed(cables))}), from the far end toward the panel. Mark both ends of each "
            "run with its name. Do not bend it sharply, do not crush it under staples."
        )
    if old:
        yield (
            f"Leave the ends at {boxes_named(old)} outside, coiled and capped: as long as they are joined to "
            "nothing, everything new is dead."
        )
    low = [cable.id for cable in circuit.tree.low_voltage_cables if is_added(cable)]
    if low:
        yield f"Run the low-voltage cable ({named(low)}) apart from the power cables."


def _inspection() -> tuple[str, ...]:
    return (
        "Rough wiring stays uncovered until the inspector has seen it, where there is a permit.",
        "Close no wall or ceiling, and bury no cable in insulation, before that.",
    )


def _join_new(new: Sequence[str], untold: Set[str]) -> Iterator[str]:
    held = [box for box in new if box in untold]
    told = [box for box in new if box not in untold]
    if told:
        yield f"Join in this order: {boxes_named(told)}. The list of joints says what joins what; pull at every wire."
    if held:
        yield f"Join nothing in {boxes_named(held)} yet: it cannot be told what belongs together there."
    yield "Mount switches and luminaires. Someone holds a luminaire until its screws do: its wires must not carry it."


def _join_old(old: Sequence[str], untold: Set[str], report: Report) -> Iterator[str]:
    yield "Shut off, lock and prove dead once more, as at the start, even if nobody touched the breaker."
    full = {one.subject for one in report.findings if one.check == "box-fill" and one.outcome is Outcome.FAIL}
    small = [box for box in old if box in full]
    if small:
        yield f"First the larger box or the marked ring for {boxes_named(small)}: what is there is too small."
    held = [box for box in old if box in untold]
    told = [box for box in old if box not in untold]
    if told:
        yield (
            f"Open {boxes_named(told)}. Compare what you find with the list of joints. If a wire more is in there, or "
            "one is joined otherwise, or insulation is brittle: stop, close it, ask an electrician."
        )
        yield "Bring the new cable in, then join grounds first, neutrals next, hot conductors last."
    if held:
        yield f"Join nothing in {boxes_named(held)} yet: it cannot be told what belongs together there."


def _close(report: Report) -> Iterator[str]:
    if protection_is_open(report.findings):
        yield "An electrician fits the protection at the panel that was settled with the inspector."
    yield "Close every box: plate, cover or canopy. Nobody leaves a splice outside a box."
    yield "Last step: have someone watch the lights, take off the lock or note, switch on."
    yield "If it trips, or anything hums, smells or sparks: off again, lock, and call a licensed electrician."


def checks_after(circuit: Circuit, report: Report) -> tuple[str, ...]:
    """What to look at when the power is back."""
    return tuple(_checks(circuit, report))


def _checks(circuit: Circuit, report: Report) -> Iterator[str]:
    killed = [(control, loads) for control, loads in loads_killed_by(circuit).items() if loads]
    for control, loads in killed[:MOST_SWITCHES]:
        yield f"Switch {control} turns off {named(loads)}, and nothing else."
    if len(killed) > MOST_SWITCHES:
        yield f"Each of the other {len(killed) - MOST_SWITCHES} switches turns off what the file says, nothing else."
    yield "Whatever worked before works as before: lamps, receptacles, fans, alarms, also in other rooms and outdoors."
    drop = _largest_drop(report.findings)
    if drop is not None and drop.value is not None:
        yield (
            f"By calculation at most {rounded_up(drop.value)} % of the voltage is lost on the way to {drop.subject}; "
            "far more under load would point to a bad joint. Readings inside a box are for an electrician."
        )
    if circuit.supply.protection not in (None, "none") or protection_is_open(report.findings):
        yield "The test button of the arc-fault or ground-fault protection makes dead what it protects."
    yield "After an hour with everything on: no plate, switch or luminaire is warmer than before or smells."
    yield "Every box has its cover, and every box can be reached."
    yield f"Written into the panel's directory: “{directory_wording(circuit)}”."
    yield "The inspector has seen it, where there is a permit."
    yield "The circuit file says what was really built, and lies with this plan at the panel."


def protection_is_open(findings: Sequence[Finding]) -> bool:
    """Whether a check of arc-fault or ground-fault protection may still ask for a device."""
    return any(one.check in PROTECTING and one.outcome in STILL_OPEN for one in findings)


def _largest_drop(findings: Sequence[Finding]) -> Finding | None:
    drops = [one for one in findings if one.check == "voltage-drop" and one.value is not None]
    return max(drops, key=lambda one: one.value or 0.0, default=None)
