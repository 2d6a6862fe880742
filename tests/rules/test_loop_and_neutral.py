"""A two-wire switch loop is a feed and a switched hot: it brings no neutral (trade practice, 404.2(C))."""

from circuitcheck.findings import Outcome
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
