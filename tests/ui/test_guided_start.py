"""The questions for a new circuit: keys counted, what the file says, and the page on which they end."""

from pathlib import Path

import pytest

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.open_questions import open_questions
from circuitcheck.ui.screens.first_answer import FirstAnswerScreen
from circuitcheck.ui.screens.guided import GuidedScreen
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.starting.file import REST, STARTING_BOX, starting_text
from circuitcheck.ui.starting.questions import QUESTIONS, questions_for
from circuitcheck.ui.widgets.line_list import LineList

#: Three lights on an ordinary circuit: for each question the words of the answer, or the text that is typed.
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


async def answer(page, facts: dict[str, str]) -> int:
    """Answers from the start page to the first answer; how many keys that took."""
    await page.press("n")
    keys = 1
    while isinstance(page.app.screen, GuidedScreen):
        question = page.app.screen.question
        fact = facts[question.name]
        choices = question.choices(page.app.screen._answers)
        if choices:
            key = next(choice.key for choice in choices if choice.text.startswith(fact))
            await page.press(key)
            keys += 1
            continue
        await page.type(fact)
        await page.press("enter")
        keys += len(fact) + 1
        if question.many:
            await page.press("enter")
            keys += 1
    return keys


async def test_the_first_answer_takes_under_80_keys_and_leaves_at_most_ten_questions(screens, folder: Path) -> None:
    async with screens(None, (80, 24)) as page:
        keys = await answer(page, FACTS)
        assert keys < 80, keys
        screen = page.app.screen
        assert isinstance(screen, FirstAnswerScreen)
        assert "DOES NOT FIT" in page.text
        assert "arc-fault protection" in page.words, "the panel has none, and the lights are for a hallway"
        assert "Do next" in page.text
        report = page.working.bench.checked.report
        opening = [question.how for question in open_questions(report) if "Look into the open box" in question.how]
        assert opening
        for how in opening:
            assert how.endswith("breaker off, locked or tagged, and tested dead first."), "the caution stays with it"
        assert 0 < len(open_questions(report)) <= 10
        await page.press("n")
        assert isinstance(page.app.screen, WorkingScreen)
        assert page.app.screen.bench.part.data


async def test_a_danger_sign_ends_the_questions_at_once(screens, folder: Path) -> None:
    async with screens(None, (80, 24)) as page:
        await page.press("n")
        assert page.app.screen.question.name == "signs"
        assert "I do not know" in next(line for line in page.text.split("\n") if line.lstrip().startswith(">"))
        choices = page.app.screen.question.choices({})
        await page.press(next(choice.key for choice in choices if choice.value == "burning smell"))
        assert isinstance(page.app.screen, FirstAnswerScreen)
        assert "STOP HERE FIRST" in page.text
        assert 'signs = ["burning smell"]' in page.working.bench.document.text


def test_every_question_with_choices_stands_on_not_knowing() -> None:
    for question in QUESTIONS:
        choices = question.choices({})
        if choices:
            assert choices[0].value == "", question.name
            keys = [choice.key for choice in choices if choice.key]
            assert len(set(keys)) == len(keys), question.name


def test_questions_about_what_is_still_bought_open_nothing() -> None:
    from circuitcheck.ui.guide_text import guide_for, question_help
    from circuitcheck.ui.spans import line_text

    for question in QUESTIONS:
        if question.planned:
            guide = guide_for(question.section, question.key)
            assert guide is not None
            told = " ".join(line_text(line) for line in question_help(guide, 76, planned=True))
            assert "Caution" not in told
            assert "dead" not in told


def circuit_of(**answers: object):
    return read_circuit(starting_text(answers), "new", vocabulary())


LOADS = [{"id": "lights", "kind": "light", "quantity": 3, "power": "9 W"}, {"id": "fan", "kind": "fan"}]


def test_loads_of_unknown_place_are_not_in_the_starting_box() -> None:
    circuit = circuit_of(**{"goes dark": LOADS})
    assert {load.box for load in circuit.loads if load.origin == "existing"} == {REST}


def test_one_of_the_lights_is_on_the_starting_box_where_that_was_said() -> None:
    circuit = circuit_of(**{"goes dark": LOADS, "on the box": "light 0"})
    placed = {load.id: (load.box, load.quantity) for load in circuit.loads if load.origin == "existing"}
    assert placed == {"lights at the starting box": (STARTING_BOX, 1), "lights": (REST, 2), "fan": (REST, None)}


@pytest.mark.parametrize(
    ("answers", "left_out"),
    [
        ({}, True),
        ({"cables in the box": "2"}, True),
        ({"on the box": "blank"}, True),
        ({"cables in the box": "2", "on the box": "blank"}, False),
    ],
)
def test_what_is_in_the_starting_box_is_counted_only_once_it_is_known(answers: dict, left_out: bool) -> None:
    """A box of which nobody knows what comes in must never be found big enough."""
    size = {"trade size": "4 x 2-1/8 square", "new cable": "14/2 NM-B with ground"}
    circuit = circuit_of(**size, **answers, **{"goes dark": LOADS})
    box = next(box for box in circuit.boxes if box.id == STARTING_BOX)
    assert (box.trade_size is None) is left_out


def test_the_last_box_of_the_circuit_has_one_cable_and_the_loads_before_it() -> None:
    circuit = circuit_of(**{"goes dark": LOADS, "cables in the box": "1", "feed length": "40 ft"})
    existing = {cable.id: (cable.from_id, cable.to_id) for cable in circuit.cables if cable.origin == "existing"}
    assert existing == {"feed": ("panel", REST), "last piece": (REST, STARTING_BOX)}


def test_watts_that_nobody_told_are_not_taken_from_another_light() -> None:
    circuit = circuit_of(**{"lights to add": 3, "watts": "9 W", "alike": ""})
    watts = [load.power_w for load in circuit.loads if load.origin == "added"]
    assert watts[1:] == [None, None]
    assert watts[0] is not None


def test_each_light_may_have_watts_of_its_own() -> None:
    circuit = circuit_of(**{"lights to add": 3, "watts": "9 W", "alike": "each", "watts of each": ["12 W", "7 W"]})
    assert [load.power_w.high for load in circuit.loads if load.origin == "added"] == [9, 12, 7]


def test_a_question_made_void_by_another_answer_is_not_asked() -> None:
    names = {question.name for question in questions_for({"lights to add": 1, "watts": "9 W", "print": ""})}
    assert not names & {"alike", "watts of each", "print typed", "box volume", "new volume"}


async def test_new_boxes_say_whether_they_would_do(screens, folder: Path) -> None:
    async with screens(None, (100, 40)) as page:
        await page.press("n")
        while page.app.screen.question.name != "new box":
            fact = FACTS[page.app.screen.question.name]
            choices = page.app.screen.question.choices(page.app.screen._answers)
            if choices:
                await page.press(next(choice.key for choice in choices if choice.text.startswith(fact)))
            else:
                await page.type(fact)
                await page.press("enter", *(["enter"] if page.app.screen.question.many else []))
        assert "4 x 1-1/2 octagon, metal: 15.5 in³, would do" in page.text
        assert "4 x 1-1/4 octagon, metal: 12.5 in³, may be too small" in page.text


async def test_a_typed_digit_stands_on_the_choice_and_a_field_given_before_is_selected(screens, folder: Path) -> None:
    async with screens(None, (80, 24)) as page:
        await page.press("n", "a")
        await page.type("20")
        assert page.app.screen.query_one("#options", LineList).item == "20 A"
        await page.press("enter", "u", "u")
        await page.type("fan 60 W")
        await page.press("enter", "enter", "u", "u")
        assert page.app.screen.question.name == "feed length"
        await page.type("40")
        await page.press("enter")
        assert "Taken: 40 ft." in page.text
        await page.press("escape")
        await page.type("55")
        assert page.app.screen.query_one("#answer").value == "55"
