"""How many more conductors a box takes: they are put in, one after the other, and box fill is asked again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache

from circuitcheck.checking.asking_all import fault_written_down
from circuitcheck.checking.would_do import answers_about
from circuitcheck.circuit.model import Box, Circuit, Unbroken
from circuitcheck.findings import SEVERITY, Finding, Outcome, RoomLeft
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import Rulebook

#: More than this many conductors are in no box of a branch circuit.
MOST = 64


def conductors_left(
    box: Box, circuit: Circuit, book: Rulebook, sizes: Iterable[str], now: Outcome
) -> Iterator[RoomLeft]:
    """Of each size, how many more conductors the box takes for certain: so many pass, one more does not.

    now: what box fill says of the box as it is. While that is open, so is the room that is left.
    """
    for size in sizes:
        amount: int | None = None
        then: Outcome | None = None
        if now is Outcome.FAIL:
            amount, then = 0, now
        elif now is not Outcome.UNDETERMINED:
            amount, then = _left(box, circuit, book, size)
        yield RoomLeft(str(box.ref), "conductors", amount, None, RULE.name, size, then)


def _left(box: Box, circuit: Circuit, book: Rulebook, size: str) -> tuple[int, Outcome]:
    """How many more of a size pass, and what box fill says of one more than that."""

    @cache
    def with_more(more: int) -> Outcome:
        return _with_more(box, circuit, book, size, more)

    amount = most_that_passes(lambda more: with_more(more) is Outcome.PASS, MOST)
    return amount, with_more(amount + 1)


def most_that_passes(passes: Callable[[int], bool], most: int) -> int:
    """The greatest number from 0 to ``most`` that passes where more is never better; 0 where none does."""
    good, bad = 0, 1
    while bad <= most and passes(bad):
        good, bad = bad, 2 * bad
    bad = min(bad, most + 1)
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if passes(middle) else (good, middle)
    return good


def sizes_in(box: Box, circuit: Circuit, book: Rulebook) -> tuple[str, ...]:
    """The conductor sizes that an extension of this box may bring: those in it and the usual ones, thin to thick."""
    usual = book.value("unknown-conductor-sizes").items
    listed = [row.key[0] for row in book.table("conductor-volume").rows]
    there = {cable.size for cable in circuit.tree.cables_at.get(box.id, ())}
    first, last = listed.index(usual[0]), listed.index(usual[-1])
    return tuple(size for place, size in enumerate(listed) if first <= place <= last or size in there)


def _with_more(box: Box, circuit: Circuit, book: Rulebook, size: str, more: int) -> Outcome:
    """What box fill says with so many more conductors in the box; open where it has no answer any more."""
    run = Unbroken(size=size, count=more, other_circuit=True)
    fuller = replace(box, unbroken=(*(box.unbroken or ()), run))
    boxes = tuple(fuller if each is box else each for each in circuit.boxes)
    findings: tuple[Finding, ...] = ()
    with fault_written_down(RULE.name, []):
        findings = answers_about(replace(circuit, boxes=boxes), book, (RULE,), frozenset((box.id,)), named=False)
    return min((finding.outcome for finding in findings), key=SEVERITY.__getitem__, default=Outcome.UNDETERMINED)
