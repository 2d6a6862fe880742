"""Boxes to choose from, each with its volume, and for a new one whether it would do."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from circuitcheck.advice import asking_again
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import CircuitFileError
from circuitcheck.findings import Outcome
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import load_rulebook, newest_edition, vocabulary
from circuitcheck.text import shown_number
from circuitcheck.ui.starting.choice import Choice, choices_of
from circuitcheck.ui.starting.file import starting_text

BOX_BY_VOLUME = "by volume"
#: The check that counts what is in a box.
BOX_FILL = "box-fill"

#: The sizes that come first: those that hang under lights and stand in walls most.
COMMON = (
    "4 x 1-1/2 octagon",
    "4 x 2-1/8 octagon",
    "4 x 1-1/4 octagon",
    "4 x 1-1/2 square",
    "4 x 2-1/8 square",
    "3 x 2 x 2-1/2 device",
    "3 x 2 x 2-3/4 device",
    "3 x 2 x 3-1/2 device",
)


def starting_box_choices(answers: Mapping[str, Any]) -> tuple[Choice, ...]:
    """Metal boxes by trade size with their volume, the common ones first, and a box known by its mark."""
    pairs = [(size, f"{size}, metal: {_volume_text(size)}") for size in _sizes()]
    return choices_of([(BOX_BY_VOLUME, "a volume is marked in it: let me type it"), *pairs])


def new_box_choices(answers: Mapping[str, Any]) -> tuple[Choice, ...]:
    """The common sizes, each with its volume and whether it would do for the lights as told so far."""
    pairs = [(BOX_BY_VOLUME, "plastic, or any with a marked volume: let me type it")]
    pairs += [(size, f"{size}, metal: {_volume_text(size)}, {would_do(answers, size)}") for size in COMMON]
    return choices_of(pairs, Choice("", "Not decided yet"))


def would_do(answers: Mapping[str, Any], size: str) -> str:
    """Whether this trade size has room at each new light, as the answers stand: in two or three words."""
    text = starting_text({**answers, "new box": size})
    try:
        circuit = read_circuit(text, "new", vocabulary())
    except CircuitFileError:
        return "cannot tell yet"
    new = [(BOX_FILL, box.id) for box in circuit.boxes if box.origin == "added"]
    found = asking_again.answers(circuit, load_rulebook(circuit.job.rulebook), new)
    outcomes = {finding.outcome for finding in found}
    if Outcome.FAIL in outcomes:
        return "too small"
    return "would do" if outcomes == {Outcome.PASS} else "may be too small"


def _sizes() -> tuple[str, ...]:
    return (*COMMON, *(size for size in vocabulary()["box.trade_size"] if size not in COMMON))


def _volume_text(size: str) -> str:
    row = load_rulebook(newest_edition()).table("box-volumes").find(size)
    volume = row.number("volume") if row is not None else None
    return "volume not known" if volume is None else f"{shown_number(in_unit(volume, 'in^3'))} in³"
