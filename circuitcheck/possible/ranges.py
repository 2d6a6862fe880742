"""What a range in the file can be: its two ends, or the ratings that are made."""

from __future__ import annotations

from circuitcheck.findings import exceeds
from circuitcheck.possible.entry import Possible
from circuitcheck.quantities import How, Interval
from circuitcheck.tables.rulebook import Rulebook


def options_in_range(kind: str, value: Interval, book: Rulebook) -> Possible | None:
    """The ends of a range [SI]; None where it has only one value. A breaker is one of the ratings that are made."""
    if value.exact:
        return None
    if kind == "supply.breaker":
        return _ratings(value, book)
    says = "a guess; verify before you rely on it" if value.how is How.GUESS else ""
    return Possible((value.low, value.high), says)


def _ratings(value: Interval, book: Rulebook) -> Possible | None:
    """Every standard rating in the range; a guess at a rating means the ratings next to it too [A]."""
    made = sorted(
        {row.printed_number("rating") for row in book.table("standard-overcurrent-ratings").rows}
        | {float(item) for item in book.value("small-fuse-ratings").items if float(item) >= 10.0}
    )
    low, high = value.low, value.high
    if value.how is How.GUESS:
        middle = (low + high) / 2
        below = [rating for rating in made if exceeds(middle, rating)]
        above = [rating for rating in made if exceeds(rating, middle)]
        low, high = below[-1] if below else low, above[0] if above else high
    inside = tuple(rating for rating in made if not exceeds(low, rating) and not exceeds(rating, high))
    options = inside or (value.low, value.high)
    return Possible(options, "rating not certain; the number on the handle settles it" if len(options) > 1 else "")
