"""Wire size: the thinnest conductor that would do for each cable that is to be added.

What it asks: what breaker-vs-wire, ampacity and voltage-drop say with other sizes of each added cable. A size does when
the breaker is small enough for it, when it may carry the load and keep its breaker in its conditions, and, as advice
only, when the voltage drop behind it stays within what is recommended.

Why: one cable that is too thin decides for the whole circuit, and a thicker one costs little before it is in the wall.
On a 20 A circuit 14 AWG is the usual mistake.

What to do: take at least the size that the finding names. A thicker one is always allowed, as long as the terminals and
the box take it.

Cannot see: whether a terminal, a connector or a box takes a thicker conductor (box fill does see the box). Each cable
is judged with all others as planned: two thin ones in a row may share the blame for a drop, and one thicker one may do.
In a circuit of very many added cables the drop is not tried with other sizes, and the finding says so.
"""

from __future__ import annotations

from circuitcheck.case import Family, SizeRule
from circuitcheck.tables.rulebook import Rulebook


def sizes(book: Rulebook) -> tuple[str, ...]:
    """The sizes of the conductor table from the thinnest for a branch circuit up."""
    rows = book.table("conductors").rows
    thinnest = book.table("branch-circuit-conductors").rows[0].printed_text("copper")
    start = next(number for number, row in enumerate(rows) if row.key[0] == thinnest)
    return tuple(row.key[0] for row in rows[start:])


RULE = SizeRule(
    name="wire-size",
    title="The thinnest conductor that would do for each added cable",
    family=Family.CAPACITY,
    rank=90,
    sizes=sizes,
    must=("breaker-vs-wire", "ampacity"),
    wish=("voltage-drop",),
)
