"""Small builders of model objects for tests: say what matters, the rest is a plain, fully known circuit.

Import it as ``tests.rules.build``; the bare name belongs to a packaging tool.

Numbers go in as SI, as the model's attribute names say; a pair is a range. ``None`` makes a default unknown.
Ids come first: ``cable("feed", "panel", "attic", length_m=11.5, size="12 AWG")``.

    circuit(box("attic"), cable("feed", "panel", "attic"), load("attic lamp", "attic", power_w=60))
"""

from dataclasses import fields
from functools import cache

from circuitcheck.case import CaseRule, SizeRule
from circuitcheck.case.making import case_of
from circuitcheck.checking import findings_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.circuit.model import (
    Box,
    Cable,
    Circuit,
    Control,
    Device,
    Driver,
    FixtureWires,
    Framing,
    Job,
    Load,
    LowVoltageLoad,
    Site,
    Supply,
    Unbroken,
)
from circuitcheck.quantities import How, Interval
from circuitcheck.tables.rulebook import load_rulebook

EDITIONS = ("nec-2017", "nec-2020", "nec-2023")
CUBIC_INCH = 0.0254**3
FOOT = 0.3048
INCH = 0.0254
POUND = 0.45359237

_PLACES = {
    Box: "boxes",
    Cable: "cables",
    Load: "loads",
    Driver: "drivers",
    LowVoltageLoad: "low_voltage_loads",
    Control: "controls",
    Framing: "framing",
}


def book(edition="nec-2023"):
    return load_rulebook(edition)


def exact(value, how=How.STATED):
    return Interval(value, value, how)


def between(low, high, how=How.STATED):
    return Interval(low, high, how)


def guess(value):
    return Interval(0.75 * value, 1.25 * value, How.GUESS, f"about {value:g}")


@cache
def _interval_fields(kind):
    return frozenset(field.name for field in fields(kind) if field.type in ("Interval", "Interval | None"))


def _made(kind, given):
    """An object of that kind, numbers and pairs turned into intervals where the model has one."""
    intervals = _interval_fields(kind)
    for name, value in given.items():
        if name in intervals and isinstance(value, int | float):
            given[name] = exact(float(value))
        elif name in intervals and isinstance(value, tuple):
            given[name] = between(*map(float, value))
    return kind(**given)


def supply(**given):
    """A 15 A breaker at 120 V for general lighting."""
    return _made(Supply, {"voltage_v": 120, "breaker_a": 15, "device": "breaker", "serves": "general lighting"} | given)


def site(**given):
    """A hallway in a dwelling, looked over without a sign to stop."""
    return _made(Site, {"room": "hallway", "dwelling": True, "signs": ()} | given)


def box(id, **given):
    """A 4 x 1-1/2 octagon that was there already, without clamps or anything else inside. Volumes in m^3."""
    plain = {"origin": "existing", "internal_clamps": False, "canopy": False, "fixture_ground": "none"}
    plain |= dict.fromkeys(("fittings", "devices", "fixture_wires", "unbroken", "other_cables", "extensions_m3"), ())
    plain |= {"terminal_blocks": 0}
    if "volume_m3" not in given:
        plain["trade_size"] = "4 x 1-1/2 octagon"
    given["extensions_m3"] = tuple(
        one if isinstance(one, Interval) else exact(one) for one in given.get("extensions_m3", ())
    )
    return _made(Box, {"id": id} | plain | given)


def cable(id, from_id, to_id, **given):
    """Ten meters of added 14/2 copper NM-B indoors."""
    plain = {
        "origin": "added",
        "type": "NM-B",
        "size": "14 AWG",
        "conductors": 2,
        "ground": True,
        "material": "copper",
        "stranding": "solid",
        "length_m": 10,
        "place": "inside",
        "bundled_with": 0,
        "sealed_hole_with": 0,
    }
    return _made(Cable, {"id": id, "from_id": from_id, "to_id": to_id} | plain | given)


def load(id, box, **given):
    """A hardwired light that was there already, not continuous, power factor one. Give it power_w or another draw."""
    plain = {
        "kind": "light",
        "origin": "existing",
        "quantity": 1,
        "continuous": False,
        "connection": "hardwired",
        "grounding": "wire",
        "power_factor": 1.0,
    }
    return _made(Load, {"id": id, "box": box} | plain | given)


def driver(id, box, **given):
    """An added 60 W, 24 V dc class 2 driver that draws 0.6 A."""
    plain = {
        "origin": "added",
        "output_voltage_v": 24,
        "output_kind": "dc",
        "output_power_w": 60,
        "input_current_a": 0.6,
        "class_2": True,
    }
    return _made(Driver, {"id": id, "box": box} | plain | given)


def low_voltage_load(id, **given):
    return _made(LowVoltageLoad, {"id": id, "origin": "added"} | given)


def control(id, box, **given):
    return _made(Control, {"id": id, "box": box} | given)


def framing(id, **given):
    return _made(Framing, {"id": id} | given)


def device(kind="switch", gangs=1, size=None):
    return Device(kind=kind, gangs=gangs, size=size)


def fixture_wires(size, count):
    return FixtureWires(size=size, count=count)


def unbroken(size, count, loop=False, other_circuit=False):
    return Unbroken(size=size, count=count, loop=loop, other_circuit=other_circuit)


def circuit(*parts, edition="nec-2023"):
    """A circuit of the parts in the order given; supply and site may be among them."""
    job = Job(title="test", rulebook=edition)
    chosen = {"supply": supply(), "site": site()}
    lists = {name: [] for name in _PLACES.values()}
    for part in parts:
        if isinstance(part, Supply):
            chosen["supply"] = part
        elif isinstance(part, Site):
            chosen["site"] = part
        else:
            lists[_PLACES[type(part)]].append(part)
    return Circuit(file="test.circuit.toml", job=job, **chosen, **{name: tuple(found) for name, found in lists.items()})


def findings(rule, built, edition="nec-2023"):
    """The rule's findings as a list. A rule of cases may read no open entry that it does not declare."""
    if isinstance(rule, CaseRule):
        return list(findings_of_rule(rule, case_of(built, book(edition)), strict=True))
    if isinstance(rule, SizeRule):
        return findings_of(built, book(edition), (rule,))
    return list(rule.check(built, book(edition)))


def only(rule, built, subject, edition="nec-2023"):
    """The one finding of the rule about that subject."""
    (found,) = [finding for finding in findings(rule, built, edition) if finding.subject == subject]
    return found


def direction(rule, built, entry, part):
    """How the rule of cases sorts values of an entry ("cable.size") of that part of a circuit, the worst last."""
    case = case_of(built, book())
    (each,) = [each for each in (*case.cables, *case.loads, *case.low_voltage_loads, *case.boxes) if each.id == part]
    return lambda value: rule.worse[entry](value, each, case)
