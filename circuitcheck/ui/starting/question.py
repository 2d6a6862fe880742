"""One question for a new circuit, and how its answer is read."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.short.cable_print import read_cable_print
from circuitcheck.quantities import QuantityError
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.entry import Typed, read_typed
from circuitcheck.ui.starting.choice import UNKNOWN, Choice

Answers = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    ``section`` and ``key`` name the entry whose guide explains it and whose rules judge the answer; ``planned``: it is
    about a part still to be bought, which the guide's way to look for needs no box to be opened for.
    ``offers`` gives the choices by the answers so far; without it the answer is typed, in ``unit`` where no unit is.
    ``many``: lines until an empty one. ``applies`` tells by the answers so far whether it is asked at all.
    """

    name: str
    ask: str
    section: str
    key: str
    about: str = ""
    offers: Callable[[Answers], tuple[Choice, ...]] | None = None
    unit: str = ""
    many: bool = False
    required: bool = False
    planned: bool = False
    applies: Callable[[Answers], bool] = lambda answers: True
    reads: Callable[[str], Typed] | None = None

    def choices(self, answers: Answers) -> tuple[Choice, ...]:
        """What can be picked; nothing where the answer is typed."""
        return self.offers(answers) if self.offers else ()

    def read(self, text: str, answers: Answers) -> Typed:
        """The answer that a text stands for: a choice, by key or words, or a value. An empty one is unknown."""
        plain = text.strip()
        if not plain:
            return Typed(problem="This one is needed.") if self.required else Typed(UNKNOWN)
        if self.offers:
            return picked(plain, self.choices(answers))
        if self.reads:
            return self.reads(plain)
        if self.unit and re.fullmatch(r"\d+(?:\.\d+)?", plain):
            plain = f"{plain} {self.unit}"
        return read_typed(SECTIONS[self.section].keys[self.key], plain, vocabulary())


def picked(text: str, choices: Sequence[Choice]) -> Typed:
    """The choice whose key, value, text, first words or words were typed, upper or lower case alike."""
    folded = text.casefold()
    tests: tuple[Callable[[Choice], bool], ...] = (
        lambda choice: choice.key == folded,
        lambda choice: choice.value.casefold() == folded,
        lambda choice: choice.text.casefold() == folded,
        lambda choice: choice.text.casefold().startswith(folded),
        lambda choice: choice.value != UNKNOWN and folded in choice.text.casefold(),
    )
    for wanted in tests:
        near = [choice for choice in choices if wanted(choice)]
        if len(near) == 1:
            return Typed(near[0].value)
        if near:
            break
    listed = "; ".join(choice.text for choice in choices)
    return Typed(problem=f"Take one of these: {listed}.")


def whole_number(most: int) -> Callable[[str], Typed]:
    """Reads a whole number from 1 to ``most``."""

    def read(text: str) -> Typed:
        if text.isascii() and text.isdigit() and 1 <= int(text) <= most:
            return Typed(int(text))
        return Typed(problem=f"Enter a whole number from 1 to {most}.")

    return read


def cable_print(text: str) -> Typed:
    """What is printed on a sheath, as it was typed."""
    try:
        read_cable_print(text, vocabulary()["cable.type"])
    except QuantityError as wrong:
        return Typed(problem=f"{wrong.says[:1].upper()}{wrong.says[1:]}. Write {wrong.allowed}.")
    return Typed(text)


def several_watts(text: str) -> Typed:
    """Watts with commas between them, as a list."""
    key = SECTIONS["load"].keys["power"]
    values = []
    for piece in (piece.strip() for piece in re.split(r"[;\n]|,(?!\d)|(?<!\d),", text)):
        typed = read_typed(key, f"{piece} W" if piece.replace(".", "", 1).isdigit() else piece, vocabulary())
        if typed.problem:
            return Typed(problem=f"{piece}: {typed.problem}", suggestion=typed.suggestion)
        values.append(typed.value)
    return Typed(values)
