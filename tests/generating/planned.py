"""Changes of what is there: parts that are replaced, taken away, moved or altered, as a user plans them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.circuit.change import MOVE, REMOVE
from circuitcheck.circuit.keys.change import CHANGE, CHANGEABLE, PLACE_KEYS, new_keys
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.errors import CircuitFileError
from tests.generating.circuits import USUAL, circuit_of, draw_document
from tests.generating.dice import Dice, Shares
from tests.generating.possible import GROUPS, READINGS
from tests.generating.values import Writer

#: How many changes are tried for one circuit; the reader refuses those that leave something hanging.
_TRIED = 4


def draw_changes(seed: int | str, shares: Shares = USUAL) -> dict[str, Any]:
    """A circuit file with up to ``_TRIED`` changes of its existing parts."""
    dice, document = Dice(f"changes {seed}"), draw_document(seed, shares)
    for part in _there(document, dice):
        change = _change(part, document, dice, shares)
        tried = {**document, CHANGE.name: [*document.get(CHANGE.name, ()), change]}
        try:
            circuit_of(tried)
        except CircuitFileError:
            continue
        document = tried
    return document


def draw_changed(seed: int | str, shares: Shares = USUAL) -> Circuit:
    """The circuit of this seed as the model, with its changes."""
    return circuit_of(draw_changes(seed, shares), f"{seed}.circuit.toml")


def _there(document: dict[str, Any], dice: Dice) -> Iterator[str]:
    names = ["supply"]
    for section in CHANGEABLE:
        if section != "supply":
            names += [
                f"{section}.{part['id']}" for part in document.get(section, ()) if part.get("origin") == "existing"
            ]
    return iter(dice.random.sample(names, min(_TRIED, len(names))))


def _change(part: str, document: dict[str, Any], dice: Dice, shares: Shares) -> dict[str, Any]:
    section = part.partition(".")[0]
    action = dice.of(CHANGE.keys["action"].words)
    change: dict[str, Any] = {"part": part, "action": action}
    if action == REMOVE:
        return change
    writer, new = Writer(dice, shares), dict[str, Any]()
    skipped = {key for group in GROUPS.get(section, ()) for key in group}
    skipped -= {dice.of(group) for group in GROUPS.get(section, ())}
    for name, key in new_keys(section, action).items():
        share = shares.readings if f"{section}.{name}" in READINGS else 1 - shares.left_out
        if name not in skipped and key.form not in (Form.ID, Form.REFERENCE) and dice.often(share):
            new[name] = writer.value(section, key)
    if action == MOVE and section in PLACE_KEYS:
        new[PLACE_KEYS[section][-1]] = dice.of(document["box"])["id"]
    return {**change, "new": new}
