"""What the wiring tells of a neutral: a loop of two conductors is two hots (trade practice, 404.2(C))."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.possible.entry import Later
from tests.rules.build import book, box, cable, circuit, control, device, load


def neutral(*things, carries=None, conductors=2, **given):
    """What ``box.neutral`` can be: the options, or the settled value."""
    built = circuit(
        box("b", **given),
        cable("c", "panel", "b", origin="existing", carries=carries, conductors=conductors),
        *things,
    )
    case = case_of(built, book())
    return next(
        (entry.possible for entry in case.entries if entry.kind == "box.neutral"), case.boxes[0].__dict__.get("neutral")
    )


def test_a_loop_of_two_conductors_has_none():
    assert neutral(carries="switch loop") is False


def test_a_loop_of_three_may_have_one():
    assert neutral(carries="switch loop", conductors=3).options == (False, True)


@pytest.mark.parametrize("carries", ["feed", "feed and switched"])
def test_a_feed_brings_one(carries):
    assert neutral(carries=carries, devices=(device(),)) is True


@pytest.mark.parametrize("thing", [{"devices": (device(),)}, {"devices": (device("timer"),)}])
def test_a_switch_box_may_have_none(thing):
    assert neutral(**thing).options == (False, True)
    assert neutral(control("s", "b")).options == (False, True)


def test_a_light_that_works_there_shows_one_and_a_bare_box_makes_it_likely():
    assert neutral(load("old", "b")).options == (True,)
    assert neutral().later is Later.LIKELY
    assert set(neutral().options) == {True, False}
