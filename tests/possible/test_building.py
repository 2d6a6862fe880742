"""What the building tells: which light can take the place of another one."""

import pytest

from circuitcheck.case.making import case_of
from tests.rules.build import book, box, cable, circuit, load

NEW, OLD, GUESSED_NEW = (
    {"origin": "added"},
    {"origin": "existing"},
    {"origin": "added", "known_by": {"origin": "guess"}},
)
OPEN, NEVER = (False, True), (False,)


@pytest.mark.parametrize(
    ("lamp", "end", "others", "options"),
    [
        (NEW, OLD, [], OPEN),
        (NEW | {"kind": None}, OLD, [], OPEN),
        # What else hangs there is no light that it could have taken the place of, and one that is new was not there.
        (NEW, OLD, [load("outlet", "end", kind="receptacle")], OPEN),
        (NEW, OLD, [load("fan", "end", kind="fan")], OPEN),
        (NEW, OLD, [load("second", "end", **NEW)], OPEN),
        # The old light is still listed on the box: it stays.
        (NEW, OLD, [load("old", "end")], NEVER),
        (NEW | {"kind": None}, OLD, [load("old", "end")], NEVER),
        # Nothing hung on a box that is put in now; a guess that it is does not say so.
        (NEW, NEW, [], NEVER),
        (NEW, GUESSED_NEW, [], OPEN),
        # What is there already, and what is no light, is no light that is put in another's place.
        (OLD, OLD, [], NEVER),
        (NEW | {"kind": "fan"}, OLD, [], NEVER),
    ],
)
def test_what_can_take_the_place_of_an_old_light(lamp, end, others, options):
    built = circuit(box("end", **end), cable("in", "panel", "end"), load("lamp", "end", **lamp), *others)
    case = case_of(built, book())
    opened = next((each for each in case.entries if str(each.ref) == "load.lamp.replaces"), None)
    assert (opened.possible.options if opened else (case.loads[0].replaces,)) == options
