"""Class 2 and power wires in one box: 725.136(A), (B), (D); 1/4 in between them where they meet at equipment."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.low_voltage.class_2_separation import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, driver, findings, low_voltage_load, only

FEED = cable("feed", "panel", "attic")


def built(*, driver_box="attic", class_2=True, **given):
    """The low-voltage cable passes through the box "hall", which the branch circuit feeds as well."""
    return circuit(
        box("attic"),
        box("hall", **given),
        FEED,
        cable("on", "attic", "hall"),
        driver("driver", driver_box, class_2=class_2),
        cable("low", "driver", "hall"),
        cable("lead", "hall", "strip"),
        low_voltage_load("strip", power_w=5),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_barrier_passes(edition):
    assert only(RULE, built(class_2_barrier=True), "hall", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
def test_without_a_barrier_fails(edition):
    found = only(RULE, built(class_2_barrier=False), "hall", edition)
    assert found.outcome is Outcome.FAIL
    assert "725.136" in {source.place for source in found.sources}


def test_not_said_cannot_be_told():
    found = only(RULE, built(), "hall")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("box.hall.class_2_barrier",)


def test_where_the_driver_is_connected_in_that_box_the_distance_counts():
    found = only(RULE, built(class_2_barrier=False, driver_box="hall"), "hall")
    assert found.outcome is Outcome.CAUTION
    assert "0.25 in" in found.says


def test_wires_that_are_not_class_2_need_insulation_for_the_highest_voltage():
    found = only(RULE, built(class_2=False, class_2_barrier=False), "hall")
    assert found.outcome is Outcome.CAUTION
    assert {source.place for source in found.sources} == {"300.3(C)(1)"}


def test_an_unknown_class_is_asked():
    # Not class 2: insulation for the highest voltage will do (300.3(C)(1)); class 2: a barrier is required (725.136).
    found = only(RULE, built(class_2=None, class_2_barrier=False), "hall")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("driver.driver.class_2",))


def test_boxes_of_one_kind_say_nothing():
    apart = circuit(
        box("attic"),
        box("splice"),
        FEED,
        driver("driver", "attic"),
        cable("low", "driver", "splice"),
        cable("lead", "splice", "strip"),
        low_voltage_load("strip", power_w=5),
    )
    assert findings(RULE, apart) == []


@pytest.mark.parametrize(
    ("given", "to_do"),
    [
        ({"class_2_barrier": True}, ()),
        (
            {"class_2_barrier": False},
            ('Use a box with a divider for "hall", or a second box for the low-voltage wires.',),
        ),
        (
            {"class_2_barrier": False, "class_2": False},
            ("Use branch-circuit cable on the low-voltage side too, or keep the two in separate boxes.",),
        ),
    ],
)
def test_what_to_do(given, to_do):
    assert only(RULE, built(**given), "hall").to_do == to_do


def test_class_2_wires_of_one_driver_need_a_divider_whatever_else_is_in_the_box():
    parts = (box("hall", class_2_barrier=False), cable("feed", "panel", "hall"))
    behind = [
        part
        for name in ("one", "two")
        for part in (
            driver(name, "hall", class_2=name == "one"),
            cable(f"low {name}", name, "hall"),
            cable(f"lead {name}", "hall", f"strip {name}"),
            low_voltage_load(f"strip {name}", power_w=5),
        )
    ]
    found = only(RULE, circuit(*parts, *behind), "hall")
    assert (found.outcome, "has no divider" in found.says) == (Outcome.CAUTION, True)
    assert "725.136" in {source.place for source in found.sources}
