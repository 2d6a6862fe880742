"""The size of one cable, or how it comes out alone: the same answer as among all the others, of fewer questions."""

from pathlib import Path

import pytest

from circuitcheck.checking import lost_below
from circuitcheck.checking.asking_all import findings_of
from circuitcheck.checking.other_sizes import Sizes
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.would_do import answers_about
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.findings import Outcome
from circuitcheck.rules import ALL_RULES
from circuitcheck.rules.capacity.wire_size import RULE
from circuitcheck.tables.rulebook import vocabulary
from tests.checking.test_lost_below import branched
from tests.generating.circuits import circuit_of, draw_document
from tests.generating.dice import Dice, Shares
from tests.generating.opening import opened
from tests.rules.build import book, box, cable, circuit, load, supply

HALLWAY = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"


def hallway(seed):
    """The example, with some of it forgotten."""
    known = read_circuit(HALLWAY.read_text("utf-8"), HALLWAY.name, vocabulary())
    return opened(known, Dice(f"size {seed}"), Shares(left_out=0.15 * seed, ranges=0.1))


def shown(finding):
    return {**{name: getattr(finding, name) for name in finding.__slots__}, "working": tuple(finding.working)}


CIRCUITS = {
    **{f"hallway {seed}": lambda seed=seed: hallway(seed) for seed in range(4)},
    **{f"drawn {seed}": lambda seed=seed: circuit_of(draw_document(f"size {seed}")) for seed in range(4)},
}


@pytest.mark.parametrize("name", CIRCUITS)
def test_one_cable_is_told_the_same_as_all(name):
    built = CIRCUITS[name]()
    whole = {each.subject: each for each in findings_of(built, book(), ALL_RULES) if each.check == RULE.name}
    branch = [cable.id for cable in built.tree.branch_cables]
    asked = [each for part in branch for each in answers_about(built, book(), (RULE,), frozenset({part}))]
    assert [shown(each) for each in asked] == [shown(whole[part]) for part in branch if part in whole]
    with_others = answers_about(
        built, book(), ALL_RULES, frozenset({*branch[-1:], *(each.id for each in built.loads[:1])})
    )
    told = [shown(each) for each in with_others if each.check == RULE.name]
    assert told == [shown(whole[part]) for part in branch[-1:] if part in whole]


@pytest.mark.parametrize("name", CIRCUITS)
def test_how_it_comes_out_is_the_same_where_nobody_reads_more(name):
    built = CIRCUITS[name]()
    whole = findings_of(built, book(), ALL_RULES)
    glance = findings_of(built, book(), ALL_RULES, scope=Scope(named=False))
    assert [(each.check, each.subject, each.outcome) for each in glance] == [
        (each.check, each.subject, each.outcome) for each in whole
    ]


def test_the_voltage_lost_is_asked_of_nothing_else(monkeypatch):
    asked = []

    def noted(asker, part, **given):
        asked.append(part.id)
        return finding_about(asker, part, **given)

    finding_about = lost_below.finding_about
    monkeypatch.setattr(lost_below, "finding_about", noted)
    answers_about(branched(), book(), (RULE,), frozenset({"to a"}))
    assert asked == ["near"]
    asked.clear()
    thin = branched()
    # 14 AWG on 30 A fails by breaker-vs-wire, whatever is lost (NFPA 70, 240.4(D))
    fails = circuit(supply(breaker_a=30), *thin.boxes, *thin.cables, *thin.controls, *thin.loads)
    answers_about(fails, book(), (RULE,), frozenset({"to a"}), named=False)
    assert asked == []


def long_run(size, metres, watts, **more):
    run = cable("run", "panel", "end", size=size, length_m=metres, **more)
    return circuit(supply(), box("end"), run, load("lamp", "end", power_w=watts))


@pytest.mark.parametrize("watts", [60, 900, 1400])
@pytest.mark.parametrize("metres", [5, 40, 60, 400, 4000])
@pytest.mark.parametrize("size", ["14 AWG", "8 AWG", "500 kcmil", None])
def test_a_recommended_size_is_as_thick_whether_it_is_searched_or_not(size, metres, watts):
    built = long_run(size, metres, watts)
    (whole,) = findings_of(built, book(), (RULE,))
    (glance,) = findings_of(built, book(), (RULE,), scope=Scope(named=False))
    assert glance.outcome is whole.outcome


def test_whether_a_thicker_size_does_is_asked_of_the_thickest_alone(monkeypatch):
    """1,400 W at 120 V are 11.7 A; 60 m of 14 AWG (10.1 ohm/km, NFPA 70, Table 8) lose 14 V, which is 12 percent.

    500 kcmil (0.0845 ohm/km) loses 0.12 V, so a thicker one is recommended, whichever it is.
    """
    tried = []
    about = Sizes.about

    def noted(sizes, rule, chosen, part):
        tried.extend(sizes.sizes[place] for place in chosen.values())
        return about(sizes, rule, chosen, part)

    monkeypatch.setattr(Sizes, "about", noted)
    (finding,) = findings_of(long_run("14 AWG", 60, 1400), book(), (RULE,), scope=Scope(named=False))
    assert finding.outcome is Outcome.CAUTION
    assert set(tried) == {"500 kcmil"}
