"""Weather-resistant receptacles in damp and wet places: 406.9(A) and (B)(1); one mark (WR) serves for both."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.weather_resistant import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only, site


def built(room="outdoors", location=None, **given):
    plain = {"kind": "receptacle", "origin": "added"}
    parts = (
        box("b", origin="added", location=location),
        cable("in", "panel", "b"),
        load("outlet", "b", **plain | given),
    )
    return circuit(site(room=room), *parts)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("location", ["damp", "wet", None])
@pytest.mark.parametrize(
    ("marked", "outcome"),
    [("wet", Outcome.PASS), ("damp", Outcome.FAIL), ("dry", Outcome.FAIL), (None, Outcome.CAUTION)],
)
def test_outdoors_a_receptacle_is_weather_resistant(edition, location, marked, outcome):
    found = only(RULE, built(location=location, location_marked=marked), "outlet", edition)
    assert (found.outcome, found.to_come) == (outcome, marked is None)
    assert found.sources[0].place == "406.9(A), (B)(1)"


def test_indoors_it_hangs_on_the_place():
    assert findings(RULE, built("hallway", location_marked="dry")) == []
    assert findings(RULE, built("basement", "dry", location_marked="dry")) == []
    assert only(RULE, built("basement", "damp", location_marked="dry"), "outlet").outcome is Outcome.FAIL
    perhaps = only(RULE, built("basement", location_marked="dry"), "outlet")
    assert (perhaps.outcome, perhaps.needs) == (Outcome.UNDETERMINED, ("box.b.location",))


def test_what_is_unknown_is_no_kinder_than_what_it_can_be():
    unsaid = only(RULE, built(location="wet", kind=None, location_marked="dry"), "outlet")
    assert (unsaid.outcome, unsaid.needs) == (Outcome.UNDETERMINED, ("load.outlet.kind",))


def test_it_says_nothing_of_what_is_there_and_of_lights():
    assert findings(RULE, built(origin="existing", location_marked="dry")) == []
    assert findings(RULE, built(kind="light", location_marked="dry")) == []
