"""The circuit file that the answers to the questions make, everything else left unknown."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from circuitcheck.circuit.keys import FORMAT
from circuitcheck.ui.document.entry_text import table_text
from circuitcheck.ui.parts.naming import free_name

OPENED_BOX = "box in use"

_NOT_WHERE = (
    "# Where these hang on the circuit is not known yet, so they are put at the box in use:\n"
    "# there they count most for the voltage.\n"
)


def starting_text(answers: Mapping[str, Any]) -> str:
    """The file's text. Answers that are missing or empty stay unknown."""
    room = answers.get("room", "")
    title = f"New lights, {room}" if room else "New lights"
    pieces = [
        f"format = {FORMAT}\n\n",
        _table("job", {"title": title, "rulebook": answers.get("rulebook", ""), "date": date.today()}),
        _table("supply", {"voltage": "120 V", "breaker": answers.get("breaker", "")}),
        _table("site", {"room": room}),
        *_existing(answers),
        *_added(answers),
    ]
    return "".join(pieces)


def _table(section: str, entries: Mapping[str, Any], *, many: bool = False) -> str:
    return table_text(section, many, {key: value for key, value in entries.items() if value not in ("", None)})


def _yes_no(answer: Any) -> bool | None:
    return {"yes": True, "no": False, True: True, False: False}.get(answer)


def _existing(answers: Mapping[str, Any]) -> Sequence[str]:
    size, kind = answers.get("size", ""), answers.get("type", "")
    conductors = 2 if size else None
    box = {"id": OPENED_BOX, "origin": "existing", "trade_size": answers.get("trade size", "")}
    feed = {
        "id": "feed",
        "from": "panel",
        "to": OPENED_BOX,
        "origin": "existing",
        "type": kind,
        "size": size,
        "conductors": conductors,
        "material": answers.get("metal", ""),
        "ground": _yes_no(answers.get("ground", "")),
        "length": answers.get("feed length", ""),
    }
    pieces = [_table("box", box, many=True)]
    further = answers.get("cables in the box") or 1
    for number in range(1, int(further)):
        pieces.append(_table("box", {"id": f"box farther on {number}", "origin": "existing"}, many=True))
    pieces.append(_table("cable", feed, many=True))
    for number in range(1, int(further)):
        run = {
            **feed,
            "id": f"cable onward {number}",
            "from": OPENED_BOX,
            "to": f"box farther on {number}",
            "length": "",
        }
        pieces.append(_table("cable", run, many=True))
    taken: set[str] = set()
    for index, load in enumerate(answers.get("goes dark") or ()):
        name = free_name(str(load["id"]), taken)
        taken.add(name)
        entries = {"id": name, "box": OPENED_BOX, "origin": "existing"}
        text = _table("load", entries | {key: value for key, value in load.items() if key != "id"}, many=True)
        pieces.append((_NOT_WHERE if index == 0 else "") + text)
    return pieces


def _added(answers: Mapping[str, Any]) -> Sequence[str]:
    pieces: list[str] = []
    upstream = OPENED_BOX
    size = answers.get("new cable", "")
    taken = {str(load["id"]) for load in answers.get("goes dark") or ()}
    for number in range(1, int(answers.get("lights to add") or 1) + 1):
        box = f"new box {number}"
        cable: dict[str, Any] = {"id": f"new cable {number}", "from": upstream, "to": box, "origin": "added"}
        if size:
            cable |= {"type": "NM-B", "size": size, "conductors": 2, "ground": True, "material": "copper"}
        cable["length"] = answers.get("new length", "")
        light = free_name(f"new light {number}", taken)
        taken.add(light)
        pieces.append(_table("box", {"id": box, "origin": "added"}, many=True))
        pieces.append(_table("cable", cable, many=True))
        entries = {"id": light, "box": box, "origin": "added", "kind": "light", "power": answers.get("watts", "")}
        pieces.append(_table("load", entries | {"connection": "hardwired"}, many=True))
        upstream = box
    return pieces


def suggested_path(answers: Mapping[str, Any], folder: Path) -> Path:
    """A name for the file that nothing has yet."""
    stem = re.sub(r"[^a-z0-9]+", "-", f"{answers.get('room') or 'new'} lights".casefold()).strip("-")
    number = 1
    while True:
        path = folder / f"{stem}{'' if number == 1 else f'-{number}'}.circuit.toml"
        if not path.exists():
            return path
        number += 1
