"""Which kind of armored cable was usual when a house was wired, where it is said to hold a kind that came later."""

from __future__ import annotations

from circuitcheck.tables.rulebook import Row, Rulebook


def older_armor(kind: str | None, wired: int | None, book: Rulebook) -> Row | None:
    """The older row of the table of cable types that fits the year better than ``kind``; None where there is none.

    They look alike from outside. The first had no bonding strip, so that their armor is no ground, and up to the middle
    of the 1980s their conductors stood less heat. wired: the year; None where nobody knows it: the oldest row then.
    """
    table, armored = book.table("cable-types"), book.value("sheath-armor-types").items
    row = table.find(kind) if kind in armored else None
    since = row.number("from_year") if row is not None else None
    if since is None or (wired is not None and wired >= since):
        return None
    older = [each for each in table.rows if each.key[0] in armored and each.key[0] != kind]
    if wired is not None:
        return next((each for each in older if _was_made(each, wired)), None)
    made_before = [(first, each) for each in older if (first := each.number("from_year")) is not None and first < since]
    return min(made_before, key=lambda pair: pair[0])[1] if made_before else None


def _was_made(row: Row, year: int) -> bool:
    first, last = row.number("from_year"), row.number("to_year")
    return first is not None and last is not None and first <= year < last
