"""A whole job as a person plays it: three lights on an ordinary circuit, from the first question to the note."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.ui.starting.questions import questions_for

#: For each question the words of the answer, or the text that is typed.
FACTS = {
    "signs": "I looked, and saw none of these",
    "breaker": "15",
    "protection": "no TEST button",
    "serves": "lights, and the ordinary outlets of rooms",
    "goes dark": "3 x 9 W, fan 60 W, 5 outlets",
    "print": "14/2 NM-B with ground",
    "metal": "copper: reddish all through",
    "feed length": "40",
    "feed place": "inside walls and floors of the house only",
    "on the box": "a light: lights",
    "cables in the box": "2",
    "trade size": "4 x 1-1/2 octagon, metal: 15.5 in³",
    "lights to add": "3",
    "watts": "9",
    "alike": "yes, all of them alike",
    "mounting": "on a wall",
    "converted": "yes, made to be wired in",
    "new cable": "14/2 NM-B with ground, copper",
    "new length": "15",
    "new place": "inside walls and floors of the house only",
    "new box": "4 x 1-1/2 octagon",
    "room": "hallway",
    "building": "a house for one family",
    "rulebook": "National Electrical Code, 2023",
}


def answers() -> Iterator[tuple[str, str]]:
    """What is asked, and the keys that answer it, in the order of the questions."""
    given: dict[str, Any] = {}
    while True:
        question = next((question for question in questions_for(given) if question.name not in given), None)
        if question is None:
            return
        fact = FACTS[question.name]
        choices = question.choices(given)
        if choices:
            choice = next(choice for choice in choices if choice.text.startswith(fact))
            given[question.name] = choice.value
            yield question.ask, choice.key
            continue
        value = question.read(fact, given).value
        given[question.name] = value
        yield question.ask, f"{fact}\r" + ("\r" if question.many else "")
