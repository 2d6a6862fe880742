"""The questions for a new circuit, in the order in which one finds things out, and which of them apply."""

from __future__ import annotations

from collections.abc import Callable

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.tables.rulebook import edition_details
from circuitcheck.ui.starting.box_choices import BOX_BY_VOLUME, new_box_choices, starting_box_choices
from circuitcheck.ui.starting.choice import DO_NOT_KNOW, UNKNOWN, Choice, choices_of
from circuitcheck.ui.starting.loads import read_loads
from circuitcheck.ui.starting.question import Answers, Question, cable_print, several_watts, whole_number


def questions_for(answers: Answers) -> tuple[Question, ...]:
    """The questions that apply, given the answers so far. A sign that stops the work ends them."""
    if answers.get("signs", UNKNOWN) not in (UNKNOWN, NONE_SEEN):
        return QUESTIONS[:1]
    return tuple(question for question in QUESTIONS if question.applies(answers))


#: The answer to the first question of who has looked for signs and seen none.
NONE_SEEN = "none"
#: The answer of who types what is printed on the sheath, and of who types each light's watts.
TYPED, EACH = "typed", "each"

_LOOK = (
    "Look and smell before anything is touched: plates that feel warm, scorch marks, a burning smell, lights that "
    "flicker, brittle or cloth-covered wires, loose pebble-like insulation in the attic."
)


def _offer(*pairs: tuple[str, str], unknown: Choice | None = DO_NOT_KNOW) -> Callable[[Answers], tuple[Choice, ...]]:
    made = choices_of(pairs, unknown)
    return lambda answers: made


def _signs(answers: Answers) -> tuple[Choice, ...]:
    words = [(word, word) for word in SECTIONS["site"].keys["signs"].words]
    return choices_of(
        [(NONE_SEEN, "I looked, and saw none of these"), *words], Choice(UNKNOWN, "I do not know, or have not looked")
    )


_COMMON_ROOMS = ("hallway", "bedroom", "living room", "bathroom", "kitchen", "dining room", "stairway", "closet")


def _rooms(answers: Answers) -> tuple[Choice, ...]:
    words = SECTIONS["site"].keys["room"].words
    rooms = (*_COMMON_ROOMS, *(word for word in words if word not in _COMMON_ROOMS))
    return choices_of([(word, word) for word in rooms])


def _editions(answers: Answers) -> tuple[Choice, ...]:
    listed = edition_details()
    usual = [(edition.name, edition.title) for edition in reversed(listed) if edition.book == listed[0].book]
    newest = [*usual, *((edition.name, edition.title) for edition in listed if edition.book != listed[0].book)]
    return choices_of(newest, Choice(UNKNOWN, f"I do not know: take the {newest[0][1]}, until the permit office says"))


def _on_the_box(answers: Answers) -> tuple[Choice, ...]:
    lights = [load for load in answers.get("goes dark") or () if load["kind"] == "light"]
    named = [(f"light {place}", f"a light: {load['id']}") for place, load in enumerate(lights)]
    return choices_of(
        [
            *(named or [("light", "a light")]),
            ("lampholder", "a bare lampholder, its screws inside the box"),
            ("switch", "a switch"),
            ("receptacle", "an outlet"),
            ("blank", "a blank cover, nothing else"),
        ]
    )


def _several(answers: Answers) -> bool:
    return int(answers.get("lights to add") or 1) > 1


_PLACES = _offer(
    ("inside", "inside walls and floors of the house only"),
    ("attic", "at least in part through an attic"),
    ("crawl space", "at least in part through a crawl space"),
    ("outdoors", "at least in part outdoors"),
    ("underground", "at least in part underground"),
)

QUESTIONS: tuple[Question, ...] = (
    Question("signs", "Do you see, feel or smell any of these?", "site", "signs", about=_LOOK, offers=_signs),
    Question(
        "breaker",
        "What number is on the handle of the breaker or fuse that feeds the lights there now?",
        "supply",
        "breaker",
        offers=_offer(
            ("15 A", "15"), ("20 A", "20"), ("15 A to 20 A", "one of 15 and 20"),
            ("10 A", "10"), ("25 A", "25"), ("30 A", "30"),
            unknown=Choice(UNKNOWN, "I do not know: anything from 10 to 30 is assumed until you do"),
        ),
    ),
    Question(
        "protection",
        "Does that breaker have a TEST button, and what do the words beside it say?",
        "supply",
        "protection",
        offers=_offer(
            ("none", "no TEST button"),
            ("arc-fault", "arc-fault, AFCI or combination"),
            ("ground-fault", "ground-fault or GFCI"),
            ("both", "dual function: both of them"),
        ),
    ),
    Question(
        "serves",
        "What is the circuit for?",
        "supply",
        "serves",
        offers=_offer(
            ("general lighting", "lights, and the ordinary outlets of rooms"),
            ("small appliance", "outlets of the kitchen, pantry or dining room"),
            ("bathroom", "outlets of more than one bathroom"),
            ("one bathroom", "everything in one bathroom, and nothing else"),
            ("laundry", "the laundry"),
            ("garage", "the garage"),
            ("individual", "one appliance alone"),
        ),
    ),
    Question(
        "goes dark",
        "Switch it off. What goes dark or stops with it?",
        "load",
        "power",
        about="In one line: 3 x 9 W, fan 60 W, 5 outlets. Or a line for each; an empty line ends the list. Watts as "
        "the label has them, or of the largest lamp that it may take; without watts they are unknown.",
        many=True,
        reads=read_loads,
    ),
    Question(
        "print",
        "What is printed on the sheath of the cable to those lights?",
        "cable",
        "size",
        offers=_offer(
            ("14/2 NM-B with ground", "14/2 NM-B with ground"),
            ("12/2 NM-B with ground", "12/2 NM-B with ground"),
            ("14/3 NM-B with ground", "14/3 NM-B with ground"),
            ("12/3 NM-B with ground", "12/3 NM-B with ground"),
            (TYPED, "something else: let me type it"),
            unknown=Choice(UNKNOWN, "I do not know, or cannot read it"),
        ),
    ),
    Question(
        "print typed",
        "Type what is printed: size and conductors at least",
        "cable",
        "type",
        about="14/2 NM with ground. 12-2 AC. 14/3 NM-B.",
        applies=lambda answers: answers.get("print") == TYPED,
        reads=cable_print,
    ),
    Question(
        "metal",
        "Which metal are its wires?",
        "cable",
        "material",
        offers=_offer(
            ("copper", "copper: reddish all through"),
            ("aluminum", "aluminum: silvery all through"),
            ("copper-clad aluminum", "copper-clad aluminum: reddish outside, silvery where it is cut"),
        ),
    ),
    Question(
        "feed length",
        "About how long is the cable from the panel to the box that the new cable would start from?",
        "cable",
        "length",
        about="A plain number counts as feet, and as a guess. Or: 35 to 60 ft. Measured: measured 42 ft.",
        unit="ft",
    ),
    Question(
        "feed place",
        "Where do the cables of this circuit run now?",
        "cable",
        "place",
        offers=_PLACES,
    ),
    Question(
        "on the box",
        "What is on the starting box now, the box that the new cable would start from?",
        "box",
        "devices",
        offers=_on_the_box,
    ),
    Question(
        "cables in the box",
        "How many cables come into the starting box now?",
        "box",
        "unbroken",
        about="The one that feeds it and those that run on: 1 if it is the last box of the circuit.",
        offers=_offer(*((str(number), str(number)) for number in range(1, 9))),
    ),
    Question(
        "trade size",
        "Which box is the starting box?",
        "box",
        "trade_size",
        about="Across and deep inside, in inches. Only the size: what fits is counted later.",
        offers=starting_box_choices,
    ),
    Question(
        "box volume",
        "Which volume is marked in it?",
        "box",
        "volume",
        about="A plain number counts as cubic inches.",
        unit="in^3",
        applies=lambda answers: answers.get("trade size") == BOX_BY_VOLUME,
    ),
    Question(
        "lights to add",
        "How many lights do you want to add?",
        "load",
        "quantity",
        about="Each gets a box of its own, one after the other along the run; that can be changed.",
        required=True,
        planned=True,
        reads=whole_number(40),
    ),
    Question(
        "watts",
        "How many watts does the new light take, by its label?",
        "load",
        "power",
        about="The largest lamp it may take, or the label of a built-in LED. Empty if it is not chosen yet.",
        unit="W",
        planned=True,
    ),
    Question(
        "alike",
        "The same light each time?",
        "load",
        "power",
        offers=_offer(
            ("yes", "yes, all of them alike"), (EACH, "no: let me type the watts of each"),
            unknown=Choice(UNKNOWN, "I do not know: leave the others open"),
        ),
        applies=lambda answers: _several(answers) and answers.get("watts", UNKNOWN) != UNKNOWN,
        planned=True,
    ),
    Question(
        "watts of each",
        "The watts of the others, from the second on",
        "load",
        "power",
        about="With commas between them: 9, 12, 9.",
        applies=lambda answers: _several(answers) and answers.get("alike") == EACH,
        planned=True,
        reads=several_watts,
    ),
    Question(
        "mounting",
        "Where do the new lights go?",
        "load",
        "mounting",
        offers=_offer(
            ("wall", "on a wall"),
            ("ceiling", "on a ceiling"),
            ("recessed", "recessed into the ceiling"),
            ("pendant", "hanging from a ceiling"),
            ("cabinet", "in or under a cabinet"),
            ("outdoors", "outdoors"),
        ),
        planned=True,
    ),
    Question(
        "converted",
        "Are they made to be wired in?",
        "load",
        "converted",
        offers=_offer(("wired", "yes, made to be wired in"), ("cut", "no: plug-in lamps whose cord would be cut")),
        planned=True,
    ),
    Question(
        "new cable",
        "Which cable do you mean to use for them?",
        "cable",
        "size",
        offers=_offer(
            ("14/2 NM-B with ground", "14/2 NM-B with ground, copper"),
            ("12/2 NM-B with ground", "12/2 NM-B with ground, copper"),
            unknown=Choice(UNKNOWN, "Not decided yet"),
        ),
        planned=True,
    ),
    Question(
        "new length",
        "About how long is each new cable?",
        "cable",
        "length",
        about="From box to box, up and down the walls included. A plain number counts as feet, and as a guess.",
        unit="ft",
        planned=True,
    ),
    Question(
        "new place",
        "Where will the new cable run?",
        "cable",
        "place",
        offers=_PLACES,
        planned=True,
    ),
    Question(
        "new box",
        "Which boxes do you mean to use for the new lights?",
        "box",
        "trade_size",
        about="What would do is worked out from your answers so far.",
        offers=new_box_choices,
        planned=True,
    ),
    Question(
        "new volume",
        "Which volume is marked in the new boxes?",
        "box",
        "volume",
        about="A plain number counts as cubic inches.",
        unit="in^3",
        applies=lambda answers: answers.get("new box") == BOX_BY_VOLUME,
        planned=True,
    ),
    Question("room", "Which room are the new lights in?", "site", "room", offers=_rooms),
    Question(
        "building",
        "What kind of building is it?",
        "site",
        "dwelling",
        offers=_offer(
            ("house", "a house for one family"),
            ("dwellings", "a building with two or more dwellings"),
            ("no", "no dwelling at all"),
        ),
    ),
    Question(
        "rulebook",
        "Which edition of the code is in force where you are?",
        "job",
        "rulebook",
        about="The permit office says which. It can be changed at any time.",
        offers=_editions,
    ),
)  # fmt: skip
