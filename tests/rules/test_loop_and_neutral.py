"""A two-wire switch loop is a feed and a switched hot: it brings no neutral (trade practice, 404.2(C))."""

from circuitcheck.findings import Outcome
from circuitcheck.rules.evidence.loop_and_neutral import RULE
from tests.rules.build import box, cable, circuit, findings


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
