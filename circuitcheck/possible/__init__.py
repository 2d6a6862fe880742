"""What each entry of a circuit file can be while the file does not settle it: one table for all rules."""

from __future__ import annotations

from circuitcheck.possible.entry import Later, Possible
from circuitcheck.possible.reading import possible_of
from circuitcheck.possible.table import Declared, declared

__all__ = ["Declared", "Later", "Possible", "declared", "possible_of"]
