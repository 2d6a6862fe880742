"""The circuit file that the answers to the questions make, everything else left unknown."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from circuitcheck.circuit.keys import FORMAT, SCHEMA_LINE
from circuitcheck.circuit.written.entry_text import table_text
from circuitcheck.ui.parts.naming import free_name

OPENED_BOX = "in use"

_NOT_WHERE = (
    "# Where these hang on the circuit is not known yet, so they are put at the box in use:\n"
    "# there they count most for the voltage.\n"
)


def starting_text(answers: Mapping[str, Any]) -> str:
    """The file's text. Answers that are missing or empty stay unknown."""
    room = answers.get("room", "")
    title = f"New lights, {room}" if room else "New lights"
    pieces = [
        f"{SCHEMA_LINE}\nformat = {FORMAT}\n\n",
        _table("job", {"title": title, "rulebook": answers.get("rulebook", ""), "date": date.today()}),
        _table("supply", {"voltage": "120 V", "breaker": answers.get("breaker", "")}),
        _table("site", {"room": room}),
    ]
    taken: set[str] = set()
    pieces += [_table(section, entries, many=True) for section, entries in _existing(answers, taken)]
    added = [_table(section, entries, many=True) for section, entries in _added(answers, taken)]
    loads = [_table("load", entries, many=True) for entries in _loads(answers, taken)]
    if loads:
        loads[0] = _NOT_WHERE + loads[0]
    return "".join([*pieces, *loads, *added])


def _table(section: str, entries: Mapping[str, Any], *, many: bool = False) -> str:
    return table_text(section, many, {key: value for key, value in entries.items() if value not in ("", None)})


def _yes_no(answer: Any) -> bool | None:
    return {"yes": True, "no": False, True: True, False: False}.get(answer)


#: A section and the entries of a part in it.
_Part = tuple[str, dict[str, Any]]


def _existing(answers: Mapping[str, Any], taken: set[str]) -> list[_Part]:
    """The box in use, its feed, and the cables that run on from it to boxes of which nothing is known."""
    size = answers.get("size", "")
    box = {"id": OPENED_BOX, "origin": "existing", "trade_size": answers.get("trade size", "")}
    feed = {
        "id": "feed",
        "from": "panel",
        "to": OPENED_BOX,
        "origin": "existing",
        "type": answers.get("type", ""),
        "size": size,
        "conductors": 2 if size else None,
        "material": answers.get("metal", ""),
        "ground": _yes_no(answers.get("ground", "")),
        "length": answers.get("feed length", ""),
    }
    onward = range(1, int(answers.get("cables in the box") or 1))
    boxes = [box, *({"id": f"farther on {number}", "origin": "existing"} for number in onward)]
    runs = [{**feed, "id": f"onward {n}", "from": OPENED_BOX, "to": f"farther on {n}", "length": ""} for n in onward]
    parts = [("box", entries) for entries in boxes] + [("cable", entries) for entries in (feed, *runs)]
    taken.update(str(entries["id"]) for _, entries in parts)
    return parts


def _loads(answers: Mapping[str, Any], taken: set[str]) -> list[dict[str, Any]]:
    """What goes dark, each at the box in use."""
    parts = []
    for load in answers.get("goes dark") or ():
        name = free_name(str(load["id"]), taken)
        taken.add(name)
        parts.append({**load, "id": name, "box": OPENED_BOX, "origin": "existing"})
    return [{key: part[key] for key in ("id", "box", "origin", *part)} for part in parts]


def _added(answers: Mapping[str, Any], taken: set[str]) -> list[_Part]:
    """The new lights, one after the other, each on a box of its own."""
    parts: list[_Part] = []
    upstream = OPENED_BOX
    size = answers.get("new cable", "")
    for number in range(1, int(answers.get("lights to add") or 1) + 1):
        box, light = free_name(f"new {number}", taken), free_name(f"lamp {number}", taken)
        cable: dict[str, Any] = {"id": free_name(f"to {box}", taken), "from": upstream, "to": box, "origin": "added"}
        if size:
            cable |= {"type": "NM-B", "size": size, "conductors": 2, "ground": True, "material": "copper"}
        cable["length"] = answers.get("new length", "")
        lamp = {"id": light, "box": box, "origin": "added", "kind": "light", "power": answers.get("watts", "")}
        parts += [
            ("box", {"id": box, "origin": "added"}),
            ("cable", cable),
            ("load", {**lamp, "connection": "hardwired"}),
        ]
        taken |= {box, light, str(cable["id"])}
        upstream = box
    return parts


def suggested_path(answers: Mapping[str, Any], folder: Path) -> Path:
    """A name for the file that nothing has yet."""
    stem = re.sub(r"[^a-z0-9]+", "-", f"{answers.get('room') or 'new'} lights".casefold()).strip("-")
    number = 1
    while True:
        path = folder / f"{stem}{'' if number == 1 else f'-{number}'}.circuit.toml"
        if not path.exists():
            return path
        number += 1
