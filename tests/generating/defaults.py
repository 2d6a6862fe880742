"""What a part of the model holds where the file does not say."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from typing import Any


@cache
def defaults_of(part_class: type) -> dict[str, Any]:
    """Attribute -> default. A required attribute has dataclasses' own sign of none."""
    return {field.name: field.default for field in fields(part_class)}


def default_of(part_class: type, attribute: str) -> Any:
    """What the attribute is where the file does not say."""
    return defaults_of(part_class)[attribute]
