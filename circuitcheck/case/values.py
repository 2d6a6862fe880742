"""What an entry is in all the cases of a circuit, for whoever says which way is worse. An answer knows one case."""

from __future__ import annotations

from typing import Any

from circuitcheck.case.parts import Part
from circuitcheck.case.waiting import entry_of


def values_of(part: Part, attribute: str) -> tuple[Any, ...]:
    """The values that an entry has over all cases: one, both ends of a span, or each thing that it can be.

    For directions and turning points alone: which way is worse may hang on what else can be. No answer may ask for it
    (``tests/rules/test_what_a_rule_sees.py``), nor whether the file settles the entry; asking makes nothing rest on it.
    """
    entry = entry_of(part, attribute)
    return (vars(part)[attribute],) if entry is None else entry.possible.options
