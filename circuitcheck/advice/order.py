"""The order of work: everything that is new stays dead until the last step."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.advice.directory import directory_wording
from circuitcheck.advice.item import boxes_named, named
from circuitcheck.advice.order_changes import replaced_boxes, replaced_controls, take_out_steps
from circuitcheck.advice.readiness import Readiness, can_end_the_job, settled_cables
from circuitcheck.advice.wiring import BoxWiring
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.switched import killed_by
from circuitcheck.findings import Finding, Report
from circuitcheck.outcomes import answer_words
from circuitcheck.quantities import rounded_up

#: So many switches are told with what each turns off; the rest is for whoever knows the house.
MOST_SWITCHES = 12

RUN = "Set boxes, run and staple the new cable, joined to nothing"

#: So many existing boxes have a stretch of steps each; more share one.
MOST_STRETCHES = 3


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
            "the neutral in the box can be live even though every hot conductor tests dead."
        )
    elif supply.shared_neutral is None:
        yield (
            "Unknown whether another circuit shares this neutral. Look for two handles tied together or one "
            "handle two spaces wide, and switch off both; if you cannot tell, call a licensed electrician."
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


def order_of_work(circuit: Circuit, wiring: Sequence[BoxWiring]) -> tuple[Phase, ...]:
    """The phases of a plan that nothing stands open against, joining what is there near the end, the power last."""
    replaced = replaced_boxes(circuit)
    new = [one.box.id for one in wiring if not one.is_existing and one.box.id not in replaced]
    old = [one.box.id for one in wiring if one.is_existing or one.box.id in replaced]
    cables = [cable.id for cable in circuit.tree.branch_cables if cable.is_added]
    low = [cable.id for cable in circuit.tree.low_voltage_cables if cable.is_added]
    entered = [
        box
        for box in old
        if box not in replaced and any(cable.is_added for cable in circuit.tree.cables_at.get(box, ()))
    ]
    phases = (
        Phase("Before anything is opened", tuple(_before(circuit))),
        Phase(RUN, tuple(_rough(new, old, cables, low))),
        *(Phase(title, tuple(steps)) for title, steps in _stretches(circuit, entered)),
        Phase("Make up the new boxes, farthest first", tuple(_make_up(new))),
        Phase("Show it while it is open", _inspection()),
        Phase("Devices and fixtures", tuple(_fixtures(circuit, new))),
        Phase("Take out what is replaced or goes, with the power off", take_out_steps(circuit, _shut_off(circuit))),
        Phase("Last of all, join it to what is there", tuple(_join_old(circuit, old))),
        Phase("Close, then power", tuple(_close())),
    )
    return tuple(phase for phase in phases if phase.steps)


def order_until_known(circuit: Circuit, ready: Readiness) -> tuple[Phase, ...]:
    """The phases while something is unknown: settle it, then run, joined to nothing, what nothing open can change."""
    settled = settled_cables(ready, circuit)
    first = Phase("Settle first: until then nothing is cut or run", tuple(_settle(circuit, ready)))
    if not settled:
        return (first,)
    tree = circuit.tree
    ends = {end for cable in tree.branch_cables if cable.id in settled for end in (cable.from_id, cable.to_id)}
    boxes = [tree.box[node] for node in reversed(tree.order) if node in ends and node in tree.box]
    new, old = [box.id for box in boxes if box.is_added], [box.id for box in boxes if not box.is_added]
    return (first, Phase(f"Then: {RUN[0].lower()}{RUN[1:]}", tuple(_rough(new, old, settled, ()))))


def _settle(circuit: Circuit, ready: Readiness) -> Iterator[str]:
    ending = can_end_the_job(ready, circuit)
    if ending:
        what = dict.fromkeys(answer_words(finding) for finding in ending)
        yield f"Find out what can end the job: {named(what)}."
    if ready.untold:
        yield f"Find out what joins what in {boxes_named(ready.untold)}: the list above names the entries that tell."
    yield from _permit(circuit)
    yield "Write what was found out into the circuit file and make this plan again: it may change."


def _permit(circuit: Circuit) -> Iterator[str]:
    if circuit.site.permit in (None, "not asked"):
        yield "Ask the permit office whether this work needs a permit and who may do it, and wait for the answer."
    elif circuit.site.permit == "asked":
        yield "The permit office has been asked: wait for the answer."


def _before(circuit: Circuit) -> Iterator[str]:
    yield from _permit(circuit)
    yield "Have the materials on hand and read each label: connectors, boxes and fixtures say what they are listed for."
    yield "Go through the steps under “Shut off, and prove it dead” before the first existing box is opened."


def _rough(new: Sequence[str], old: Sequence[str], cables: Sequence[str], low: Sequence[str]) -> Iterator[str]:
    if new:
        yield f"Set the new {boxes_named(new)}."
    if cables:
        yield (
            f"Run the new cable ({named(reversed(cables))}), from the far end toward the panel, away from boxes that "
            "are there already. Mark both ends of each run with its name. Do not bend it sharply."
        )
        yield "Staple it as the list of materials says, without crushing it under a staple."
    if old:
        yield (
            f"Leave the ends at {boxes_named(old)} outside, coiled and capped: as long as they are joined to "
            "nothing, everything new is dead."
        )
    if low:
        yield f"Run the low-voltage cable ({named(low)}) apart from the power cables."


def _stretches(circuit: Circuit, boxes: Sequence[str]) -> Iterator[tuple[str, Iterator[str]]]:
    """Bringing cable into each existing box, one box at a time, so that nothing else is dark for days."""
    if len(boxes) > MOST_STRETCHES:
        yield f"At each of {boxes_named(boxes)}, one at a time, with the power off", _stretch(circuit, "the box")
        return
    for box in boxes:
        yield f'At existing box "{box}", with the power off', _stretch(circuit, f'box "{box}"', box)


def _stretch(circuit: Circuit, name: str, box: str | None = None) -> Iterator[str]:
    yield f"{_shut_off(circuit)} Prove it dead by the steps above, before anything in {name} is touched."
    hangs = [load.id for load in circuit.tree.loads_at.get(box, ()) if load.kind != "receptacle"] if box else []
    if hangs or box is None:
        fixture = f" ({named(hangs)})" if hangs else ", where there is one"
        yield f"Take the fixture down{fixture}: somebody holds it while its leads are disconnected. Cap its leads."
    yield (
        f"Photograph the splices in {name}. Compare them with the list of splices. If there is an extra wire, or one "
        "is joined otherwise, or insulation is brittle: stop, close it, ask an electrician."
    )
    yield "Open a knockout, bring the new cable in through its clamp, and cap each of its conductors by itself."
    yield (
        f"Cap every splice, put a cover on {name} and on every other box that is open, then restore the power: smoke "
        "alarms, stairs and refrigerators do not stay dark for days."
    )


def _shut_off(circuit: Circuit) -> str:
    if circuit.supply.shared_neutral:
        return "Shut off and lock BOTH breakers of the shared neutral."
    if circuit.supply.shared_neutral is None:
        return "Shut off and lock the breaker, and the second one where a neutral may be shared."
    return "Shut off and lock the breaker."


def _make_up(new: Sequence[str]) -> Iterator[str]:
    if new:
        yield (
            f"Make up the grounds first, then the other splices, in this order: {boxes_named(new)}. The list of "
            "splices says what joins what, by color; pull at every wire. Everything new is still joined to nothing."
        )
        yield (
            "Many offices want to see grounds and splices made up at the rough-in inspection, others want the boxes "
            "open: ask first (common practice)."
        )


def _inspection() -> tuple[str, ...]:
    return (
        "Rough wiring stays uncovered until the inspector has seen it, where there is a permit.",
        "Close no wall or ceiling, and bury no cable in insulation, before that.",
    )


def _fixtures(circuit: Circuit, new: Sequence[str]) -> Iterator[str]:
    replaced = replaced_controls(circuit)
    if any(control.is_added and control.id not in replaced for control in circuit.controls):
        yield "Mount the switches: each conductor to its terminal, or spliced to its lead, as the list says."
    if new:
        yield "Hang the fixtures. Somebody holds each until its screws do: its leads must not carry it."
        yield f"Put plates, covers and canopies on {boxes_named(new)}."


def _join_old(circuit: Circuit, old: Sequence[str]) -> Iterator[str]:
    if old:
        yield f"{_shut_off(circuit)} Go through the whole dead test once more, even if nobody touched the breaker."
        yield f"Open {boxes_named(old)} after the dead test, not before. Somebody holds a fixture that comes down."
        yield "Join grounds first, neutrals next, hot conductors last, by the list of splices."


def _close() -> Iterator[str]:
    yield "Close every box: plate, cover or canopy. Nobody leaves a splice outside a box."
    yield "Last step: have someone watch the lights, take off the lock or note, switch on."
    yield "If it trips, or anything hums, smells or sparks: off again, lock, and call a licensed electrician."


def checks_after(circuit: Circuit, report: Report) -> tuple[str, ...]:
    """What to look at when the power is back."""
    return tuple(_checks(circuit, report))


def _checks(circuit: Circuit, report: Report) -> Iterator[str]:
    worked = killed_by(circuit.tree.branch_cables, (*circuit.loads, *circuit.drivers), circuit.controls)
    killed = [(control, loads) for control, loads in worked.items() if loads]
    for control, loads in killed[:MOST_SWITCHES]:
        yield f"Switch {control} turns off {named(loads)}, and nothing else."
    sets = [control for control in circuit.controls if control.ways in ("three-way", "four-way")]
    if sets:
        yield (
            f"Each of {named(control.id for control in sets)} turns its lights on and off in both positions of the "
            "others."
        )
    if len(killed) > MOST_SWITCHES:
        yield f"Each of the other {len(killed) - MOST_SWITCHES} switches turns off what the file says, nothing else."
    yield "Whatever worked before works as before: lamps, receptacles, fans, alarms, also in other rooms and outdoors."
    drop = _largest_drop(report.findings)
    if drop is not None and drop.value is not None and not drop.is_without_bound:
        yield (
            f"By calculation at most {rounded_up(drop.value)} % of the voltage is lost on the way to {drop.subject}; "
            "far more under load would point to a bad splice. Readings inside a box are for an electrician."
        )
    if circuit.supply.protection not in (None, "none"):
        yield "The test button of the arc-fault or ground-fault protection makes dead what it protects."
    yield "After an hour with everything on: no plate, switch or luminaire is warmer than before or smells."
    yield "Every box has its cover, and every box can be reached."
    yield f"Written into the panel's directory: “{directory_wording(circuit)}”."
    yield "The inspector has seen it, where there is a permit."
    yield "The circuit file says what was really built, and is kept with this plan at the panel."


def _largest_drop(findings: Sequence[Finding]) -> Finding | None:
    drops = [(each.value, each) for each in findings if each.check == "voltage-drop" and each.value is not None]
    return max(drops, key=lambda drop: drop[0])[1] if drops else None
