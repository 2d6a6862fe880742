"""The rules: one file a rule, in families, found by their files. ``ALL_RULES``: in the order of a report."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pkgutil import iter_modules

from circuitcheck.case import AnyRule
from circuitcheck.rules import capacity, evidence, low_voltage, site


def _rules() -> Iterator[AnyRule]:
    """The rule of every module of the family folders."""
    for family in (capacity, evidence, low_voltage, site):
        for module in iter_modules(family.__path__):
            yield import_module(f"{family.__name__}.{module.name}").RULE


ALL_RULES: tuple[AnyRule, ...] = tuple(sorted(_rules(), key=lambda rule: (rule.rank, rule.name)))
