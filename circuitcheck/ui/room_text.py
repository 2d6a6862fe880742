"""How much room is left, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from circuitcheck.findings import RoomLeft
from circuitcheck.outcomes import check_words
from circuitcheck.refs import Ref
from circuitcheck.text import shown_number


def room_sentences(rooms: Iterable[RoomLeft]) -> Iterator[str]:
    """A sentence a part: so much more passes, and one step more does not."""
    by_part: dict[str, list[RoomLeft]] = {}
    for room in rooms:
        by_part.setdefault(room.of, []).append(room)
    for of, each in by_part.items():
        section, name, _ = Ref.of_part(of)
        named = "Breaker" if section == "supply" else f'{section.capitalize()} "{name}"'
        yield f"{named}: {room_words(each)}."


def room_words(rooms: Iterable[RoomLeft]) -> str:
    """The room left at one part, without naming it."""
    told = list(rooms)
    conductors = [room for room in told if room.kind == "conductors"]
    words = [_words(room) for room in told if room.kind != "conductors"]
    if conductors and not any(room.amount for room in conductors):
        words.append("not one conductor more")
    elif conductors:
        words.append(f"{', or '.join(f'{room.amount:g} x {room.size}' for room in conductors)} more conductors")
    return "; ".join(words)


def _words(room: RoomLeft) -> str:
    amount = shown_number(room.amount, 3)
    none = not room.amount
    turns = f" ({check_words(room.check)} turns first)" if room.check else ""
    if room.kind == "load":
        return f"{amount} A more" if room.amount else "no more load"
    if room.kind == "continuous load":
        return f"or {amount} A more that stays on for 3 hours or more" if room.amount else "none that stays on"
    if room.kind == "length":
        return ("not a foot longer" if none else f"{amount} ft longer") + turns
    if room.kind == "warmer air":
        return ("no warmer" if none else f"{amount} °F ({room.amount / 1.8:.0f} °C) warmer") + turns
    if room.kind == "cables alongside":
        return ("no more cables alongside" if none else f"{amount} more cables alongside") + turns
    return ("no more of this" if none else f"{amount} more of this") + turns
