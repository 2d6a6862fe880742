"""How much room is left, as lines of a page: the breaker, each light, each box, and along each cable."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.cli.lines import PageStyle, ruled, wrapped
from circuitcheck.findings import Report, RoomLeft
from circuitcheck.outcomes import check_words
from circuitcheck.refs import Ref
from circuitcheck.text import shown_number

_LONGER, _WARMER, _BESIDE = "length", "warmer air", "cables alongside"


def room_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """The section; nothing where nobody asked for it."""
    by_part: dict[str, list[RoomLeft]] = {}
    for room in report.room_left:
        by_part.setdefault(room.of, []).append(room)
    if by_part:
        yield ""
        yield from ruled("Room left: so much more passes, and one step more does not", style)
        for of, rooms in by_part.items():
            yield from wrapped(_says(of, rooms), style, indent="  ", bullet="* ")


def _says(of: str, rooms: Sequence[RoomLeft]) -> str:
    section, name, _ = Ref.of_part(of)
    if section == "supply":
        amounts = [
            f"{_more(room)}{' that stays on for 3 hours or more' if room.kind != 'load' else ''}" for room in rooms
        ]
        return f"Breaker: {', or '.join(amounts)}."
    if section == "box":
        amounts = [f"{room.amount:g} of {room.size}" for room in rooms]
        return f'Box "{name}", more conductors: {", or ".join(amounts)}.'
    return f'{section.capitalize()} "{name}": {"; ".join(_along(room) for room in rooms)}.'


def _along(room: RoomLeft) -> str:
    if room.kind == _BESIDE:
        what = f"{room.amount:g} more cables alongside" if room.amount else "no more cables alongside"
    elif room.kind == _LONGER:
        what = f"{room.amount:g} ft longer"
    elif room.kind == _WARMER:
        what = f"{room.amount:g} °F ({room.amount / 1.8:.0f} °C) warmer"
    else:
        what = f"{room.amount:g} more of it" if room.amount else "no more of it"
    return f"{what} ({check_words(room.check)} turns first)"


def _more(room: RoomLeft) -> str:
    return f"{shown_number(room.amount, 3)} {room.unit} more" if room.amount else "nothing more"
