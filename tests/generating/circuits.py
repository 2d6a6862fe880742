"""Whole circuit files drawn from a seed: everything that a user can write, as a document, as text and as the model."""

from __future__ import annotations

from typing import Any

from circuitcheck.circuit.keys import FORMAT
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import circuit_in
from circuitcheck.tables.rulebook import vocabulary
from tests.generating.dice import Dice, Shares
from tests.generating.narrowing import MOST_ALONGSIDE
from tests.generating.parts import Filling
from tests.generating.possible import OF_STRIPS
from tests.generating.wiring import Wiring

USUAL = Shares()


def draw_document(seed: int | str, shares: Shares = USUAL) -> dict[str, Any]:
    """A circuit file as TOML would hold it: tables, lists, texts, numbers. The same seed gives the same file."""
    dice = Dice(seed)
    wiring = Wiring(dice, shares)
    wiring.draw()
    filling = Filling(dice, shares)
    filling.ids = {section: [part["id"] for part in parts] for section, parts in wiring.parts.items()}
    document: dict[str, Any] = {"format": FORMAT}
    document["job"] = filling.part("job", {})
    document["supply"] = filling.part("supply", wiring.supply)
    if not dice.often(0.1 * shares.left_out):
        document["site"] = filling.part("site", {})
    for section, parts in wiring.parts.items():
        if parts or dice.often(0.02):
            document[section] = [_filled(filling, section, part) for part in parts]
    return document


def _filled(filling: Filling, section: str, wired: dict[str, Any]) -> dict[str, Any]:
    if section != "low_voltage_load":
        part = filling.part(section, wired)
        if section == "cable" and isinstance(part.get("bundled_with"), int):
            part["bundled_with"] = min(part["bundled_with"], MOST_ALONGSIDE)
        if section == "cable" and isinstance(part.get("current_carrying"), int):
            # this cable and each other alongside have two at least, or the file is refused
            least = 2 + 2 * int(part.get("bundled_with", 0))
            part["current_carrying"] = max(part["current_carrying"], min(least, 200))
        return part
    wired = dict(wired)
    form = wired.pop("_form")
    if filling.dice.often(filling.shares.left_out):
        without = ("power", "power_per_length")
    elif form == "power":
        without = ("power_per_length", *OF_STRIPS)
    else:
        without = ("power",)
    return filling.part(section, wired, without=without)


def circuit_of(document: dict[str, Any], name: str = "generated.circuit.toml") -> Circuit:
    """The model of a document, made by the reader itself. Raises: CircuitFileError."""
    return circuit_in(document, "", name, vocabulary())


def draw_circuit(seed: int | str, shares: Shares = USUAL) -> Circuit:
    """The circuit of this seed as the model."""
    return circuit_of(draw_document(seed, shares), f"{seed}.circuit.toml")
