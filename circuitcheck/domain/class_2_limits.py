"""What a class 2 source may be rated for at its voltage."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from circuitcheck.case import Case, values_of
from circuitcheck.case.parts import Part
from circuitcheck.findings import Source
from circuitcheck.tables.rulebook import Rulebook

KINDS = ("ac", "dc")
#: By what share of itself a number lies just above another, and surely so for whoever compares them.
_JUST_ABOVE = 1e-6


class Allowance(NamedTuple):
    """What a class 2 source may be rated for at one voltage: [VA], [A]; both zero where there is no such source."""

    power_va: float
    current_a: float
    sources: tuple[Source, ...]


def class_2_allowance(book: Rulebook, kind: str, output_v: float) -> Allowance:
    """The rating that a class 2 source of this kind (``ac``, ``dc``) may have at ``output_v`` [V].

    Source: NFPA 70, Chapter 9, Tables 11(A) and 11(B).
    """
    table = book.table(f"class-2-{kind}")
    row = table.band(output_v)
    if row is None:
        return Allowance(0.0, 0.0, (table.rows[-1].source,))
    current = row.number("current")
    if current is not None:
        return Allowance(current * output_v, current, (row.source,))
    watts = row.printed_number("power")
    return Allowance(watts, watts / output_v, (row.source,))


def voltage_steps(first: float, last: float, part: Part, case: Case) -> Iterable[float]:
    """The voltages between two at which a table or the end of low-voltage lighting makes an answer turn [V]."""
    steps = {case.book.value(f"low-voltage-lighting-{kind}").number for kind in KINDS}
    for kind in KINDS:
        steps.update(step for row in case.book.table(f"class-2-{kind}").rows if (step := row.number("up_to")))
    return sorted(step for step in steps if first < step < last)


def ends_of_class_2(first: float, last: float, part: Part, case: Case) -> Iterable[float]:
    """Where class 2 ends, of those voltages that lie between two, and just above, where nothing limits [V].

    Below the end more volts always bring fewer amperes, and above it too.
    """
    ends = {case.book.table(f"class-2-{kind}").rows[-1].printed_number("up_to") for kind in _kinds_of(part)}
    sides = (side for end in ends for side in (end, end * (1.0 + _JUST_ABOVE)))
    return sorted(side for side in sides if first < side < last)


def _kinds_of(part: Part) -> Iterable[str]:
    """What the output of a driver may be, without asking for it."""
    return values_of(part, "output_kind")
