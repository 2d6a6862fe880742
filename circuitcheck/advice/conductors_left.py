"""How many more conductors a box takes: they are put in, one after the other, and box fill is asked again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from circuitcheck.checking.asking_all import fault_written_down
from circuitcheck.checking.would_do import answers_about
from circuitcheck.circuit.model import Box, Circuit, Unbroken
from circuitcheck.findings import Finding, Outcome, RoomLeft
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import Rulebook

#: More than this many conductors are in no box of a branch circuit.
MOST = 64


def conductors_left(box: Box, circuit: Circuit, book: Rulebook, sizes: Iterable[str]) -> Iterator[RoomLeft]:
    """Of each size, how many more conductors the box takes for certain: so many pass, one more does not."""
    for size in sizes:
        amount = most_that_passes(lambda more, size=size: _passes(box, circuit, book, size, more), MOST)  # type: ignore[misc]
        yield RoomLeft(str(box.ref), "conductors", amount, None, RULE.name, size)


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


def _passes(box: Box, circuit: Circuit, book: Rulebook, size: str, more: int) -> bool:
    run = Unbroken(size=size, count=more, other_circuit=True)
    fuller = replace(box, unbroken=(*(box.unbroken or ()), run))
    boxes = tuple(fuller if each is box else each for each in circuit.boxes)
    findings: tuple[Finding, ...] = ()
    with fault_written_down(RULE.name, []):
        findings = answers_about(replace(circuit, boxes=boxes), book, (RULE,), frozenset((box.id,)), named=False)
    return bool(findings) and all(finding.outcome is Outcome.PASS for finding in findings)
