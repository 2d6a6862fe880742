"""How much room is left, in words: so much more passes for certain, and what is said of one step more."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from circuitcheck.findings import Outcome, RoomLeft
from circuitcheck.outcomes import check_words
from circuitcheck.refs import Ref
from circuitcheck.text import shown_number

_LONGER, _WARMER, _BESIDE, _CONDUCTORS = "length", "warmer air", "cables alongside", "conductors"
_ON_THE_BREAKER = ("load", "continuous load")
_STAYS_ON = " that stays on for 3 hours or more"

#: What an amount is called whose check is open already.
_OF = {
    _LONGER: "how much longer",
    _WARMER: "how much warmer",
    _BESIDE: "how many more cables alongside",
    _CONDUCTORS: "how many more conductors",
    "load": "how much more load",
    "continuous load": "how much more load",
    "more of this": "how many more of this",
}
#: What is said where there is room for none, and what is asked about the next step where that is open.
_NONE = {
    _LONGER: "not a foot longer",
    _WARMER: "no warmer",
    _BESIDE: "no more cables alongside",
    _CONDUCTORS: "not one conductor more",
    "load": "no more load",
    "more of this": "no more of this",
}
_NEXT = {
    _LONGER: "a foot longer",
    _WARMER: "a degree warmer",
    _BESIDE: "one more cable alongside",
    _CONDUCTORS: "one more conductor",
    "load": "more load",
    "more of this": "one more of this",
}


def room_sentences(rooms: Iterable[RoomLeft]) -> Iterator[str]:
    """A sentence a part."""
    by_part: dict[str, list[RoomLeft]] = {}
    for room in rooms:
        by_part.setdefault(room.of, []).append(room)
    for of, each in by_part.items():
        section, name, _ = Ref.of_part(of)
        named = "Breaker" if section == "supply" else f'{section.capitalize()} "{name}"'
        yield f"{named}: {room_words(each)}."


def room_words(rooms: Iterable[RoomLeft]) -> str:
    """The room left at one part or a few, without naming it."""
    told = list(rooms)
    known = [room for room in told if room.amount is not None]
    breaker = [room for room in known if room.kind in _ON_THE_BREAKER]
    conductors = [room for room in known if room.kind == _CONDUCTORS]
    others = [room for room in known if room not in breaker and room not in conductors]
    words = [
        *([_breaker_words(breaker)] if breaker else []),
        *(_words(room) for room in others),
        *([_more_conductors(conductors)] if conductors else []),
        *_not_known([room for room in told if room.amount is None]),
    ]
    return "; ".join(words)


def conductors_words(rooms: Iterable[RoomLeft]) -> str:
    """How many more of each size, or until what that cannot be told: ``2 of 14 AWG, or 1 of 12 AWG``."""
    told = list(rooms)
    if any(room.amount is None for room in told):
        return "; ".join(_not_known(told))
    told = [room for room in told if room.amount or room.is_most] or told
    if not any(room.is_most for room in told):
        return f"at least {', or '.join(_of_size(room) for room in told)}"
    return ", or ".join(f"{_least(room)}{_of_size(room)}" for room in told)


def _of_size(room: RoomLeft) -> str:
    return f"{room.amount:g} of {room.size}"


def _not_known(rooms: list[RoomLeft]) -> Iterator[str]:
    by_check: dict[str, dict[str, None]] = {}
    for room in rooms:
        by_check.setdefault(room.check, {})[_OF[room.kind]] = None
    for check, amounts in by_check.items():
        yield f"cannot tell {' and '.join(amounts)} until {check_words(check)} is settled"


def _more_conductors(rooms: list[RoomLeft]) -> str:
    if any(room.amount for room in rooms):
        return f"more conductors: {conductors_words(rooms)}"
    return _none(next((room for room in rooms if not room.is_most), rooms[0]))


def _breaker_words(rooms: list[RoomLeft]) -> str:
    if not any(room.amount for room in rooms):
        return _none(rooms[0])
    amounts = [
        f"{_least(room)}{shown_number(room.amount, 3)} {room.unit} more{_STAYS_ON if room.kind != 'load' else ''}"
        for room in rooms
        if room.amount
    ]
    listed = ", if every load on it is listed" if any(room.if_listed for room in rooms) else ""
    return f"{', or '.join(amounts)}{listed}"


def _words(room: RoomLeft) -> str:
    if not room.amount:
        return f"{_none(room)}{_turns(room) if room.is_most else ''}"
    amount = f"{_least(room)}{shown_number(room.amount, 3)}"
    if room.kind == _LONGER:
        words = f"{amount} ft longer"
    elif room.kind == _WARMER:
        words = f"{amount} °F ({room.amount / 1.8:.0f} °C) warmer"
    else:
        words = f"{amount} more {'cables alongside' if room.kind == _BESIDE else 'of this'}"
    return f"{words}{_turns(room)}"


def _none(room: RoomLeft) -> str:
    """That there is no room, or that nobody can tell yet whether there is."""
    kind = "load" if room.kind in _ON_THE_BREAKER else room.kind
    return _NONE[kind] if room.is_most else f"{_NEXT[kind]}: {check_words(room.check)} cannot tell yet"


def _least(room: RoomLeft) -> str:
    return "" if room.is_most else "at least "


def _turns(room: RoomLeft) -> str:
    if not room.check:
        return ""
    if room.then is Outcome.UNDETERMINED:
        return f" (beyond that {check_words(room.check)} cannot tell)"
    return f" ({check_words(room.check)} turns first)"
