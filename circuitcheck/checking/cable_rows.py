"""A row for each branch cable with every factor of its ampacity, at worst and at best, for the pages that print it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import Asker
from circuitcheck.circuit.model import Circuit
from circuitcheck.domain.cable_currents import carried_by
from circuitcheck.domain.conditions_of_use import ampacity_of
from circuitcheck.domain.conductor_ampacity import Corrected
from circuitcheck.rules.capacity.ampacity import RULE
from circuitcheck.tables.rulebook import Rulebook


class CableRow(NamedTuple):
    """One cable: what it may carry and the load downstream [A], each (worst, best); None where no table has the size.

    known: whether every load downstream is known.
    """

    worst: Corrected | None
    best: Corrected | None
    load: tuple[float, float]
    known: bool


def cable_rows(circuit: Circuit, book: Rulebook) -> Mapping[str, CableRow]:
    """Cable id -> its row, for each branch cable."""
    case = case_of(circuit, book)
    asker = Asker(RULE, case)
    ends = []
    for worst in (True, False):
        here: dict[str, tuple[Corrected | None, float, bool]] = {}
        with asker.in_case(worst=worst):
            for cable in case.tree.branch_cables:
                may = ampacity_of(case, cable)
                with case.reading.apart():
                    load = carried_by(case, cable).load
                    known = not case.reading.asked_of(case.reading.read)
                here[cable.id] = (may, load, known)
        ends.append(here)
    at_worst, at_best = ends
    return {
        name: CableRow(may, at_best[name][0], (load, at_best[name][1]), known)
        for name, (may, load, known) in at_worst.items()
    }
