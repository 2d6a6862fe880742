"""A two-wire switch loop is a feed and a switched hot: it brings no neutral (trade practice, 404.2(C))."""

from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.evidence.loop_and_neutral import RULE
from tests.rules.build import box, cable, circuit, findings, load


def asked(neutral, conductors, carries="switch loop"):
    loop = cable("loop", "panel", "b", origin="existing", carries=carries, conductors=conductors)
    return [(found.outcome, found.needs[:2]) for found in findings(RULE, circuit(box("b", neutral=neutral), loop))]


def test_both_entries_are_asked_for():
    assert asked(True, 2) == [(Outcome.UNDETERMINED, ("box.b.neutral", "cable.loop.conductors"))]


def test_what_can_be_is_not_asked():
    assert asked(True, 3) == []
    assert asked(False, 2) == []
    assert asked(None, 2) == []
    assert asked(True, 2, carries="feed") == []


def test_a_load_that_works_at_the_end_of_a_loop_is_asked():
    """It would hang between two hots: either it is elsewhere, or the cable is no loop."""
    loop = cable("loop", "panel", "b", origin="existing", carries="switch loop", conductors=2)
    (asked,) = findings(RULE, circuit(box("b"), loop, load("old", "b", origin="existing")))
    assert asked.needs == ("load.old.origin", "cable.loop.conductors", "cable.loop.carries")
    assert findings(RULE, circuit(box("b"), loop, load("new", "b", origin="added"))) == []


def white(remarked=False, told=None, start="c", conductors=2, box_neutral=None, **guess):
    parts = [box("c"), box("s", neutral=box_neutral), cable("feed", "panel", "c", origin="existing", carries="feed")]
    run = cable(
        "run", start, "s", origin="existing", carries=told, conductors=conductors, white_remarked=remarked, **guess
    )
    return findings(RULE, circuit(*parts, run))


def test_a_white_wire_without_a_mark_is_asked_about_where_it_may_be_hot():
    """200.7(C): a white wire that is used as a hot one is marked; whether it is one hangs on what the cable carries."""
    (asked,) = white()
    assert (asked.outcome, asked.subject, asked.needs) == (Outcome.UNDETERMINED, "run", ("cable.run.carries",))
    assert [each.subject for each in white(conductors=3, box_neutral=True)] == ["run"]  # three-way: white may be any
    assert [each.subject for each in white(conductors=None, box_neutral=True)] == ["run"]


def test_a_white_wire_that_is_marked_or_surely_the_neutral_is_not_asked_about():
    assert white(remarked=True) == white(remarked=None) == []
    assert white(told="feed") == white(told="switch loop") == []  # of a loop the check of loops tells it
    assert white(start="panel") == []
    assert white(box_neutral=True) == []
    assert white(known_by={"white_remarked": How.GUESS}) == []
    assert len(white(box_neutral=True, known_by={"conductors": How.GUESS})) == 1
