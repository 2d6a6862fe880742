"""Equipment fastened in place on a circuit shared with lights: at most half of the breaker."""

from itertools import product
from random import Random

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.judging import finding_about
from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.fixed_equipment_share import RULE
from tests.rules.build import EDITIONS, book, box, circuit, direction, driver, findings, load, only, supply

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


def every_way(loads):
    """What equipment fastened in place takes of a shared circuit [A], for each way in which the loads may turn out.

    Half of 15 A is 7.5 A; 60 W at 120 V are 0.5 A.
    """
    kinds = [("fan", "light") if each.kind is None else (each.kind,) for each in loads]
    connections = [("hardwired", "cord") if each.connection is None else (each.connection,) for each in loads]
    for kind, connection in product(product(*kinds), product(*connections)):
        fixed = [of == "fan" and by == "hardwired" for of, by in zip(kind, connection, strict=True)]
        drawn = [each.power_w.low / 120 for each, is_fixed in zip(loads, fixed, strict=True) if is_fixed]
        yield 0.0 if all(fixed) else sum(drawn)


@pytest.mark.parametrize("seed", range(60))
def test_the_worst_and_the_least_are_those_of_all_ways_in_which_the_loads_may_turn_out(seed):
    random = Random(seed)
    loads = [
        load(
            f"l{n}",
            "b",
            kind=random.choice([None, None, "fan", "light"]),
            connection=random.choice([None, "hardwired", "hardwired", "cord"]),
            power_w=random.choice([60, 240, 480, 600, 840, 960]),
        )
        for n in range(random.randint(1, 4))
    ]
    ways = list(every_way(loads))
    fails = [takes > 7.5 + 1e-9 for takes in ways]
    found = findings(RULE, circuit(box("b"), *loads))
    if not found:
        assert not any(fails)
        return
    expected = Outcome.FAIL if all(fails) else Outcome.UNDETERMINED if any(fails) else Outcome.PASS
    assert found[0].outcome is expected
    assert (found[0].low, found[0].high) == (pytest.approx(min(ways)), pytest.approx(max(ways)))


def test_one_load_of_two_that_may_both_be_equipment_shares_the_circuit():
    """8 A and 6 A: at worst the smaller one is a light. Of 6 A and 6 A neither alone passes 7.5 A."""
    large = load("large", "b", kind=None, power_w=960)
    (found,) = findings(RULE, circuit(box("b"), large, load("small", "b", kind=None, power_w=720)))
    assert (found.outcome, found.high) == (Outcome.UNDETERMINED, pytest.approx(8.0))
    assert [part.subject for part in found.parts] == ["large"]
    assert set(found.needs) == {"load.large.kind", "load.small.kind"}
    six = (load(each, "b", kind=None, power_w=720) for each in ("one", "other"))
    assert findings(RULE, circuit(box("b"), *six)) == []


def answers(count):
    """How often the rule answers about so many loads of which nobody knows what they are."""
    loads = [load(f"l{n}", "b", kind=None, connection=None, power_w=240) for n in range(count)]
    case = case_of(circuit(box("b"), *loads), book())
    asker = Asker(RULE, case, strict=True)
    found = finding_about(asker, case.supply, named=True)
    # 2 A each, but for one that shares the circuit
    assert (found.outcome, found.high) == (Outcome.UNDETERMINED, pytest.approx(2.0 * (count - 1)))
    return asker.tries


def test_loads_of_unknown_kind_are_not_tried_in_every_way_together():
    few, some, many = map(answers, (5, 10, 20))
    assert some < 4 * few
    assert many < 4 * some


@pytest.mark.parametrize(
    "parts",
    [(LAMP, fan(2)), (fan(2), driver("d", "b")), (fan(2),), (fan(2), load("heater", "b", kind="heater", power_w=60))],
)
def test_fastened_in_place_is_worse_and_so_is_what_shares_the_circuit(parts):
    built = circuit(box("b"), *parts)
    connection, shares = (direction(RULE, built, f"{word}load.connection", "fan") for word in ("", "sharing "))
    assert connection("hardwired") > connection("cord")
    assert shares("cord") > shares("hardwired")
    kind, shares = (direction(RULE, built, f"{word}load.kind", "fan") for word in ("", "sharing "))
    assert kind("fan") == kind("other") > kind("light") == kind("receptacle")
    assert shares("light") == shares("receptacle") > shares("fan") == shares("other")
