"""Behind a driver: a larger or a second driver, thicker or shorter leads, a strip fed in its middle or at both ends."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields
from typing import Any

from circuitcheck.advice.fixes.step import CHOSEN, OTHER_ROUTE, REPLACED, Asked, Step, chosen, is_there
from circuitcheck.circuit.edits import AddPart, Edit, SetEntries
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import PANEL, Cable, Circuit, Driver, LowVoltageLoad
from circuitcheck.quantities import Interval, in_unit
from circuitcheck.refs import Ref

#: Sizes that low-voltage leads come in, from thin to thick.
LEADS = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG")

#: How much longer a name is tried before a new part has none.
_MOST_NAMES = 50

#: A lead is tried at these shares of its length.
_SHORTER = (0.75, 0.5, 0.25)


def lead_steps(asked: Asked) -> Iterator[Step]:
    """What brings more volts to the far end of a low-voltage light."""
    light = asked.part("low_voltage_loads")
    if light is None:
        return
    circuit = asked.circuit
    leads = _leads_to(light.id, circuit)
    planned = [lead for lead in leads if not is_there(lead)]
    yield from _thicker(planned, circuit)
    yield from _other_end(light, leads, circuit)
    yield from _shorter(planned, circuit)


def _leads_to(node: str, circuit: Circuit) -> list[Cable]:
    """The low-voltage cables from the driver to a light."""
    feeds = {cable.to_id: cable for cable in reversed(circuit.tree.low_voltage_cables)}
    found: list[Cable] = []
    while node in feeds and feeds[node] not in found:
        found.append(feeds[node])
        node = feeds[node].from_id
    return found


def _thicker(leads: list[Cable], circuit: Circuit) -> Iterator[Step]:
    for size in LEADS:
        thin = [lead for lead in leads if lead.size in LEADS and LEADS.index(lead.size) < LEADS.index(size)]
        if thin:
            names = ", ".join(f'"{lead.id}"' for lead in thin)
            edits = tuple(chosen(circuit, "cable", lead, {"size": size, "product": None}) for lead in thin)
            says = f"Choose {size} for low-voltage cable {names}."
            yield Step(says, edits, CHOSEN * len(thin), family=f"thicker {leads[0].id}", strength=LEADS.index(size))


def _shorter(leads: list[Cable], circuit: Circuit) -> Iterator[Step]:
    if not leads:
        return
    lead = max(leads, key=lambda each: each.length_m.high if each.length_m is not None else 0.0)
    if lead.length_m is None:
        return
    for share in _SHORTER:
        feet = int(in_unit(lead.length_m.low, "ft") * share)
        if feet >= 1:
            says = f'Move the driver closer, so that low-voltage cable "{lead.id}" is at most {feet} ft long.'
            edit = chosen(circuit, "cable", lead, {"length": f"{feet} ft"})
            yield Step(says, (edit,), OTHER_ROUTE, family=f"shorter {lead.id}", strength=-share)


def _other_end(light: LowVoltageLoad, leads: list[Cable], circuit: Circuit) -> Iterator[Step]:
    """A strip fed in its middle by the same lead, longer by half of it; or by a second lead to its other end."""
    if is_there(light) or light.power_per_length_w_per_m is None or not leads:
        return
    lead = leads[0]
    if light.fed_from in (None, "one end") and light.length_m is not None and lead.length_m is not None:
        half = _feet(lead.length_m, light.length_m, 0.5)
        edits: tuple[Edit, ...] = (chosen(circuit, "low_voltage_load", light, {"fed_from": "middle"}),)
        if not is_there(lead):
            edits = (*edits, chosen(circuit, "cable", lead, {"length": half}))
            yield Step(f'Feed "{light.id}" in its middle, by a lead of at most {half}.', edits, CHOSEN + 0.5)
        whole = _feet(lead.length_m, light.length_m, 1.0)
        entries = _written(lead, circuit) | {"id": _name(f"{lead.id} far end", circuit), "length": whole}
        edits = (chosen(circuit, "low_voltage_load", light, {"fed_from": "both ends"}),)
        if lead.bundled_with is not None:
            entries |= {"bundled_with": lead.bundled_with + 1}
            if not is_there(lead):
                edits = (*edits, chosen(circuit, "cable", lead, {"bundled_with": lead.bundled_with + 1}))
        says = f'Feed "{light.id}" at both ends, by a second lead like "{lead.id}" beside it, of at most {whole}.'
        yield Step(says, (*edits, AddPart("cable", {**entries, "origin": "added"})), CHOSEN + 1)


def _feet(lead: Interval, strip: Interval, share: float) -> str:
    """A lead that runs on along a share of the strip."""
    return f"{in_unit(lead.high + share * strip.high, 'ft'):.1f} ft"


def driver_steps(asked: Asked) -> Iterator[Step]:
    """A driver with a larger rating, then half of the lights on a second one."""
    driver = asked.part("drivers")
    if driver is None or is_there(driver):
        return
    needed = asked.finding.high if asked.finding.high is not None else asked.finding.value
    rating = driver.output_power_w
    if asked.finding.check == "driver-capacity" and needed is not None and rating is not None:
        for watts in map(int, asked.book.value("driver-ratings").items):
            if watts > in_unit(rating.high, "W") and watts >= needed:
                yield _rated(driver, watts, asked.circuit)
    if asked.finding.check == "class-2":
        yield from _split(driver, asked.circuit)
    yield from _second(driver, asked.circuit)


def _rated(driver: Driver, watts: int, circuit: Circuit) -> Step:
    says = f'Choose a driver of {watts} W for "{driver.id}".'
    edit, unsets = _another(driver, {"output_power": f"{watts} W"}, circuit)
    return Step(says, (edit,), CHOSEN, unsets, family=f"larger {driver.id}", strength=watts)


def _another(driver: Driver, entries: Mapping[str, Any], circuit: Circuit) -> tuple[Edit, frozenset[str]]:
    """Another driver: what the label of the first one says of its input is no longer true."""
    away = ("product", "input_current", "input_power", "efficiency", "power_factor", "min_load")
    unsets = frozenset(f"driver.{driver.id}.{key}" for key in away)
    return chosen(circuit, "driver", driver, {**entries, **dict.fromkeys(away)}), unsets


def _split(driver: Driver, circuit: Circuit) -> Iterator[Step]:
    """A driver whose rating is split over several outputs, each run on an output of its own."""
    runs = [cable for cable in circuit.tree.low_voltage_cables if cable.from_id == driver.id]
    for outputs in range(max(2, (driver.outputs or 1) + 1), len(runs) + 1):
        says = (
            f'Choose for "{driver.id}" a driver with {outputs} class 2 outputs that share its rating, and put each run '
            "on an output of its own."
        )
        edit, unsets = _another(driver, {"outputs": outputs, "class_2": True}, circuit)
        yield Step(says, (edit,), CHOSEN + 0.5, unsets, family=f"outputs of {driver.id}", strength=outputs)


def least_load_steps(asked: Asked) -> Iterator[Step]:
    """A driver that its lights are enough for."""
    driver = asked.part("drivers")
    drawn = asked.finding.low if asked.finding.low is not None else asked.finding.value
    if driver is None or is_there(driver) or drawn is None or drawn < 1:
        return
    watts = int(drawn)
    edit, unsets = _another(driver, {}, asked.circuit)
    least = chosen(asked.circuit, "driver", driver, {"min_load": f"{watts} W"})
    says = f'Choose for "{driver.id}" a driver that works from {watts} W on.'
    yield Step(says, (edit, least), CHOSEN, unsets - {f"driver.{driver.id}.min_load"})


def _second(driver: Driver, circuit: Circuit) -> Iterator[Step]:
    """The later half of the runs that leave a driver, on a second driver like it in the same box."""
    runs = [cable for cable in circuit.tree.low_voltage_cables if cable.from_id == driver.id and not is_there(cable)]
    if len(runs) < 2 or driver.paralleled_with is not None:
        return
    name = _name(f"{driver.id} 2", circuit)
    section = SECTIONS["driver"]
    entries = {
        key.name: _text(getattr(driver, key.attribute))
        for key in section.keys.values()
        if key.name not in ("id", "paralleled_with", "product") and getattr(driver, key.attribute) is not None
    }
    moved = runs[len(runs) // 2 :]
    edits: list[Edit] = [AddPart("driver", {"id": name, **entries})]
    edits += [SetEntries(Ref("cable", cable.id), {"from": name}) for cable in moved]
    names = ", ".join(f'"{cable.id}"' for cable in moved)
    says = f'Add a second driver like "{driver.id}" and take low-voltage cable {names} from it.'
    yield Step(says, tuple(edits), REPLACED)


def _name(wanted: str, circuit: Circuit) -> str:
    """A name that no part has yet."""
    taken = {part.id for section in SECTIONS.values() if section.many for part in getattr(circuit, section.attribute)}
    taken.add(PANEL)
    return next(name for name in (wanted, *(f"{wanted} {n}" for n in range(2, _MOST_NAMES))) if name not in taken)


def _written(cable: Cable, circuit: Circuit) -> dict[str, Any]:
    """A cable's entries as its table would say them for another beside it: what was planned, and the air along it."""
    kept = {"from_id": "from", "to_id": "to"}
    names = {key.attribute: key.name for key in SECTIONS["cable"].keys.values()}
    planned = ("type", "size", "conductors", "material", "stranding", "place", "run", "concealed", "ambient_c")
    found = {each.name: getattr(cable, each.name) for each in fields(cable)}
    return {
        names[name]: _text(value)
        for name, value in found.items()
        if value is not None and (name in kept or name in planned)
    }


def _text(value: Any) -> Any:
    return value.text if isinstance(value, Interval) else value
