"""The circuit drawn as it runs: a line goes down from the panel through every box, side runs indented.

The longest run keeps the column, so that a chain of a thousand boxes is one straight line. Drawn from the file's
entries as they stand, so that a file with mistakes in it can still be seen and put right.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from circuitcheck.circuit.guide import entry_ref
from circuitcheck.circuit.written.block import Block
from circuitcheck.findings import SEVERITY, Finding, Outcome
from circuitcheck.outcomes import OUTCOME_MARK
from circuitcheck.refs import Ref
from circuitcheck.ui.part_text import PLANNED_WORD, is_added, part_details, section_word
from circuitcheck.ui.spans import OUTCOME_ROLE, Line, user_span

_FIRST_SECTIONS = ("job", "site", "defaults.", "supply")


@dataclass(frozen=True, slots=True)
class Rails:
    """The strokes of the drawing: a run going on, a box on it, something in the box, a side run leaving."""

    run: str
    box: str
    inside: str
    side: str


_RAILS = Rails(run="│ ", box="■ ", inside="├ ", side="├─")


@dataclass(frozen=True, slots=True)
class DrawnPart:
    """A line of the drawing. ``part`` is the block's number, 0 for a heading. ``rail`` holds its strokes."""

    part: int
    section: str
    rail: str
    name: str
    details: str
    added: bool
    worst: Outcome | None = None

    def line(self) -> Line:
        """The line as spans: finding mark, rails, mark and word of added parts, name, details."""
        mark = OUTCOME_MARK[self.worst] if self.worst not in (None, Outcome.PASS) else " "
        role = OUTCOME_ROLE[self.worst] if self.worst else "plain"
        name_role = "added" if self.added else "name"
        return (
            (f"{mark} ", role),
            (self.rail, "rail"),
            ("+ " if self.added else "", "added"),
            user_span(self.name, name_role),
            ("  " if self.details else "", "plain"),
            user_span(self.details, "dim"),
            (" (added)" if self.added else "", "added"),
        )


def circuit_drawing(
    blocks: Sequence[Block], findings: Iterable[Finding] = (), straight: Mapping[str, int] | None = None
) -> tuple[DrawnPart, ...]:
    """Every part of the file, in the order of the drawing. ``straight``: as ``straight_runs`` gives it."""
    worst = worst_by_part(findings)
    sketch = _Sketch(blocks, worst, straight_runs(blocks) if straight is None else straight)
    return tuple(sketch.lines())


def straight_runs(blocks: Sequence[Block], before: Mapping[str, int] | None = None) -> Mapping[str, int]:
    """For each node the number of the cable that keeps its column: the one that did ``before``, else the heaviest run.

    A part that is added must not turn the drawing around, so what went straight on goes straight on while it is there.
    """
    leaving: dict[str, list[Block]] = {}
    for block in blocks:
        if block.section == "cable":
            leaving.setdefault(str(block.data.get("from", "")), []).append(block)
    weight = _weights(leaving, ("panel", *(block.id for block in blocks if block.section == "driver" and block.id)))
    straight: dict[str, int] = {}
    for node, cables in leaving.items():
        kept = before.get(node) if before else None
        if kept is None or all(cable.number != kept for cable in cables):
            kept = max(cables, key=lambda cable: weight.get(str(cable.data.get("to", "")), 0)).number
        straight[node] = kept
    return straight


def _weights(leaving: Mapping[str, Sequence[Block]], roots: Iterable[str]) -> Mapping[str, int]:
    """How many cables hang below each node."""
    order: list[tuple[str, str]] = []
    for root in roots:
        waiting = [(root, "")]
        seen: set[str] = set()
        while waiting:
            node, parent = waiting.pop()
            if node in seen:
                continue
            seen.add(node)
            order.append((node, parent))
            waiting.extend((str(cable.data.get("to", "")), node) for cable in leaving.get(node, ()))
    weight: dict[str, int] = {}
    for node, parent in reversed(order):
        weight[node] = weight.get(node, 0) + 1
        if parent:
            weight[parent] = weight.get(parent, 0) + weight[node]
    return weight


def worst_by_part(findings: Iterable[Finding]) -> Mapping[str, Outcome]:
    """The worst outcome about each part, under the part's path (``box.attic``, ``supply``) or bare subject."""
    worst: dict[str, Outcome] = {}

    def note(path: str, outcome: Outcome) -> None:
        known = worst.get(path)
        if known is None or (known is not outcome and SEVERITY[outcome] < SEVERITY[known]):
            worst[path] = outcome

    for finding in findings:
        subject, own = finding.subject, False
        for key in finding.needs + finding.keys:
            path, name = _part_and_name(key)
            if name == subject:
                own = True
                note(path, finding.outcome)
        if not own:
            note("supply" if subject in ("circuit", "supply", "panel") else subject, finding.outcome)
    return worst


@lru_cache(maxsize=65536)
def _part_and_name(key: str) -> tuple[str, str]:
    """The part's path of a key path, and its id."""
    path, _ = part_and_entry(key)
    return path, Ref.of_part(path).id


@lru_cache(maxsize=65536)
def part_and_entry(key: str) -> tuple[str, str]:
    """The part's path and the entry's name of a key path; no name where it is the path of a part."""
    ref = entry_ref(key)
    return str(ref.part), ref.key


#: A cable or driver still to be drawn, the strokes left of it, and its own.
_Waiting = tuple[Block, str, str]


class _Sketch:
    """Puts the lines together. Iterative: a chain may be thousands of boxes long."""

    def __init__(self, blocks: Sequence[Block], worst: Mapping[str, Outcome], straight: Mapping[str, int]) -> None:
        self._changes = {str(block.data.get("part", "")): block for block in blocks if block.section == "change"}
        self._blocks = blocks = [block for block in blocks if block.section != "change"]
        self._path_of = {(block.number, block.section): block.path for block in blocks}
        self._worst = worst
        self._rails = _RAILS
        self._box = {block.id: block for block in blocks if block.section == "box"}
        self._leaving: dict[str, list[Block]] = {}
        self._inside: dict[str, list[Block]] = {}
        self._cut: dict[str, list[Block]] = {}
        self._end = {
            block.id: block for block in blocks if block.section in ("box", "low_voltage_load", "driver") and block.id
        }
        for block in blocks:
            if block.section == "cable":
                self._leaving.setdefault(str(block.data.get("from", "")), []).append(block)
            elif block.section in ("load", "driver", "control"):
                self._inside.setdefault(str(block.data.get("box", "")), []).append(block)
            elif block.section == "framing":
                self._cut.setdefault(str(block.data.get("cable", "")), []).append(block)
        self._drawn: set[int] = set()  # identities: the parts of a light share their block's number
        self._straight = straight

    def lines(self) -> Iterable[DrawnPart]:
        """Every line, top to bottom."""
        for drawn in self._parts():
            yield drawn
            if (change := self._changes.pop(self._path_of.get((drawn.part, drawn.section), ""), None)) is not None:
                yield self._planned(change, drawn.rail[:-2] + self._rails.run if drawn.rail else "")
        for change in self._changes.values():
            yield self._planned(change, "")

    def _planned(self, change: Block, rail: str) -> DrawnPart:
        """A planned change under the part that it is about."""
        word = PLANNED_WORD.get(str(change.data.get("action")), "to be changed")
        return DrawnPart(
            change.number, change.section, rail, f"→ {word}", part_details("change", change.data), added=False
        )

    def _parts(self) -> Iterable[DrawnPart]:
        for section in _FIRST_SECTIONS:
            for block in self._blocks:
                if block.section == section or (section[-1] == "." and block.section.startswith(section)):
                    yield self._line(block, self._rails.box if section == "supply" else "")
        yield from self._run_from("panel", "")
        loose = [block for block in self._blocks if block.section and id(block) not in self._drawn]
        if loose:
            yield DrawnPart(0, "", "", "Not joined to the panel yet:", "", added=False)
            for block in loose:
                if id(block) in self._drawn:
                    continue
                yield self._line(block, self._rails.box if block.section == "box" else "")
                if block.section in ("box", "driver"):
                    yield from self._run_from(block.id, "")

    def _run_from(self, node: str, before: str) -> Iterable[DrawnPart]:
        waiting: list[_Waiting] = []
        yield from self._contents(node, before, waiting)
        while waiting:
            block, before, rail = waiting.pop()
            if id(block) in self._drawn:
                continue
            yield self._line(block, before + rail)
            if block.section == "driver":
                self._push(waiting, block.id, before + self._rails.run)
                continue
            if rail == self._rails.side:
                before += self._rails.run
            for hole in self._cut.get(block.id, ()):
                yield self._line(hole, before + self._rails.run)
            end = self._end.get(str(block.data.get("to", "")))
            if end is None or id(end) in self._drawn:
                continue
            yield self._line(end, before + (self._rails.box if end.section == "box" else self._rails.inside))
            yield from self._contents(end.id, before, waiting)

    def _contents(self, node: str, before: str, waiting: list[_Waiting]) -> Iterable[DrawnPart]:
        """Lines of what is in a box; what runs on from it goes on the pile, the heaviest run lowest."""
        self._push(waiting, node, before)
        inside = self._inside.get(node, ())
        for block in inside:
            if block.section != "driver" and id(block) not in self._drawn:
                yield self._line(block, before + self._rails.inside)
        waiting.extend((block, before, self._rails.inside) for block in reversed(inside) if block.section == "driver")

    def _push(self, waiting: list[_Waiting], node: str, before: str) -> None:
        cables = self._leaving.get(node, [])
        if not cables:
            return
        number = self._straight.get(node)
        straight = next((cable for cable in cables if cable.number == number), cables[0])
        waiting.append((straight, before, self._rails.run))
        waiting.extend((cable, before, self._rails.side) for cable in reversed(cables) if cable is not straight)

    def _line(self, block: Block, rail: str) -> DrawnPart:
        self._drawn.add(id(block))
        return DrawnPart(
            block.number,
            block.section,
            rail,
            part_name(block),
            part_details(block.section, block.data),
            is_added(block.section, block.data),
            self._worst.get(block.path) or self._worst.get(block.id or block.section),
        )


def part_name(block: Block) -> str:
    """What the drawing calls the part."""
    if not block.repeated:
        return section_word(block.section)
    kind = section_word(block.section)
    if block.section == "load":
        kind = str(block.data.get("kind") or "load")
    return f"{kind} {block.id}" if block.section != "cable" else f"cable {block.id}"
