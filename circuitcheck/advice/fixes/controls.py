"""Another dimmer: rated for more, with a smaller least load, or a plain switch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, REPLACED, Asked, Step, chosen, is_there
from circuitcheck.circuit.change import REPLACE
from circuitcheck.circuit.edits import PlanChange
from circuitcheck.circuit.model import Control
from circuitcheck.refs import Ref


def dimmer_steps(asked: Asked) -> Iterator[Step]:
    """What could stand in the place of a dimmer that does not suit its lights."""
    control = asked.part("controls")
    if control is None:
        return
    needed = asked.finding.high if asked.finding.high is not None else asked.finding.value
    if asked.finding.check == "dimmer-rating" and needed is not None:
        for rating in map(int, asked.book.value("dimmer-ratings").items):
            if rating >= needed:
                entries = {"rated_led": f"{rating} W", "rated_incandescent": f"{rating} W"}
                yield _other(control, asked, entries, f"rated for {rating} W of LED and of other lamps")
    if asked.finding.check == "dimmer-least-load":
        least = asked.finding.low if asked.finding.low is not None else asked.finding.value
        if least is not None and least >= 1:
            watts = math.floor(least)
            yield _other(control, asked, {"min_load": f"{watts} W"}, f"that works from {watts} W on")
    yield _other(control, asked, {"kind": "switch"}, plain=True)


def plain_switch_steps(asked: Asked) -> Iterator[Step]:
    """A plain switch in the place of one whose electronics need a neutral that its box does not have."""
    control = asked.part("controls")
    if control is not None and control.kind != "switch":
        yield _other(control, asked, {"kind": "switch", "needs_neutral": False}, plain=True)


def made_for_driver_steps(asked: Asked) -> Iterator[Step]:
    """In front of a driver: a driver and a dimmer that a maker names together, or a plain switch."""
    driver, circuit = asked.part("drivers"), asked.circuit
    if driver is None:
        return
    names = {cable.switched_by for cable in circuit.tree.path(driver.box)} | {driver.switched_by}
    for control in circuit.controls:
        if control.id not in names or control.kind not in (None, "dimmer"):
            continue
        if not is_there(driver) and not is_there(control):
            edits = (
                chosen(circuit, "driver", driver, {"dimming": "phase", "product": None}),
                chosen(circuit, "control", control, {"kind": "dimmer", "matched": True, "product": None}),
            )
            says = f'Choose a driver "{driver.id}" that dims in its feed, and a dimmer "{control.id}" from its list.'
            yield Step(says, edits, CHOSEN + 0.5)
        yield _other(control, asked, {"kind": "switch"}, plain=True)


def _other(control: Control, asked: Asked, entries: dict[str, Any], words: str = "", *, plain: bool = False) -> Step:
    rated = ("rated_led", "rated_incandescent", "min_load", "max_lamps", "matched")
    away: dict[str, Any] = dict.fromkeys(("product", *(rated if plain else ("matched",))))
    ways = f"{control.ways} " if control.ways in ("three-way", "four-way") else ""
    what = f"a plain {ways}switch" if plain else f"a {ways}dimmer {words}"
    if not is_there(control):
        says = f'Choose for "{control.id}" {what}.'
        return Step(says, (chosen(asked.circuit, "control", control, {**away, **entries}),), CHOSEN)
    kept: dict[str, Any] = {"kind": control.kind, "needs_neutral": control.needs_neutral}
    ratings = {
        "rated_led": control.rated_led_w,
        "rated_incandescent": control.rated_incandescent_w,
        "min_load": control.min_load_w,
    }
    if not plain:
        kept |= {key: value.text for key, value in ratings.items() if value is not None and value.text}
        kept["max_lamps"] = control.max_lamps
    else:
        kept["needs_neutral"] = False
    box = asked.circuit.tree.box[control.box]
    if box.devices is not None:
        kind = "switch" if plain else "dimmer"
        kinds = ("switch", "dimmer", "sensor", "timer")
        old = next((device for device in box.devices if device.kind in kinds), None)
        kept["devices"] = [
            {"kind": kind if device is old else device.kind, "gangs": device.gangs}
            | ({"size": device.size} if device.size else {})
            for device in box.devices
        ]
    new = {key: value for key, value in {**kept, **entries}.items() if value is not None}
    says = f'Put {what} in the place of "{control.id}".'
    return Step(says, (PlanChange(Ref("control", control.id), REPLACE, new),), REPLACED)
