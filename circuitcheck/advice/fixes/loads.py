"""Less on the circuit: new lights that take less, or fewer of them; lights of another mark."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, LESS, REPLACED, Asked, Step, chosen, is_there
from circuitcheck.circuit.change import REPLACE
from circuitcheck.circuit.edits import DropPart, PlanChange
from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.refs import Ref

#: How many lights are left out at the most.
_MOST_LESS = 3


def less_power_steps(asked: Asked) -> Iterator[Step]:
    """New lights marked for fewer watts: the largest mark first that is less than what is planned."""
    lights = [load for load in asked.circuit.loads if not is_there(load) and load.kind in ("light", None)]
    if not lights:
        return
    for place, watts in enumerate(map(int, asked.book.value("light-marks").items)):
        larger = [light for light in lights if _is_larger(light, watts)]
        if larger:
            names = ", ".join(f'"{light.id}"' for light in larger)
            says = f"Choose lights for {names} that are marked for at most {watts} W each."
            entries = {"power": f"{watts} W", "product": None, "fitted": None}
            edits = tuple(chosen(asked.circuit, "load", light, entries) for light in larger)
            yield Step(says, edits, CHOSEN + 0.1 * place, family="lights of fewer watts", strength=place)


def _is_larger(light: Load, watts: float) -> bool:
    """Whether a light may take more; one of unknown watts may."""
    if light.power_w is not None:
        return light.power_w.high > watts
    if light.apparent_va is not None:
        return light.apparent_va.high > watts
    return True


def replacement_steps(asked: Asked) -> Iterator[Step]:
    """Lights that are there replaced by listed ones that take less: the label counts, whatever lamp is in today."""
    circuit = asked.circuit
    lights = [
        load for load in circuit.loads if is_there(load) and load.kind == "light" and load.connection == "hardwired"
    ]
    if not lights:
        return
    watts, pounds, power_factor = asked.book.value("replacement-light").items
    lights = [light for light in lights if _is_larger(light, float(watts.split()[0]))]
    if lights:
        names = ", ".join(f'"{light.id}"' for light in lights)
        word = "lights" if len(lights) > 1 else "light"
        listed = {light.id: _listed_light(light, circuit, watts, pounds, power_factor) for light in lights}
        marks = " ".join(dict.fromkeys(mark for new in listed.values() for mark in _marks(new)))
        says = (
            f"Replace the {word} {names} by a listed LED light of at most {watts} and {pounds} each, with a power "
            f"factor of {power_factor} or more. {marks}"
        ).strip()
        edits = tuple(PlanChange(Ref("load", id), REPLACE, new) for id, new in listed.items())
        yield Step(says, edits, REPLACED * len(lights))


def _marks(new: dict[str, Any]) -> Iterator[str]:
    """What else has to stand on the label, beside watts and weight, for the fix to be what was checked."""
    place = new["location_marked"]
    yield "Its label requires supply wires rated at most 60 °C."
    if place != "dry":
        yield f"It is marked for {place} locations."
    if new["grounding"] != "wire":
        yield "It is double-insulated, without metal that can be touched."


def _listed_light(light: Load, circuit: Circuit, watts: str, pounds: str, power_factor: str) -> dict[str, Any]:
    """What to ask for in a shop. Its leads are unknown until it is bought, and count at worst."""
    box = circuit.tree.box[light.box]
    grounded = box.ground is True
    new: dict[str, Any] = {
        "power": watts,
        "power_factor": float(power_factor),
        "lamp": "LED",
        "connection": "hardwired",
        "grounding": "wire" if grounded else "double-insulated",
        "metal_parts": grounded,
        "listed": True,
        "converted": False,
        "location_marked": box.location or "wet",
        "supply_temperature": "60 degC",
        "mounting": light.mounting,
        "continuous": light.continuous,
        "weight": pounds,
    }
    return {key: value for key, value in new.items() if value not in (None, "")}


def fewer_steps(asked: Asked) -> Iterator[Step]:
    """The last new lights of a run left out, with their boxes and cables."""
    circuit, dropped = asked.circuit, list[Ref]()
    ids: set[str] = set()
    for count in range(1, _MOST_LESS + 1):
        light = _last(circuit, ids)
        if light is None:
            return
        ids |= {light.id, light.box}
        cable = circuit.tree.feed[light.box]
        dropped += [Ref("load", light.id), Ref("box", light.box), Ref("cable", cable.id)]
        ids.add(cable.id)
        left = [load for load in circuit.loads if not is_there(load) and load.id not in ids]
        if not left:
            return
        names = ", ".join(f'"{ref.id}"' for ref in dropped if ref.section == "load")
        says = f"Leave out {'the light' if count == 1 else f'{count} lights'}: {names}."
        drops = tuple(DropPart(ref) for ref in dropped)
        yield Step(says, drops, LESS * count, family="fewer lights", strength=count)


def _last(circuit: Circuit, gone: set[str]) -> Load | None:
    """A new light in a new box of its own that feeds nothing on."""
    tree = circuit.tree
    planned = circuit.before.replaced | circuit.before.moved if circuit.before is not None else frozenset[Ref]()
    for box in reversed(tree.order):
        held = tree.loads_at.get(box, ())
        onward = [cable for cable in tree.cables_at.get(box, ()) if cable.id not in gone]
        alone = len(held) == 1 and not tree.drivers_at.get(box) and len(onward) == 1 and box in tree.box
        controls = any(control.box == box for control in circuit.controls)
        if (
            box == circuit.supply.loaded_at
            or not alone
            or controls
            or box in gone
            or held[0].id in gone
            or onward[0].to_id != box
        ):
            continue
        parts = (("load", held[0]), ("box", tree.box[box]), ("cable", onward[0]))
        holes = any(cut.cable == onward[0].id for cut in circuit.framing)
        if not holes and all(not is_there(part) and Ref(name, part.id) not in planned for name, part in parts):
            return held[0]
    return None
