"""Equipment fastened in place on a circuit shared with lights: at most half of the breaker."""

import pytest

from circuitcheck.case import EACH
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.fixed_equipment_share import RULE
from tests.rules.build import EDITIONS, box, circuit, direction, driver, findings, load, only, supply

LAMP = load("lamp", "b", power_w=60)


def fan(amperes, **given):
    return load("fan", "b", **({"kind": "fan", "current_a": amperes} | given))


def judged(*parts, edition="nec-2023"):
    return only(RULE, circuit(box("b"), *parts), "circuit", edition)


@pytest.mark.parametrize("edition", EDITIONS)
def test_half_of_fifteen_and_of_twenty(edition):
    # electricalcode.net on 210.23: fastened in place, other than luminaires, at most 50 percent: 7.5 A and 10 A
    for breaker, most in ((15, 7.5), (20, 10.0)):
        assert judged(LAMP, fan(most), supply(breaker_a=breaker), edition=edition).outcome is Outcome.PASS
        over = judged(LAMP, fan(most + 0.1), supply(breaker_a=breaker), edition=edition)
        assert (over.outcome, over.limit) == (Outcome.FAIL, pytest.approx(most))


def test_all_of_it_together():
    found = judged(LAMP, fan(4.0), load("heater", "b", kind="heater", power_w=480))
    assert found.value == pytest.approx(4.0 + 4.0)
    assert found.outcome is Outcome.FAIL
    assert {part.subject for part in found.parts} == {"fan", "heater"}


@pytest.mark.parametrize(
    "other",
    [
        LAMP,
        load("outlet", "b", kind="receptacle"),
        load("saw", "b", kind="other", connection="cord", current_a=1),
        driver("d", "b"),
    ],
)
def test_shared_with_lights_or_plugged_in_things(other):
    assert judged(fan(8.0), other).outcome is Outcome.FAIL


def test_says_nothing_where_it_does_not_apply():
    assert findings(RULE, circuit(box("b"), fan(14.0))) == []
    assert findings(RULE, circuit(box("b"), LAMP)) == []
    assert findings(RULE, circuit(box("b"), LAMP, fan(20.0), supply(breaker_a=30))) == []
    assert findings(RULE, circuit(box("b"), LAMP, fan(14.0, connection="cord"))) == []
    assert findings(RULE, circuit(box("b"), LAMP, fan(14.0, kind=None, connection="cord"))) == []


def test_unknown_rating():
    found = judged(LAMP, fan(None))
    assert (found.outcome, found.value) == (Outcome.UNDETERMINED, None)
    assert found.needs == ("load.fan.power",)
    # what is known is too much already
    assert judged(LAMP, fan(None), load("heater", "b", kind="heater", power_w=1200)).outcome is Outcome.FAIL


def test_unknown_kind_or_connection():
    assert judged(LAMP, fan(8.0, connection=None)).needs == ("load.fan.connection",)
    assert judged(LAMP, fan(8.0, kind=None)).needs == ("load.fan.kind",)
    # that it might be equipment, and little enough then, tells nobody anything
    assert findings(RULE, circuit(box("b"), LAMP, fan(2.0, kind=None))) == []


def test_a_circuit_of_equipment_alone_is_not_shared():
    # 210.23(A)(2): half of a circuit that also has lights or things with a cord; a second hardwired fan is neither
    both = judged(fan(8.0), load("thing", "b", kind=None, connection=None, power_w=60))
    assert (both.outcome, set(both.needs)) == (Outcome.UNDETERMINED, {"load.thing.kind", "load.thing.connection"})
    wired = judged(fan(8.0), load("thing", "b", kind=None, connection="hardwired", power_w=60))
    assert (wired.outcome, wired.needs) == (Outcome.UNDETERMINED, ("load.thing.kind",))
    assert findings(RULE, circuit(box("b"), fan(8.0), load("second", "b", kind="fan", power_w=60))) == []


def test_guessed_current():
    found = judged(LAMP, fan((6.0, 9.0)))
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("load.fan.current",)


def test_every_thing_is_named_with_its_amperes():
    # 480 W / 120 V = 4 A; half of 15 A is 7.5 A
    both = judged(LAMP, fan(4.0), load("heater", "b", kind="heater", power_w=480))
    assert both.says == (
        'Equipment fastened in place ("fan", "heater") draws 8 A, more than the 7.5 A it may draw from a circuit '
        "shared with lights."
    )
    assert list(both.working) == [
        "fan: 4 A = 4 A",
        "heater: 480 W / power factor 1 / 120 V = 4 A",
        "limit: 0.5 x 15 A = 7.5 A",
    ]
    assert both.keys == ("load.fan", "load.heater")
    one = judged(LAMP, fan(4.0))
    assert one.says == 'Equipment fastened in place ("fan") draws 4 A of the 7.5 A it may draw.'
    assert [part.value for part in one.parts] == [4]


def test_what_may_be_no_fixed_equipment_at_all_may_draw_nothing():
    """30 W at 120 V are 0.25 A at the least, by a power factor of one; and nothing where both turn out to be lights."""
    small = load("small", "b", kind=None, power_w=30, connection=None, power_factor=None)
    large = load("large", "b", kind=None, power_w=1500, connection="hardwired", power_factor=None)
    found = judged(small, large, driver("driver", "b"))
    assert found.outcome is Outcome.UNDETERMINED
    assert found.low == 0.0


@pytest.mark.parametrize(
    ("parts", "of", "hardwired_is_worse"),
    [
        ((LAMP,), "lamp", True),  # a lamp is no equipment; with a cord it is what shares the circuit, as without
        ((fan(2), LAMP), "fan", True),
        ((fan(2), driver("d", "b")), "fan", True),
        ((fan(2), load("saw", "b", kind="other", connection="cord", current_a=1)), "fan", True),
        ((fan(2),), "fan", False),  # with a cord it shares the circuit, fastened in place it may take too much
        ((fan(2), load("heater", "b", kind="heater", power_w=60)), "fan", False),
    ],
)
def test_which_connection_is_worse(parts, of, hardwired_is_worse):
    connection = direction(RULE, circuit(box("b"), *parts), "load.connection", of)
    if hardwired_is_worse:
        assert connection("hardwired") > connection("cord")
    else:
        assert connection("hardwired") is EACH
