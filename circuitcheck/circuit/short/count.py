"""How many keys somebody had to write."""

from __future__ import annotations

import tomllib
from typing import Any


def keys_in(text: str) -> int:
    """The entries of the file: every ``key = value`` line of a table, small tables in braces counted as one entry.

    Raises: tomllib.TOMLDecodeError.
    """
    return sum(_entries(value) for value in tomllib.loads(text).values())


def _entries(value: Any) -> int:
    if isinstance(value, list):
        return sum(len(part) for part in value if isinstance(part, dict))
    if isinstance(value, dict):  # [defaults.cable] is a table in a table
        return sum(len(inner) if isinstance(inner, dict) else 1 for inner in value.values())
    return 1
