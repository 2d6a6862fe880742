"""The list of loads once more, for what it leaves of a reading; what loads that go drew; what loads are, asked apart.

Of a current that was read, the less the listed loads draw the more flows where nobody knows; of a cable, the more they
draw the worse. One case cannot have both. So what is open in the list stands here a second time, as entries of their
own that are worse the other way; whoever asks about one asks about what a person would find out, the same for both.

A load that may be a heater counts as continuous, one that may be a fan as a motor, and one that may be a receptacle
forbids the next standard rating. A cable fails by any of them, and what is best for one is best for the others. So
what loads are stands apart for each.

What is fastened in place takes of a circuit, and what is not makes it a shared one: of loads of which neither is known
no way is always worse, and all ways of all of them would be too many. So whether a load shares stands apart too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, cast

from circuitcheck.case.case import Case, Gone
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.parts import Load, Part
from circuitcheck.case.reading import Reading
from circuitcheck.case.rule import LESS, MORE, Direction
from circuitcheck.case.waiting import entry_of, key_rows, open_entries, twin_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.possible import Possible

_LISTED = "listed "
#: What is asked of loads apart: whether they are receptacles for the rating, motors for a cable, and whether they share
#: the circuit with what is fastened in place.
RATED, MOTOR, SHARING = "rated", "motor", "sharing"
#: What says so.
_TOLD_BY = {RATED: ("kind",), MOTOR: ("kind",), SHARING: ("kind", "connection")}
_GONE = "gone "
_BEHIND = {_GONE: 0.125, _LISTED: 0.25, f"{RATED} ": 0.5, f"{MOTOR} ": 0.75, f"{SHARING} ": 0.875}
#: What says how much a load draws while it is on.
_DRAWN = ("power_w", "apparent_va", "current_a", "fitted_w", "kind")


def list_apart(case: Case) -> Case:
    """The same circuit, in which the open entries of the supply, the loads and the drivers are entries of their own."""
    kept: Case | None = vars(case).get("_list_apart")
    if kept is None:
        sections: dict[str, Any] = {
            "supply": _listed(case.supply),
            "loads": tuple(map(_listed, case.loads)),
            "drivers": tuple(map(_listed, case.drivers)),
        }
        others = ("job", "site", "boxes", "cables", "low_voltage_loads", "controls", "framing")
        sections |= {name: getattr(case, name) for name in others}
        kept = vars(case)["_list_apart"] = Case(case.book, case.reading, sections)
    return kept


def kinds_apart(case: Case, word: str) -> Mapping[Load, Load]:
    """Each load, and the same load of which what it is, by all that says so, stands as entries of its own."""
    kept: dict[str, Mapping[Load, Load]] = vars(case).setdefault("_kinds_apart", {})
    if word not in kept:
        kept[word] = {load: _apart(load, f"{word} ", _TOLD_BY[word]) for load in case.loads}
    return kept[word]


def gone_apart(case: Case) -> Mapping[Load, Load]:
    """Each load that goes, and the same load of which what it drew stands as entries of its own: less is worse of it.

    Of a light with watts on its label and no lamp given, the lamp that was in it is such an entry too: at the most it
    drew what the label allows, and of that nobody knows the least.
    """
    kept: dict[Load, Load] | None = vars(case).get("_gone_apart")
    if kept is None:
        kept = vars(case)["_gone_apart"] = {gone.load: _as_it_drew(gone) for gone in case.gone}
    return kept


def _as_it_drew(gone: Gone) -> Load:
    made: Any = _apart(gone.load, _GONE, _DRAWN)
    if not (gone.has_watts and _is_light(made)) or entry_of(made, "fitted_w") is not None or made.fitted_w is not None:
        return cast(Load, made)
    power = entry_of(made, "power_w")
    most = made.power_w if power is None else power.possible.options[-1]
    if most is None:
        return cast(Load, made)
    if made is gone.load:
        made = twin_of(made)
    state = vars(made)
    del state["fitted_w"]
    key, source = SECTIONS["load"].keys["fitted"], state["_source"]
    place = source.first_place + key_rows("load")["fitted_w"].place + _BEHIND[_GONE]
    lamp = OpenEntry(f"{_GONE}load.fitted", key, Possible((0.0, most)), made, place)
    state["_open"]["fitted_w"] = source.reading.enter(lamp)
    return cast(Load, made)


def _is_light(load: Any) -> bool:
    return entry_of(load, "kind") is None and load.kind == "light"


def _listed(part: Any) -> Any:
    return _apart(part, _LISTED, open_entries(part))


def _apart(part: Any, word: str, names: Iterable[str]) -> Any:
    """A part with open entries of its own. None is without bound: what is left of a reading is never more than it."""
    opened = {name: entry for name in names if (entry := entry_of(part, name)) is not None}
    if not opened:
        return part
    made = twin_of(part)
    vars(made)["_open"].update({name: _own(entry, word, made) for name, entry in opened.items()})
    return made


def _own(entry: OpenEntry, word: str, part: Part) -> OpenEntry:
    possible = entry.possible
    if not possible.bounded:
        possible = possible._replace(bounded=True, assumed="")
    reading: Reading = vars(part)["_source"].reading
    # It stands behind the entry itself, and each word in another place.
    return reading.enter(OpenEntry(f"{word}{entry.kind}", entry.key, possible, part, entry.place + _BEHIND[word]))


def worse_apart(word: str, direction: Direction, key: str = "kind") -> dict[str, Direction]:
    """Which way is worse of what loads are for such a question."""
    return {f"{word} load.{key}": direction}


def gone_less(worse: dict[str, Direction]) -> dict[str, Direction]:
    """Which way is worse of what goes: the less it drew of a current that was read."""
    return {f"{_GONE}{kind}": direction for kind, direction in worse.items()}


def listed_less(worse: dict[str, Direction]) -> dict[str, Direction]:
    """Which way is worse of the list apart, where the more it draws is the better: ``worse`` turned round."""
    return {f"{_LISTED}{kind}": _turned(direction) for kind, direction in worse.items()}


def _turned(direction: Direction) -> Direction:
    if direction is MORE or direction is LESS:
        return LESS if direction is MORE else MORE
    return lambda value, part, case: -direction(value, part, case)
