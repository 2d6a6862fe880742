"""The rules: one file a rule, in families, found by their files. ``ALL_RULES``: in the order of a report."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pkgutil import iter_modules
from typing import TypeAlias

from circuitcheck.case import CaseRule, SizeRule
from circuitcheck.rules import capacity, evidence, low_voltage, site
from circuitcheck.rules.rule import Rule

#: A rule of one of the kinds: of cases, of the sizes that would do, or of evidence.
AnyRule: TypeAlias = "Rule | CaseRule | SizeRule"  # type: ignore[type-arg] # the subjects differ from rule to rule

#: Where rules stand that carry no rank of their own yet, ten apart.
_RANKS = (
    "load-share",
    "fixed-equipment-share",
    "cord-load-share",
    "measured-current",
    "breaker-vs-wire",
    "ampacity",
    "voltage-drop",
    "box-fill",
    "wire-size",
    "driver-capacity",
    "driver-input",
    "class-2",
    "low-voltage-drop",
    "low-voltage-cable",
    "low-voltage-method",
    "class-2-separation",
    "driver-parallel",
    "driver-access",
    "driver-supply-wire",
    "driver-dimming",
    "stop-first",
    "old-wiring",
    "extend-circuit",
    "who-may",
    "arc-fault",
    "ground-fault",
    "shared-neutral",
    "fuse-size",
    "loaded-voltage",
    "equipment-ground",
    "box-bonding",
    "switch-box-source",
    "",
    "loop-and-neutral",
    "switch-loop",
    "neutral-at-switch",
    "supply-temperature",
    "cord-connected",
    "dimmer-rating",
    "through-wiring",
    "listed-luminaire",
    "location",
    "clearance",
    "box-support",
    "box-depth",
    "box-access",
    "cable-place",
    "cable-in-insulation",
    "cable-edge",
    "cable-support",
    "free-conductor",
    "attic-protection",
    "framing-cut",
)

#: Rules without a rank of their own that stand between two of those.
_BETWEEN = {"loads-complete": 212, "contradicting-entries": 215}


def _rules() -> Iterator[AnyRule]:
    """The rule of every module of the family folders that has one."""
    for family in (capacity, evidence, low_voltage, site):
        for module in iter_modules(family.__path__):
            rule = getattr(import_module(f"{family.__name__}.{module.name}"), "RULE", None)
            if rule is not None:
                yield rule


def _rank(rule: AnyRule) -> tuple[int, str]:
    if not isinstance(rule, Rule):
        return rule.rank, rule.name
    return _BETWEEN.get(rule.name) or 10 * (_RANKS.index(rule.name) + 1), rule.name


ALL_RULES: tuple[AnyRule, ...] = tuple(sorted(_rules(), key=_rank))
