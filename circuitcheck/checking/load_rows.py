"""A row for each load and driver with what it counts against the breaker, for the pages that print it."""

from __future__ import annotations

from typing import NamedTuple

from circuitcheck.case.making import case_of
from circuitcheck.case.parts import Driver, Load
from circuitcheck.checking.asking import Asker
from circuitcheck.circuit.model import Circuit
from circuitcheck.domain.draws import draw_of, is_continuous, line_current
from circuitcheck.domain.existing_load import existing_load
from circuitcheck.refs import Ref
from circuitcheck.rules.capacity.load_share import RULE
from circuitcheck.tables.rulebook import Rulebook


class LoadRow(NamedTuple):
    """What all pieces of one load or driver draw and count, each (least, most).

    apparent_va: at nominal voltage [VA]. counted_a: against the breaker [A]. continuous: None where it is unknown.
    known: whether the file tells what it draws.
    """

    ref: Ref
    added: bool
    apparent_va: tuple[float, float]
    counted_a: tuple[float, float]
    continuous: bool | None
    known: bool
    written: str


class LoadRows(NamedTuple):
    """Every load and driver, and what was measured at the panel beyond the list [A] (least, most)."""

    rows: tuple[LoadRow, ...]
    unlisted_a: tuple[float, float]


def load_rows(circuit: Circuit, book: Rulebook) -> LoadRows:
    """The rows in file order."""
    case = case_of(circuit, book)
    asker = Asker(RULE, case)
    hung: tuple[Load | Driver, ...] = (*case.loads, *case.drivers)
    ends, surplus = [], []
    for worst in (False, True):
        here = []
        with asker.in_case(worst=worst):
            surplus.append(existing_load(case).surplus)
            for part in hung:
                with case.reading.apart():
                    draw = draw_of(case, part)
                    known = not case.reading.asked_of(case.reading.read)
                counted = line_current(case, draw)
                here.append((draw, abs(draw.power), counted, is_continuous(case, part), known))
        ends.append(here)
    added = [load.is_added for load in circuit.loads]
    added += [driver.is_added for driver in circuit.drivers]
    rows = tuple(
        LoadRow(
            ref=draw.ref,
            added=is_added,
            apparent_va=(min(least, most), max(least, most)),
            counted_a=(min(low, high), max(low, high)),
            continuous=short if short == long else None,
            known=known,
            written=str(draw.written),
        )
        for is_added, (draw, least, low, short, known), (_, most, high, long, _) in zip(added, *ends, strict=True)
    )
    return LoadRows(rows, (min(surplus), max(surplus)))
