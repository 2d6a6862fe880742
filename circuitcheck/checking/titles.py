"""What checks are called for people."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.rules import ALL_RULES

_TITLES: Mapping[str, str] = {rule.name: rule.title for rule in ALL_RULES}


def check_title(name: str) -> str:
    """The plain line that a check is headed with; empty for a check without one."""
    return _TITLES.get(name, "")
