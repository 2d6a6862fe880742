"""Each part of the circuit in a few words, as an electrician would write them beside a one-line diagram."""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.guide import entry_guide, entry_ref, key_of
from circuitcheck.circuit.model import Box, Cable, Control, Driver, Load, LowVoltageLoad, Supply
from circuitcheck.note.known import known_by, physical, written
from circuitcheck.paper import Cell, Known
from circuitcheck.quantities import Interval

NOT_KNOWN = "not known"

#: What a cable does, in a word, by what it carries.
ROLES = {
    "feed": "feed",
    "switched": "switched",
    "feed and switched": "feed and switched",
    "switch loop": "switch loop",
    "travelers": "travelers",
}


def entry_words(path: str) -> str:
    """An entry of the file as words: ``cable “feed”: conductor size``; the path itself where it means no key."""
    named = key_of(path)
    if named is None:
        return path
    section, key = named
    part = entry_ref(path).id
    kind = section.replace("_", "-")
    title = entry_guide(section, key).title
    return f"{kind} “{part}”: {title[0].lower()}{title[1:]}" if part else f"{kind}: {title[0].lower()}{title[1:]}"


def joined(parts: Iterable[str]) -> str:
    """The parts that say something, separated by commas."""
    return ", ".join(part for part in parts if part)


def _with_how(cell: Cell) -> str:
    return cell.first_line


def value_words(value: Interval | None, unit: str, what: str) -> str:
    """A physical value with how it is known; ``length ? not known`` where nobody knows it."""
    return f"{what} {_with_how(physical(value, unit))}" if value is None else _with_how(physical(value, unit))


def cable_make(cable: Cable, *, low_voltage: bool = False, with_metal: bool = True) -> Cell:
    """Size, kind and metal: ``14-2 NM-B with ground, copper``. ``low_voltage``: a ground is not asked for."""
    if cable.size is None:
        size = f"size {NOT_KNOWN}"
    elif cable.conductors is None:
        size = f"{cable.size}, conductors {NOT_KNOWN}"
    elif cable.size.endswith(" AWG") and cable.conductors < 10:
        size = f"{cable.size.removesuffix(' AWG')}-{cable.conductors}"
    else:
        size = f"{cable.conductors} x {cable.size}"
    grounds = {True: "with ground", False: "NO GROUND", None: f"ground {NOT_KNOWN}"}
    ground = "" if low_voltage else grounds[cable.ground]
    text = joined(
        (
            " ".join(part for part in (size, cable.type or f"type {NOT_KNOWN}", ground) if part),
            (cable.material or "") if with_metal else "",
        )
    )
    how = [known_by(cable, key) for key in ("size", "type")]
    known = Known.GUESS if Known.GUESS in how else Known.LABEL if how == [Known.LABEL] * 2 else Known.STATED
    return Cell(text, known)


def cable_words(cable: Cable, *, low_voltage: bool = False) -> str:
    """A run: what it is made of, how long, where."""
    return joined(
        (
            _with_how(cable_make(cable, low_voltage=low_voltage)),
            value_words(cable.length_m, "ft", "length"),
            "" if low_voltage else ROLES.get(cable.carries or "", f"role {NOT_KNOWN}"),
            cable.place or "",
            f"ambient {written(cable.ambient_c, 'degC')}" if cable.ambient_c is not None else "",
            f"{cable.bundled_with} more alongside" if cable.bundled_with else "",
        )
    )


def box_size(box: Box) -> Cell:
    """Trade size or marked volume of a box."""
    if box.volume_m3 is not None:
        cell = physical(box.volume_m3, "in^3")
        return Cell(joined((box.trade_size or "", cell.text)), cell.known)
    if box.trade_size is not None:
        return Cell(box.trade_size, known_by(box, "trade_size"))
    return Cell("size", Known.UNKNOWN)


def box_words(box: Box) -> str:
    """A box: its size, what it is made of, where."""
    return joined((_with_how(box_size(box)), box.material or "", box.room or ""))


def load_rating(load: Load) -> Cell:
    """What the label says that one piece draws."""
    for value, unit in ((load.power_w, "W"), (load.apparent_va, "VA"), (load.current_a, "A")):
        if value is not None:
            return physical(value, unit)
    return Cell("", Known.UNKNOWN)


def load_words(load: Load) -> str:
    """A load: how many, of what kind, how many watts, how it is switched."""
    many = f"{load.pieces} x " if load.pieces != 1 else ""
    rating = load_rating(load)
    drawn = f"{many}{_with_how(rating)}" if rating.text else f"{many}watts {rating.first_line}"
    return joined((load.kind or "kind not known", drawn, f"switched by {load.switched_by}" if load.switched_by else ""))


def driver_words(driver: Driver) -> str:
    """A driver: output and rating."""
    output = " ".join(
        part
        for part in (
            written(driver.output_voltage_v, "V") if driver.output_voltage_v is not None else "voltage not known",
            driver.output_kind or "",
        )
        if part
    )
    class_2 = {True: "class 2", False: "not class 2", None: "class 2 not known"}[driver.class_2]
    return joined(("driver", f"output {output}", value_words(driver.output_power_w, "W", "rating"), class_2))


def low_voltage_words(light: LowVoltageLoad) -> str:
    """A light behind a driver."""
    if light.power_per_length_w_per_m is not None:
        return joined(
            (
                _with_how(physical(light.power_per_length_w_per_m, "W/ft")),
                value_words(light.length_m, "ft", "length"),
                f"fed from {light.fed_from}" if light.fed_from else "",
            )
        )
    return value_words(light.power_w, "W", "watts")


def control_words(control: Control) -> str:
    """A switch or dimmer."""
    return joined((control.ways or "ways not known", f"with {control.with_id}" if control.with_id else ""))


def supply_short(supply: Supply) -> str:
    """The overcurrent device in three words: ``15 A breaker``."""
    return f"{physical(supply.breaker_a, 'A').text} {supply.device or 'breaker or fuse'}"


def supply_words(supply: Supply) -> str:
    """The overcurrent device as the diagram names it."""
    protection = {
        None: "arc-fault or ground-fault protection not known",
        "none": "no arc-fault or ground-fault protection",
        "both": "arc-fault and ground-fault protection",
    }.get(supply.protection, f"{supply.protection} protection")
    poles = f"{supply.poles} pole" + ("s" if supply.poles != 1 else "") if supply.poles else ""
    return joined(
        (_with_how(physical(supply.breaker_a, "A")), poles, f"slot {supply.slot}" if supply.slot else "", protection)
    )
