"""A case: one circuit in which every entry is known, what a rule of cases is, and what it answers."""

from __future__ import annotations

from circuitcheck.case.answer import Amount, Answer, Later, Rounding, Rows, Said, Things, said
from circuitcheck.case.case import Case
from circuitcheck.case.expected import expected
from circuitcheck.case.memory import in_order, once
from circuitcheck.case.rule import (
    BY_VALUE,
    EACH,
    LESS,
    MORE,
    AnyRule,
    CaseRule,
    Direction,
    EvidenceRule,
    Family,
    SizeRule,
    order,
    words_apart,
)
from circuitcheck.case.values import values_of

__all__ = [
    "BY_VALUE",
    "EACH",
    "LESS",
    "MORE",
    "Amount",
    "Answer",
    "AnyRule",
    "Case",
    "CaseRule",
    "Direction",
    "EvidenceRule",
    "Family",
    "Later",
    "Rounding",
    "Rows",
    "Said",
    "SizeRule",
    "Things",
    "expected",
    "in_order",
    "once",
    "order",
    "said",
    "values_of",
    "words_apart",
]
