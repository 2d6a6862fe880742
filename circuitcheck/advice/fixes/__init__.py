"""Fixes: changes to the plan that were carried out in memory, re-checked by the same rules, and clear what they say."""

from circuitcheck.advice.fixes.found import Fix, Fixes
from circuitcheck.advice.fixes.search import carried_out, first_fix, fixes_for, fixes_of

__all__ = ["Fix", "Fixes", "carried_out", "first_fix", "fixes_for", "fixes_of"]
