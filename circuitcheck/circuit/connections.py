"""How the parts of a file hang together: ids, references, and the trees behind the panel and behind each driver."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.faults import Faults, given_text
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.locator import Path
from circuitcheck.circuit.model import PANEL
from circuitcheck.circuit.topology import low_voltage_cables

_WORDS = {
    "box": "a box",
    "cable": "a cable",
    "load": "a load",
    "driver": "a driver",
    "low_voltage_load": "a low-voltage light",
    "control": "a switch or dimmer",
    "framing": "a hole in framing",
}

#: Keys of which a part may hold one only: they say the same thing in different ways.
ONE_OF: Mapping[str, tuple[tuple[str, ...], ...]] = {
    "box": (("trade_size", "volume"),),
    "load": (("power", "apparent", "current"),),
    "low_voltage_load": (("power", "power_per_length"),),
}

_IDS_SHOWN = 20
#: Current-carrying conductors of any loaded cable: one there and one back.
_LEAST_IN_A_CABLE = 2


@dataclass(frozen=True, slots=True)
class Run:
    """A cable with both ends known, as far as the trees need it. ``id`` is its place in the file."""

    id: int
    from_id: str
    to_id: str
    name: str


def _named(name: str) -> str:
    return f'cable "{name}"'


class Connections:
    """Judges the connections of one parsed file, also where parts of it are wrong otherwise."""

    def __init__(self, document: Mapping[str, Any], faults: Faults) -> None:
        """``document`` is the parsed file; every problem goes to ``faults``."""
        self._faults = faults
        self._parts: dict[str, list[tuple[int, dict[str, Any]]]] = {}
        self._single: dict[str, dict[str, Any]] = {}
        for name, section in SECTIONS.items():
            parts = document.get(name)
            if section.many and isinstance(parts, list):
                self._parts[name] = [(index, part) for index, part in enumerate(parts) if isinstance(part, dict)]
            elif isinstance(parts, dict) and not section.many:
                self._single[name] = parts
        self._section_of: dict[str, str] = {PANEL: "panel"}
        self._ids_of: dict[tuple[str, ...], list[str]] = {}

    def judge(self) -> None:
        """Note every problem: doubled ids, names of nothing, keys that exclude one another, and broken trees."""
        self.judge_names()
        self.judge_trees()

    def judge_names(self) -> None:
        """Note doubled ids, names of nothing, and keys that exclude one another."""
        self._judge_ids()
        for name, parts in self._parts.items():
            keys = [key for key in SECTIONS[name].keys.values() if key.form is Form.REFERENCE]
            groups = ONE_OF.get(name, ())
            for index, part in parts:
                for key in keys:
                    if key.name in part:
                        self._judge_reference(key, part, (name, index, key.name))
                for group in groups:
                    self._judge_one_of(group, part, (name, index))
                if name == "cable":
                    self._judge_count(part, (name, index, "current_carrying"))
        for name, part in self._single.items():
            for key in SECTIONS[name].keys.values():
                if key.form is Form.REFERENCE and key.name in part:
                    self._judge_reference(key, part, (name, key.name))

    def _judge_count(self, cable: Mapping[str, Any], path: Path) -> None:
        """A cable and the others alongside cannot have fewer current-carrying conductors than two each."""
        total, beside = cable.get("current_carrying"), cable.get("bundled_with", 0)
        if type(total) is not int or type(beside) is not int or total < 1 or beside < 1:
            return
        least = _LEAST_IN_A_CABLE * (1 + beside)
        if total < least:
            says = f"this cable and {beside} other loaded cable(s) alongside have at least {least} of them"
            self._faults.add(path, says, given=str(total), allowed=f"{least} or more, or bundled_with = 0")

    def _judge_ids(self, *, noting: bool = True) -> None:
        first_place: dict[str, str] = {}
        for name, parts in self._parts.items():
            for index, part in parts:
                part_id = part.get("id")
                if not isinstance(part_id, str) or not part_id.strip():
                    continue
                path = (name, index, "id")
                if not noting:
                    first_place.setdefault(part_id, name)
                elif part_id == PANEL:
                    self._faults.add(path, "panel is the panel's own name: choose another", given=given_text(part_id))
                elif part_id in first_place:
                    says = f"this name is taken already by {_WORDS[first_place[part_id]]}: every part has its own"
                    self._faults.add(path, says, given=given_text(part_id))
                else:
                    first_place[part_id] = name
        self._section_of.update(first_place)

    def _judge_reference(self, key: Key, part: Mapping[str, Any], path: Path) -> None:
        target = part[key.name]
        if not isinstance(target, str) or not target.strip() or target != target.strip():
            return
        section = self._section_of.get(target)
        if section in key.refers:
            if section == path[0] and target == part.get("id"):
                self._faults.add(path, f"{key.name} names the part itself", given=given_text(target))
            return
        given = given_text(target)
        if section is None:
            known = self._known(key.refers)
            kinds = _either(_WORDS.get(name, "the panel") for name in key.refers)
            shown = ", ".join(known[:_IDS_SHOWN]) + (" …" if len(known) > _IDS_SHOWN else "")
            near = self._faults.nearest(target, known)
            self._faults.add(
                path, f"nothing in this file has this name: name {kinds}", given=given, allowed=shown, near=near
            )
        elif section == "panel":
            says = "a cable cannot end at the panel" if key.name == "to" else "this is the panel itself"
            if key.name == "box":
                says = f"{_WORDS[str(path[0])]} cannot be in the panel"
            self._faults.add(path, f"{says}: name a box", given=given)
        else:
            kinds = _either(_WORDS.get(name, "the panel") for name in key.refers)
            says = f"this is {_WORDS[section]}: name {kinds}"
            if key.name in ("from", "to") and section in ("load", "driver", "control"):
                says += "; a cable ends at the box that it is connected in"
            self._faults.add(path, says, given=given)

    def _known(self, sections: tuple[str, ...]) -> list[str]:
        """The ids of these sections, in file order."""
        known = self._ids_of.get(sections)
        if known is None:
            known = [part_id for part_id, owner in self._section_of.items() if owner in sections]
            self._ids_of[sections] = known
        return known

    def _judge_one_of(self, group: tuple[str, ...], part: Mapping[str, Any], path: Path) -> None:
        present = [name for name in group if name in part]
        for name in present[1:]:
            says = f"{name} and {present[0]} say the same thing in two ways: keep one"
            self._faults.add((*path, name), says, allowed=f"one of {', '.join(group)}")

    def _ids(self, name: str) -> dict[str, int]:
        """Ids of one section with the place of the first part of that name."""
        found: dict[str, int] = {}
        for index, part in self._parts.get(name, ()):
            part_id = part.get("id")
            if isinstance(part_id, str) and self._section_of.get(part_id) == name:
                found.setdefault(part_id, index)
        return found

    def _runs(self) -> tuple[list[Run], bool]:
        """The cables whose two ends are known, and whether that is all of them."""
        runs, whole = [], True
        refers = {name: SECTIONS["cable"].keys[name].refers for name in ("from", "to")}
        for index, part in self._parts.get("cable", ()):
            ends = [part.get("from"), part.get("to")]
            good = all(
                isinstance(end, str) and self._section_of.get(end) in refers[name]
                for end, name in zip(ends, refers, strict=True)
            )
            if good and ends[0] == ends[1]:
                says = "both ends of this cable are at the same place"
                self._faults.add(("cable", index, "to"), says, given=given_text(ends[1]))
            elif good:
                name = part.get("id")
                runs.append(Run(index, str(ends[0]), str(ends[1]), name if isinstance(name, str) else f"#{index + 1}"))
            whole = whole and good
        return runs, whole

    def judge_trees(self) -> None:
        """Note what does not hang together: ends without a feed or with two, and loops."""
        self._judge_ids(noting=False)
        boxes, drivers, lights = self._ids("box"), self._ids("driver"), self._ids("low_voltage_load")
        runs, whole = self._runs()
        low = low_voltage_cables(runs, drivers, lights)
        branch_feed = self._feeds([run for run in runs if run.id not in low])
        low_feed = self._feeds([run for run in runs if run.id in low], self._fed_at_both_ends())
        in_loop = self._judge_loops(branch_feed) | self._judge_loops(low_feed)
        if not whole:
            return
        for box, index in boxes.items():
            if box not in branch_feed and box not in low_feed and box not in in_loop:
                self._faults.add(
                    ("box", index), f'no cable feeds box "{box}"', allowed="one cable that has this box as its to"
                )
        for light, index in lights.items():
            if light not in low_feed:
                says = f'no cable feeds low-voltage light "{light}"'
                self._faults.add(("low_voltage_load", index), says, allowed="one cable from a driver")
        self._judge_sources(low_feed, drivers, in_loop)

    def _fed_at_both_ends(self) -> set[str]:
        """Strips that the file calls fed at both ends: each may have a second cable from where the first starts."""
        return {
            str(part.get("id"))
            for _, part in self._parts.get("low_voltage_load", ())
            if part.get("fed_from") == "both ends"
        }

    def _feeds(self, runs: list[Run], twice: Iterable[str] = ()) -> dict[str, Run]:
        """The cable that feeds each end; a second one is a problem that names both, except into those in ``twice``."""
        feed: dict[str, Run] = {}
        second = dict.fromkeys(twice, False)
        for run in runs:
            first = feed.setdefault(run.to_id, run)
            if first is not run and first.from_id == run.from_id and second.get(run.to_id) is False:
                second[run.to_id] = True
            elif first is not run:
                says = f'{_named(first.name)} and {_named(run.name)} both feed "{run.to_id}": one cable feeds it'
                self._faults.add(("cable", run.id, "to"), says, given=given_text(run.to_id))
        return feed

    def _judge_loops(self, feed: Mapping[str, Run]) -> set[str]:
        """Everything in a loop or behind one. Each loop is one problem that names its cables."""
        state: dict[str, bool] = {}
        for start in feed:
            trail: list[str] = []
            at: dict[str, int] = {}
            node = start
            while node in feed and node not in state and node not in at:
                at[node] = len(trail)
                trail.append(node)
                node = feed[node].from_id
            looped = state.get(node, False)
            if node in at:
                looped = True
                cables = [feed[step] for step in reversed(trail[at[node] :])]
                self._note_loop(cables)
            state.update(dict.fromkeys(trail, looped))
        return {node for node, looped in state.items() if looped}

    def _note_loop(self, cables: list[Run]) -> None:
        last = max(cables, key=lambda run: run.id)
        turn = cables.index(last) + 1
        ordered = cables[turn:] + cables[:turn]
        names = ", ".join(_named(run.name) for run in ordered[:_IDS_SHOWN])
        more = f" and {len(ordered) - _IDS_SHOWN} more" if len(ordered) > _IDS_SHOWN else ""
        self._faults.add(("cable", last.id), f"a loop: {names}{more} lead back to where they start")

    def _judge_sources(self, low_feed: Mapping[str, Run], drivers: Mapping[str, int], in_loop: set[str]) -> None:
        """A low-voltage run that starts anywhere but at a driver has no source."""
        for node, run in low_feed.items():
            if node in in_loop or run.from_id in drivers or run.from_id in low_feed:
                continue
            says = f'{_named(run.name)} leads to low-voltage lights but starts at "{run.from_id}", behind no driver'
            self._faults.add(("cable", run.id, "from"), says, given=given_text(run.from_id), allowed="a driver")


def _either(words: Iterable[str]) -> str:
    listed = list(dict.fromkeys(words))
    return listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} or {listed[-1]}"
