"""The circuit file that the answers to the questions make, everything else left unknown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from circuitcheck.circuit.keys import FORMAT, SCHEMA_LINE
from circuitcheck.circuit.written.entry_text import table_text
from circuitcheck.tables.rulebook import newest_edition
from circuitcheck.ui.parts.naming import free_name

STARTING_BOX = "starting box"
REST = "rest of the circuit (stand-in)"
#: How far the rest of the circuit is taken to run where it is only stood in for: a guess, and shown as one.
REST_LENGTH = "about 30 ft"
#: What a breaker that nobody has read may be.
ANY_BREAKER = "10 A to 30 A"

_STANDS_IN = (
    "# Stands in for the rest of the circuit: where the loads on it are, and how its cables run, is not known yet.\n"
    "# The length of the cable to it is a guess. Put the real boxes in its place where the answer waits for them.\n"
)
_BETWEEN = (
    "# Stands in for all that lies between the panel and the starting box, which is the last of the circuit. The\n"
    "# whole length to the starting box is counted as far as here, so that no voltage is left out.\n"
)
_SIZE_LEFT_OUT = (
    "# The box is a {size}. Its size is left out until it is known {what}, since without that\n"
    "# nobody can count what is in it. Then write: {entry}\n"
)

#: A section and the entries of a part in it.
_Part = tuple[str, dict[str, Any]]


def starting_text(answers: Mapping[str, Any]) -> str:
    """The file's text. Answers that are missing or empty stay unknown."""
    room = answers.get("room", "")
    taken = {
        STARTING_BOX,
        "feed",
        "last piece",
        *(text for n in range(9) for text in (_numbered(REST, n), _numbered("onward", n))),
    }
    there, on_box, farther = _loads(answers, taken)
    pieces = [
        f"{SCHEMA_LINE}\nformat = {FORMAT}\n\n",
        _table(
            "job",
            {
                "title": f"New lights, {room}" if room else "New lights",
                "rulebook": answers.get("rulebook") or newest_edition(),
                "date": date.today(),
            },
        ),
        _table("supply", {"voltage": "120 V", "breaker": answers.get("breaker") or ANY_BREAKER, **_panel(answers)}),
        _table("site", _site(answers)),
        *_existing(answers, there, has_rest=bool(farther)),
        *_tables(("load", load) for load in (*on_box, *farther)),
        *_tables(("light", light) for light in _added(answers, taken)),
    ]
    return "".join(pieces)


def _table(section: str, entries: Mapping[str, Any], *, many: bool = False) -> str:
    kept = {key: value for key, value in entries.items() if value not in ("", None)}
    return table_text(section, many, kept) if kept else ""


def _tables(parts: Iterable[_Part]) -> list[str]:
    return [_table(section, entries, many=True) for section, entries in parts]


def _panel(answers: Mapping[str, Any]) -> dict[str, Any]:
    return {key: answers.get(key, "") for key in ("protection", "serves")}


def _site(answers: Mapping[str, Any]) -> dict[str, Any]:
    building = answers.get("building", "")
    signs = answers.get("signs", "")
    return {
        "room": answers.get("room", ""),
        "dwelling": {"house": True, "dwellings": True, "no": False}.get(building),
        "dwelling_units": 1 if building == "house" else None,
        "signs": None if not signs else [] if signs == "none" else [signs],
    }


def _existing(answers: Mapping[str, Any], there: Mapping[str, Any], *, has_rest: bool) -> list[str]:
    """The starting box, its feed, and what stands in for the rest of the circuit."""
    count = int(answers.get("cables in the box") or 0)
    cable = {"origin": "existing", **_cable(answers), "place": answers.get("feed place", "")}
    length = _guess(answers.get("feed length", ""))
    box, comment = _starting_box(answers, there, count)
    pieces = [comment + _table("box", box, many=True)]
    if count == 1:
        if has_rest:
            last = {"from": REST, "to": STARTING_BOX, **cable, "length": "0.1 ft"}
            pieces += [_BETWEEN, *_tables([("box", {"id": REST, "origin": "existing"})])]
            pieces += _tables([("cable", {"id": "feed", "from": "panel", "to": REST, **cable, "length": length})])
            return [*pieces, *_tables([("cable", {"id": "last piece", **last})])]
        return [*pieces, *_tables([_feed(cable, length)])]
    pieces += _tables([_feed(cable, length)])
    for number in range(1, max(count, 2 if has_rest else 1)):
        name = _numbered(REST, number)
        run = {"from": STARTING_BOX, "to": name, **cable, "length": REST_LENGTH}
        pieces += [_STANDS_IN if number == 1 else "", *_tables([("box", {"id": name, "origin": "existing"})])]
        pieces += _tables([("cable", {"id": _numbered("onward", number), **run})])
    return pieces


def _numbered(name: str, number: int) -> str:
    return name if number <= 1 else f"{name} {number}"


def _feed(cable: Mapping[str, Any], length: str) -> _Part:
    return "cable", {"id": "feed", "from": "panel", "to": STARTING_BOX, **cable, "length": length}


def _cable(answers: Mapping[str, Any]) -> dict[str, Any]:
    printed = answers.get("print", "")
    printed = answers.get("print typed", "") if printed == "typed" else printed
    return {"cable": printed, "material": answers.get("metal", "")}


def _starting_box(answers: Mapping[str, Any], there: Mapping[str, Any], count: int) -> tuple[dict[str, Any], str]:
    """The starting box, and a comment where its size has to wait until what is in it is known."""
    size, volume = answers.get("trade size", ""), answers.get("box volume", "")
    box: dict[str, Any] = {"id": STARTING_BOX, "origin": "existing"}
    if size == "by volume":
        size = ""
    known = {"trade_size": size, "material": "metal" if size else "", "volume": volume}
    missing = [] if count else ["how many cables come in"]
    missing += [] if there["known"] else ["what is on it"]
    entries = {key: value for key, value in there.items() if key != "known"}
    if missing and (size or volume):
        entry = f'trade_size = "{size}"' if size else f'volume = "{volume}"'
        comment = _SIZE_LEFT_OUT.format(size=size or volume, what=" and ".join(missing), entry=entry)
        return {**box, "material": known["material"], **entries}, comment
    return {**box, **known, **entries}, ""


def _loads(
    answers: Mapping[str, Any], taken: set[str]
) -> tuple[dict[str, Any], list[dict[str, Any]], list[dict[str, Any]]]:
    """What the starting box holds, the loads on it, and those whose place is not known."""
    told = [dict(load) for load in answers.get("goes dark") or ()]
    lights = [load for load in told if load["kind"] == "light"]
    outlets = [load for load in told if load["kind"] == "receptacle"]
    on_it = str(answers.get("on the box", ""))
    there: dict[str, Any] = {"known": bool(on_it)}
    chosen: dict[str, Any] | None = None
    if on_it in ("light", "lampholder") or on_it.startswith("light "):
        place = on_it.removeprefix("light").strip()
        place_there = int(place) if place.isdigit() else 0
        chosen = lights[place_there] if place_there < len(lights) else {"id": "light there now", "kind": "light"}
        there["fixture_wires"] = [] if on_it == "lampholder" else None
    elif on_it == "receptacle":
        chosen = outlets[0] if outlets else {"id": "outlet there now", "kind": "receptacle"}
        there["devices"] = [{"kind": "receptacle"}]
    elif on_it == "switch":
        there["devices"] = [{"kind": "switch"}]
    elif on_it == "blank":
        there |= {"devices": [], "fixture_wires": []}
    # A number that nobody typed is left out of the file, too: it is then listed as assumed.
    on_box = [_so_many(chosen, 1)] if chosen else []
    farther = []
    for load in told:
        left = int(load.get("quantity", 1)) - (load is chosen)
        if left > 0:
            farther.append(_so_many(load, left))
    if on_it == "lampholder" and chosen is not None and chosen.get("kind") == "light":
        on_box[0]["connection"] = "hardwired"
    return (
        there,
        [_placed(load, STARTING_BOX, taken, split=any(o["id"] == load["id"] for o in farther)) for load in on_box],
        [_placed(load, REST, taken, split=False) for load in farther],
    )


def _placed(load: Mapping[str, Any], box: str, taken: set[str], *, split: bool) -> dict[str, Any]:
    name = str(load["id"])
    if split:
        name = f"{name} at the starting box"
    name = free_name(name, taken)
    taken.add(name)
    return {"id": name, "box": box, "origin": "existing", **{key: load[key] for key in load if key != "id"}}


def _so_many(load: Mapping[str, Any], quantity: int) -> dict[str, Any]:
    return {**load, "quantity": quantity} if "quantity" in load else dict(load)


def _added(answers: Mapping[str, Any], taken: set[str]) -> list[dict[str, Any]]:
    """The new lights, one after the other, each in the short form; from the second on like the first."""
    count = int(answers.get("lights to add") or 1)
    alike = answers.get("alike") == "yes"
    each = list(answers.get("watts of each") or ())
    by_volume = answers.get("new box") == "by volume"
    size = "" if by_volume else answers.get("new box", "")
    cable = answers.get("new cable", "")
    planned = {
        "cable": f"{cable}, copper" if cable else "",
        "place": answers.get("new place", ""),
        "trade_size": size,
        "box_material": "metal" if size else "",
        "load_mounting": answers.get("mounting", ""),
        "converted": {"cut": True, "wired": False}.get(answers.get("converted", "")),
    }
    own = {
        "length": _guess(answers.get("new length", "")),
        "volume": answers.get("new volume", "") if by_volume else "",
    }
    lights: list[dict[str, Any]] = []
    upstream = STARTING_BOX
    for number in range(1, count + 1):
        light: dict[str, Any] = {"id": _light_name(number, count, taken), "from": upstream, **own}
        watts = answers.get("watts", "") if number == 1 else each[number - 2] if number - 2 < len(each) else ""
        if number > 1 and (alike or watts):  # what is like the first takes its watts where it has none itself
            light |= {"like": lights[0]["id"], "power": "" if alike else watts}
        else:
            light |= {"power": watts, **planned}
        lights.append(light)
        upstream = light["id"]
    return lights


def _guess(length: Any) -> str:
    """A plain length of feet that somebody typed for a wall nobody looked into is a guess."""
    text = str(length)
    return f"about {text}" if re.fullmatch(r"[\d.]+ ft", text) else text


def _light_name(number: int, count: int, taken: set[str]) -> str:
    """``new light 2``, with the names of its box and cable free as well."""
    wanted = "new light" if count == 1 else f"new light {number}"
    name = wanted
    again = 2
    while taken & {name, f"{name} box", f"{name} cable"}:
        name, again = f"{wanted}, {again}", again + 1
    taken |= {name, f"{name} box", f"{name} cable"}
    return name


def suggested_path(answers: Mapping[str, Any], folder: Path) -> Path:
    """A name for the file that nothing has yet."""
    stem = re.sub(r"[^a-z0-9]+", "-", f"{answers.get('room') or 'new'} lights".casefold()).strip("-")
    number = 1
    while True:
        path = folder / f"{stem}{'' if number == 1 else f'-{number}'}.circuit.toml"
        if not path.exists():
            return path
        number += 1
