"""Values of the model as a circuit file writes them."""

from __future__ import annotations

from typing import Any

from circuitcheck.circuit.keys.key import Key
from circuitcheck.quantities import Interval


def entry_as_written(part: Any, key: Key) -> Any:
    """The value of a key as the file writes it."""
    return value_as_written(getattr(part, key.attribute), key)


def value_as_written(value: Any, key: Key) -> Any:
    """A value of the model as the file writes it under a key."""
    if isinstance(value, Interval):
        return value.text
    if isinstance(value, tuple):
        return [_element(element, key) for element in value]
    return value


def _element(element: Any, key: Key) -> Any:
    if isinstance(element, Interval):
        return element.text
    if not key.parts:
        return element
    inner = {part.name: entry_as_written(element, part) for part in key.parts.values()}
    return {name: value for name, value in inner.items() if value is not None}
