"""A short circuit from left to right: boxes on a line, each run with its make, length and role above it.

The heaviest run stays on its line; side runs go down to a line of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from circuitcheck.circuit.model import PANEL, Cable, Circuit, Control, Driver, Load
from circuitcheck.note.known import physical
from circuitcheck.note.part_words import ROLES, cable_make, load_rating, supply_short
from circuitcheck.refs import Ref

#: Up to so many boxes, and so many one behind the other, are drawn from left to right; more are a list.
MOST_BOXES, MOST_DEEP = 8, 7

#: Parts in one box that are named under it.
MOST_INSIDE = 6


@dataclass(frozen=True, slots=True)
class Inside:
    """Something in a box: its symbol, the text beside it, whether it is added, and what it takes the place of."""

    symbol: str
    text: str
    added: bool
    removed: str = ""


@dataclass(slots=True)
class Node:
    """A box with the run that feeds it. ``line``: on which line from the top; ``depth``: how far from the panel."""

    name: str
    added: bool
    depth: int
    line: int = 0
    parent: Node | None = None
    run: tuple[str, ...] = ()
    run_added: bool = False
    strokes: int = 0
    inside: tuple[Inside, ...] = ()
    children: list[Node] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Across:
    """The nodes, the panel first, each after the one that feeds it."""

    nodes: tuple[Node, ...]

    @property
    def lines(self) -> int:
        """How many lines they take."""
        return 1 + max(node.line for node in self.nodes)

    @property
    def deepest(self) -> int:
        """How many runs lie one behind the other at the most."""
        return max(node.depth for node in self.nodes)


def across(circuit: Circuit, amperes: str) -> Across | None:
    """The circuit laid out; None where it is too large or a part is fed from nothing. ``amperes``: at the breaker."""
    tree = circuit.tree
    reached = set(tree.order)
    if len(circuit.boxes) > MOST_BOXES or any(box.id not in reached for box in circuit.boxes):
        return None
    if any(len(list(_inside(box.id, circuit))) > MOST_INSIDE for box in circuit.boxes):
        return None
    supply = supply_short(circuit.supply)
    root = Node("panel", False, 0, inside=(Inside("", supply, False), Inside("", amperes, False)))
    nodes = {PANEL: root}
    for cable in tree.branch_cables:
        above = nodes[cable.from_id]
        box = tree.box.get(cable.to_id)
        node = Node(
            cable.to_id,
            box is None or box.is_added,
            above.depth + 1,
            parent=above,
            run=tuple(_run(cable)),
            run_added=cable.is_added,
            strokes=cable.conductors or 0,
            inside=tuple(_inside(cable.to_id, circuit)),
        )
        above.children.append(node)
        nodes[cable.to_id] = node
    found = tuple(nodes.values())
    if max(node.depth for node in found) > MOST_DEEP:
        return None
    _set_lines(root, found)
    return Across(found)


def _set_lines(root: Node, nodes: Sequence[Node]) -> None:
    """The heaviest way straight on; each side way on the next free line below everything drawn so far."""
    weight = dict.fromkeys(map(id, nodes), 1)
    for node in reversed(nodes):
        if node.parent is not None:
            weight[id(node.parent)] += weight[id(node)]
    used = 0
    waiting = [(root, 0)]
    while waiting:
        node, line = waiting.pop()
        while True:
            node.line = line
            used = max(used, line)
            if not node.children:
                break
            node.children.sort(key=lambda child: -weight[id(child)])
            waiting += [(child, -1) for child in reversed(node.children[1:])]
            node = node.children[0]
        if waiting:
            side, _ = waiting.pop()
            used += 1
            waiting.append((side, used))


def _run(cable: Cable) -> Iterator[str]:
    """What stands over a run."""
    make = cable_make(cable, with_metal=False).text.replace(" with ground", " w/G")
    yield f"{'NEW ' if cable.origin != 'existing' else ''}{make}"
    length = physical(cable.length_m, "ft")
    yield f"{length.text or 'length ?'}, {ROLES.get(cable.carries or '', 'role ?')}"


def _inside(box_id: str, circuit: Circuit) -> Iterator[Inside]:
    tree = circuit.tree
    for control in circuit.controls:
        if control.box == box_id:
            symbol = {"three-way": "S3", "four-way": "S4"}.get(control.ways or "", "S")
            yield Inside(symbol, control.id, control.is_added)
    for load in tree.loads_at.get(box_id, ()):
        replaced = (load.replaces and load.is_added) or Ref("load", load.id) in _replaced(circuit)
        yield Inside(load.kind or "light", f"{load.id}, {_watts(load)}", load.is_added, "old one" if replaced else "")
    for driver in tree.drivers_at.get(box_id, ()):
        output = physical(driver.output_voltage_v, "V").first_line
        yield Inside("driver", f"{driver.id}, driver {output}", driver.is_added)
        for cable in tree.low_voltage_cables:
            if tree.driver_of[cable.id] == driver.id:
                light = tree.low_voltage_load.get(cable.to_id)
                text = f"{cable.to_id}, by {cable_make(cable, low_voltage=True, with_metal=False).text}"
                yield Inside("light" if light is not None else "splice", text, cable.is_added)
    for symbol, name in gone_from(box_id, circuit):
        yield Inside(symbol, "", False, name)


def _replaced(circuit: Circuit) -> frozenset[Ref]:
    return circuit.before.replaced if circuit.before is not None else frozenset()


def gone_from(box_id: str, circuit: Circuit) -> Iterator[tuple[str, str]]:
    """Symbol and id of each load, switch and driver that the work takes out of the box."""
    if circuit.before is None:
        return
    out = circuit.before.gone | circuit.before.moved
    found = circuit.before.circuit
    here = {(load.id, load.box) for load in circuit.loads} | {(one.id, one.box) for one in circuit.controls}
    here |= {(driver.id, driver.box) for driver in circuit.drivers}
    parts: list[tuple[str, Load | Control | Driver, str]] = []
    parts += [("load", load, load.kind or "light") for load in found.loads]
    parts += [("control", control, "S") for control in found.controls]
    parts += [("driver", driver, "driver") for driver in found.drivers]
    for section, part, symbol in parts:
        if part.box == box_id and Ref(section, part.id) in out and (part.id, box_id) not in here:
            yield symbol, part.id


def _watts(load: Load) -> str:
    many = f"{load.pieces} × " if load.pieces != 1 else ""
    rating = load_rating(load)
    return f"{many}{rating.text}" if rating.text else "watts not known"
