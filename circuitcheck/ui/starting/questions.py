"""The questions for a new circuit, in the order in which one finds things out."""

from __future__ import annotations

from dataclasses import dataclass

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.tables.rulebook import edition_details, vocabulary
from circuitcheck.ui.entry import Typed, read_typed
from circuitcheck.ui.starting.loads import read_load

UNKNOWN = ""


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    ``section`` and ``key`` name the entry whose guide explains it and whose rules judge the answer.
    ``choices`` are (value, text) pairs; without them the answer is typed. ``many``: lines until an empty one.
    ``first`` is what stands there to begin with. ``required``: it cannot be left unknown.
    """

    name: str
    ask: str
    section: str
    key: str
    about: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    first: str = ""
    many: bool = False
    required: bool = False

    def read(self, text: str) -> Typed:
        """The answer that a text stands for; an empty one is unknown."""
        plain = text.strip()
        if not plain:
            return (
                Typed(problem="This one is needed: without it nothing can be checked.")
                if self.required
                else Typed(UNKNOWN)
            )
        if self.many:
            return read_load(plain)
        if self.choices and plain in dict(self.choices):
            return Typed(plain)
        if self.name in _COUNTS:
            return _count(plain, _COUNTS[self.name])
        return read_typed(SECTIONS[self.section].keys[self.key], plain, vocabulary())


#: Questions about a number of pieces, and the most that is taken for meant.
_COUNTS = {"cables in the box": 12, "lights to add": 40}

_DO_NOT_KNOW = (UNKNOWN, "I do not know")


def _count(text: str, most: int) -> Typed:
    if text.isascii() and text.isdigit() and 1 <= int(text) <= most:
        return Typed(int(text))
    return Typed(problem=f"Write a whole number from 1 to {most}.")


def questions() -> tuple[Question, ...]:
    """All of them. The words come from the tables, the explanations from the key guide."""
    words = vocabulary()
    return (
        Question(
            "breaker",
            "What number is on the handle of the breaker or fuse that feeds these lights?",
            "supply",
            "breaker",
            choices=(
                ("15 A", "15"),
                ("20 A", "20"),
                ("10 A", "10"),
                ("25 A", "25"),
                ("30 A", "30"),
                ("15 A to 20 A", "I cannot read it; it is 15 or 20"),
            ),
            required=True,
        ),
        Question(
            "goes dark",
            "Switch it off. What goes dark or stops with it? One thing a line; an empty line ends the list.",
            "load",
            "power",
            about="Name and watts from the label or the largest lamp it may take: hall light 60 W, 2 wall lights 40 W, "
            "outlet, bath fan 0.6 A. Without watts it counts as unknown.",
            many=True,
        ),
        Question(
            "size",
            "Which wire size does the cable to those lights have?",
            "cable",
            "size",
            choices=(("14 AWG", "14 AWG (printed 14-2, 14/2 or 14-3)"), ("12 AWG", "12 AWG (12-2, 12/2 or 12-3)"),
                     ("10 AWG", "10 AWG"), _DO_NOT_KNOW),
        ),
        Question(
            "metal",
            "Which metal are its wires?",
            "cable",
            "material",
            choices=(
                ("copper", "copper: reddish all through"),
                ("aluminum", "aluminum: silvery all through"),
                ("copper-clad aluminum", "copper-clad aluminum: reddish outside, silvery where it is cut"),
                _DO_NOT_KNOW,
            ),
        ),
        Question(
            "type",
            "Which letters are printed on that cable?",
            "cable",
            "type",
            choices=(*((word, word) for word in words["cable.type"]), _DO_NOT_KNOW),
            first="NM-B",
        ),
        Question(
            "ground",
            "Is there a bare or green ground wire in it?",
            "cable",
            "ground",
            choices=(("yes", "yes"), ("no", "no"), _DO_NOT_KNOW),
        ),
        Question(
            "feed length",
            "About how long is the cable from the panel to the box you want to use?",
            "cable",
            "length",
            about="A range will do: 35 to 60 ft. Or: about 50 ft. Leave it empty if you cannot say.",
        ),
        Question(
            "trade size",
            "Which box is it that the new cable would start from?",
            "box",
            "trade_size",
            choices=(_DO_NOT_KNOW, *((word, word) for word in words["box.trade_size"])),
        ),
        Question(
            "cables in the box",
            "How many cables come into that box now?",
            "box",
            "unbroken",
            about="Count them from outside, the breaker off: the one that feeds it and those that run on. 1 if it is "
            "the last box. Leave it empty if you cannot say.",
        ),
        Question("lights to add", "How many lights do you want to add?", "load", "quantity", first="1", required=True,
                 about="Each gets a box of its own, one after the other along the run; that can be changed."),
        Question("watts", "How many watts does each new light take, by its label?", "load", "power",
                 about="The largest lamp it may take, or the label of a built-in LED: 9 W. Empty if not chosen yet."),
        Question(
            "new cable",
            "Which cable do you mean to use for them?",
            "cable",
            "size",
            choices=(
                ("14 AWG", "NM-B 14-2 copper with ground"),
                ("12 AWG", "NM-B 12-2 copper with ground"),
                (UNKNOWN, "Not decided yet"),
            ),
        ),
        Question("new length", "About how long is each new cable?", "cable", "length",
                 about="From box to box, up and down the walls included: about 15 ft."),
        Question(
            "room",
            "Which room are the new lights in?",
            "site",
            "room",
            choices=(*((word, word) for word in SECTIONS["site"].keys["room"].words), _DO_NOT_KNOW),
        ),
        Question(
            "rulebook",
            "Which edition of the code is in force where you are?",
            "job",
            "rulebook",
            about="The permit office says which. Take the newest if you do not know; it can be changed at any time.",
            choices=tuple((edition.name, edition.title) for edition in reversed(edition_details())),
            required=True,
        ),
    )  # fmt: skip
