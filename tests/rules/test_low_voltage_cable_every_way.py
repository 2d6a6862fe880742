"""Low-voltage cables of unknown size and metal: what is said of a few ways holds in every way.

The outside check is counting: each size, metal and kind of light that can be is tried, one fully known circuit each,
and what the rule answers there must be what was said before anybody knew. No way that is worse was thought of first.
"""

import random
from itertools import product
from math import prod

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.findings import Outcome
from circuitcheck.physics.low_voltage_strip import Law
from circuitcheck.quantities import How
from circuitcheck.rules.low_voltage.low_voltage_cable import RULE
from tests.rules.build import book, box, cable, circuit, driver, low_voltage_load, only

KNOWN_SIZES = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "0.75 mm^2", "1 mm^2", "2.5 mm^2", "4 mm^2")
#: Sizes at which some table begins, ends, or has a gap.
TELLING = {"0.5 mm^2", "0.75 mm^2", "1.5 mm^2", "18 AWG", "2.5 mm^2", "14 AWG", "12 AWG", "16 mm^2", "500 kcmil"}
#: Up to so many ways all of them are tried; of more as many at random.
MOST = 120
CIRCUITS = 60


def drawn(dice):
    """One to three cables behind a driver, in a row or in a fork, with a lamp at the end of each."""
    parts, places = [], ["driver"]
    for place in range(dice.choice((1, 2, 2, 3))):
        size = dice.choice((None, *KNOWN_SIZES))
        parts += (
            cable(
                f"c{place}",
                dice.choice(places[1:]) if place else "driver",
                f"l{place}",
                type="class 2 cable",
                size=size,
                known_by={"size": How.GUESS} if size and dice.random() < 0.25 else {},
                material=dice.choice(("copper", "copper-clad aluminum", "aluminum", None, None)),
                stranding=dice.choice(("stranded", "solid", None)),
                ambient_c=dice.choice((10, 30, 30, 50, 56, (30, 50))),
                length_m=dice.choice((1, 3, 20, 60, (1, 10))),
            ),
            low_voltage_load(
                f"l{place}",
                power_w=dice.choice((1, 5, 12, 24, 60, (5, 40))),
                kind=dice.choice((*map(str, Law), str(Law.POWER), None)),
            ),
        )
        places.append(f"l{place}")
    source = driver(
        "driver",
        "attic",
        output_voltage_v=dice.choice((12, 24)),
        output_power_w=dice.choice((5, 20, 60, 150)),
        class_2=dice.choice((True, True, False, None)),
    )
    return circuit(box("attic"), cable("feed", "panel", "attic"), source, *parts)


def every_way(subject, case, dice):
    """What the rule answers in each way that the file leaves possible, or in very many of them."""
    entries, answers = {}, []

    def ask(way):
        with case.reading.at(lambda entry: way.get(entry, entry.possible.options[0])) as reading:
            answers.append(RULE.answer(subject, case, case.book))
            entries.update(dict.fromkeys(reading.reads))

    ask({})
    for entry in list(entries):  # what is read may hang on what else is
        for option in entry.possible.options:
            ask({entry: option})
    options = [entry.possible.options for entry in entries]
    if prod(map(len, options)) > MOST:
        options = [TELLING.intersection(each) if len(each) > 9 else each for each in options]
    options = [sorted(each) for each in options]
    if prod(map(len, options)) <= MOST:
        ways = product(*options)
    else:
        ways = ([dice.choice(each) for each in options] for _ in range(MOST))
    for way in ways:
        ask(dict(zip(list(entries), way, strict=False)))
    return answers


@pytest.mark.parametrize("seed", range(4))
def test_no_way_is_worse_than_what_is_said(seed):
    dice = random.Random(seed)
    settled = 0
    for _ in range(CIRCUITS // 4):
        case = case_of(drawn(dice), book())
        findings = {each.subject: each for each in findings_of_rule(RULE, case, strict=True)}
        for subject in RULE.subjects(case):
            told, answers = findings[subject.id], every_way(subject, case, dice)
            outcomes = {each.outcome for each in answers}
            if told.outcome is Outcome.FAIL:
                assert outcomes == {Outcome.FAIL}
            elif told.outcome is not Outcome.UNDETERMINED:
                assert not outcomes & {Outcome.FAIL, Outcome.UNDETERMINED}
            else:
                assert len(outcomes) > 1 or outcomes == {Outcome.UNDETERMINED}
            settled += told.outcome is not Outcome.UNDETERMINED
            values = [each.value for each in answers if each.value is not None]
            assert told.low is None or all(value >= told.low * (1 - 1e-9) for value in values)
            assert told.high is None or all(value <= told.high * (1 + 1e-9) for value in values)
    assert settled > 3


def in_a_row(count, kind="constant power", **given):
    """As many lamps one behind the other, at the end of cables of which nobody knows size, metal and strands."""
    unknown = {"size": None, "material": None, "stranding": None, "type": "class 2 cable", "ambient_c": 30}
    parts = []
    for place in range(count):
        before = f"l{place - 1}" if place else "driver"
        parts += (
            cable(f"c{place}", before, f"l{place}", length_m=3, **(unknown | given)),
            low_voltage_load(f"l{place}", power_w=6, kind=kind),
        )
    source = driver("driver", "attic", output_voltage_v=12, output_power_w=60)
    return circuit(box("attic"), cable("feed", "panel", "attic"), source, *parts)


@pytest.mark.parametrize("kind", ["constant power", None])
def test_of_a_long_row_every_way_is_judged_by_a_few(kind):
    """Each way by itself would be 29 sizes to the power of the cables."""
    case = case_of(in_a_row(6, kind), book())
    asker = Asker(RULE, case, strict=True)
    for subject in RULE.subjects(case):
        before = asker.tries
        ends = asker.ask(subject, worst=True), asker.ask(subject, worst=False)
        assert all(end.complete for end in ends)
        assert asker.tries - before < 9


def test_what_is_unknown_is_asked_once():
    """0.5 mm^2 is in no table of ampacity, and whether it is copper decides in other sizes: both are on the print."""
    found = only(RULE, in_a_row(3), "c0")
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("cable.c0.size", "cable.c0.material")
    assert found.low == pytest.approx(18 / 12, rel=1e-3)  # 18 W at 12 V, with next to no loss in 500 kcmil
    assert found.high is None, "of what no table holds nobody can tell"


@pytest.mark.parametrize(
    ("size", "material", "needs"),
    [
        ("0.75 mm^2", "copper", ("size",)),
        ("0.75 mm^2", "copper-clad aluminum", ("size", "material")),
        ("1.5 mm^2", "aluminum", ("material",)),
    ],
)
def test_what_to_read_again_on_a_conductor_of_no_table(size, material, needs):
    """402.5 has copper from 18 AWG on, of which 1.5 mm^2 is more; of metric aluminum there is no resistance."""
    found = only(RULE, in_a_row(1, size=size, material=material), "c0")
    assert found.needs == tuple(f"cable.c0.{key}" for key in needs)


@pytest.mark.parametrize("size", ["0.5 mm^2", "18 AWG", "500 kcmil", None])
@pytest.mark.parametrize("kind", ["constant power", "resistor"])
def test_air_that_its_insulation_does_not_stand_leaves_nothing_to_any_size(size, kind):
    """310.15(B)(1)(1) has no factor for 60 degC insulation over 55 degC."""
    found = only(RULE, in_a_row(2, kind, size=size, ambient_c=58), "c0")
    assert (found.outcome, found.limit) == (Outcome.FAIL, 0)


@pytest.mark.parametrize(("together", "outcome"), [(2, Outcome.UNDETERMINED), (41, Outcome.FAIL)])
def test_what_is_too_much_without_any_loss_fails_whatever_is_behind_it(together, outcome):
    """Two lamps of 12 W at 12 V ask for 2 A, and for more with any loss. 18 AWG: 6 A, at 50 degC 6 x 0.58 = 3.48 A, and
    among more than 40 conductors 3.48 x 0.35 = 1.22 A (310.15(C)(1)). Metric aluminum is in no table of resistance.
    """
    parts = in_a_row(2)
    first = cable("c0", "driver", "l0", type="class 2 cable", size="18 AWG", ambient_c=50, length_m=0.01,
                  current_carrying=together)  # fmt: skip
    behind = cable("c1", "l0", "l1", type="class 2 cable", size="2.5 mm^2", material="aluminum")
    lamps = [low_voltage_load(f"l{place}", power_w=12, kind="constant power") for place in range(2)]
    found = only(RULE, circuit(*parts.boxes, parts.cables[0], *parts.drivers, first, behind, *lamps), "c0")
    assert (found.outcome, found.value) == (outcome, None)
    assert outcome is Outcome.UNDETERMINED or "would carry at least 2 A, more than the 1.21 A" in found.says
