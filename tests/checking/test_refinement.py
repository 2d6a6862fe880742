"""What is found out about an open circuit never contradicts what was said before, in any check not known to be wrong.

``known_faults.toml`` names the checks that do contradict today, each with the reason. Whoever mends a check strikes
its line: from then on one contradiction of that check fails here. ``make test-long`` draws far more circuits, and
fails too for a line that no contradiction speaks for any more.
"""

import os
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from circuitcheck.checking.in_words import LEFT_OUT
from circuitcheck.circuit.change import Change
from circuitcheck.circuit.model import Box, Cable, Circuit, Job, Load, Supply
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Finding, Outcome
from circuitcheck.quantities import Interval
from circuitcheck.refs import Ref
from tests.checking import asking, comparing, least_circuits, refinement
from tests.checking import short_run as short_run_of
from tests.checking.comparing import State
from tests.generating.entries import changed

KNOWN_FAULTS, BY_DESIGN = asking.KNOWN_FAULTS["contradicts"], asking.KNOWN_FAULTS["by_design"]
#: So many answers at least; the short run is the same for everybody.
SHORT, LONG = 8_000, 200_000
_SHOWN = 3

pytestmark = pytest.mark.xdist_group("refinement")


@cache
def short_run():
    return refinement.run(short_run_of.SEEDS, asked_a_circuit=short_run_of.ASKED_A_CIRCUIT)


def told(tally):
    """The whole tally as text: what the checks not known to be wrong say, and counts of the others."""
    lines = [f"{tally.answers} answers about {tally.circuits} circuits"]
    for name, kinds in sorted(tally.contradictions.items()):
        mark = "known" if name in KNOWN_FAULTS else "NEW"
        counts = (f"{kind} {tally.counts[name, kind]}" for kind in sorted(kinds))
        lines.append(f"  {mark} {name}: {'; '.join(counts)}")
    return "\n".join([*lines, *tally.asked.lines()])


def unexpected(tally):
    """Contradictions of checks that are not known to be wrong, as text, with the smallest circuits of the first few."""
    found = [
        contradiction
        for name, kinds in sorted(tally.contradictions.items())
        if name not in KNOWN_FAULTS
        for kind, contradiction in sorted(kinds.items())
        if name not in BY_DESIGN or kind not in BY_DESIGN[name]["kinds"]
    ]
    shown = [least_circuits.shown_smallest(contradiction) for contradiction in found[:_SHOWN]]
    return [f"{contradiction.check}: {contradiction.kind}" for contradiction in found], "\n\n".join(shown)


def test_no_mended_check_contradicts_itself(record_property):
    tally = short_run()
    record_property("told", told(tally))
    found, shown = unexpected(tally)
    assert not found, f"{found}\n\n{shown}"


def test_the_short_run_is_worth_something():
    tally = short_run()
    assert tally.answers >= SHORT
    assert len(tally.settled) >= 0.9 * len(refinement.CHECKS), refinement.CHECKS - set(tally.settled)
    asked = tally.asked
    assert sum(sum(counter.values()) for counter in (asked.at_once, asked.again, asked.in_vain)) >= 50


def test_known_faults_name_checks_and_reasons():
    assert set(KNOWN_FAULTS) <= refinement.CHECKS
    assert all(len(reason) > 10 for reason in KNOWN_FAULTS.values())
    for aside in ("by_design", "asked_again", "slack"):
        assert set(asking.KNOWN_FAULTS[aside]) <= refinement.CHECKS
        assert all(len(each["why"]) > 10 for each in asking.KNOWN_FAULTS[aside].values())


@pytest.mark.long
def test_no_mended_check_contradicts_itself_in_many_answers(record_property):
    tally = refinement.run_until(int(os.environ.get("REFINEMENT_ANSWERS", LONG)), first_seed=100_000)
    record_property("told", told(tally))
    found, shown = unexpected(tally)
    assert not found, f"{found}\n\n{shown}"
    mended = sorted(set(KNOWN_FAULTS) - set(tally.contradictions))
    assert not mended, f"strike these lines of known_faults.toml, nothing speaks for them any more: {mended}"


# ------------------------------------------------------------------------- the comparison sees what it is there to see


def circuit(**entries):
    supply = Supply(voltage_v=Interval(120, 120), breaker_a=Interval(15, 15))
    return Circuit(file="a", job=Job(title="a", rulebook="nec-2023"), supply=supply, **entries)


def state(*findings, of=None, **more):
    answers = {}
    for finding in findings:
        answers.setdefault((finding.check, finding.subject), []).append(finding)
    return State(of or circuit(), answers, **more)


def finding(outcome, **more):
    return Finding(check="a", subject="b", outcome=outcome, says="", **more)


def kinds(before, after, *, by_plans=False):
    return Counter(one.kind for one in comparing.contradictions(before, after, by_plans=by_plans))


@pytest.mark.parametrize(
    ("was", "now", "wrong"),
    [
        (Outcome.PASS, Outcome.PASS, False),
        (Outcome.PASS, Outcome.FAIL, True),
        (Outcome.PASS, Outcome.CAUTION, True),
        (Outcome.PASS, Outcome.UNDETERMINED, True),
        (Outcome.FAIL, Outcome.FAIL, False),
        (Outcome.FAIL, Outcome.PASS, True),
        (Outcome.FAIL, Outcome.CAUTION, True),
        (Outcome.CAUTION, Outcome.PASS, False),
        (Outcome.CAUTION, Outcome.FAIL, True),
        (Outcome.UNDETERMINED, Outcome.FAIL, False),
        (Outcome.UNDETERMINED, Outcome.PASS, False),
    ],
)
def test_a_settled_answer_stays(was, now, wrong):
    assert bool(kinds(state(finding(was)), state(finding(now)))) is wrong


def test_no_answer_counts_as_nothing_wrong():
    assert kinds(state(), state(finding(Outcome.FAIL)))
    assert kinds(state(finding(Outcome.FAIL)), state())
    assert not kinds(state(), state(finding(Outcome.PASS)))
    assert not kinds(state(), state(finding(Outcome.CAUTION)))
    assert not kinds(state(finding(Outcome.UNDETERMINED)), state())


def test_nothing_is_said_about_a_thing_of_a_kind_that_nobody_knows():
    unknown, known = (circuit(loads=(Load(id="b", box="c", kind=kind),)) for kind in (None, "fan"))
    assert kinds(state(of=known), state(finding(Outcome.FAIL), of=known))
    assert not kinds(state(of=unknown), state(finding(Outcome.FAIL), of=known))


def test_a_caution_may_fail_only_by_plans_and_duration():
    before, after = state(finding(Outcome.CAUTION)), state(finding(Outcome.FAIL))
    assert kinds(before, after)
    assert not kinds(before, after, by_plans=True)


def test_an_answer_that_leaves_an_effect_out_may_change_while_another_is_open():
    left_out = finding(Outcome.PASS, assumed=(f"Cable: length unknown{LEFT_OUT}.",))
    behind = replace(finding(Outcome.UNDETERMINED), subject="c")
    later = state(finding(Outcome.FAIL))
    assert kinds(state(left_out), later)
    assert kinds(state(finding(Outcome.PASS), behind), later)
    assert not kinds(state(left_out, behind), later)
    assert kinds(state(replace(left_out, outcome=Outcome.FAIL), behind), state(finding(Outcome.PASS)))


def test_a_value_outside_its_range_is_seen():
    told_before = state(finding(Outcome.PASS, value=4.0, low=2.0, high=4.0, unit="A"))
    assert not kinds(told_before, state(finding(Outcome.PASS, value=3.0, unit="A")))
    assert kinds(told_before, state(finding(Outcome.PASS, value=4.1, unit="A")))
    assert kinds(told_before, state(finding(Outcome.PASS, value=3.0, low=1.0, high=3.0, unit="A")))


def test_numbers_of_two_questions_about_one_part_are_not_compared():
    """A cable is held so close to its boxes, and so often between them."""

    def told(key, value):
        keys = ("cable.b.type", f"cable.b.{key}")
        return state(finding(Outcome.PASS, value=value, unit="in", keys=keys))

    assert not kinds(told("support_spacing", 10.0), told("support_from_box", 20.0))
    assert kinds(told("support_spacing", 10.0), told("support_spacing", 20.0))
    assert kinds(told("type", 10.0), told("support_spacing", 20.0))


def test_numbers_of_two_things_are_not_compared():
    def told(key, value):
        return state(finding(Outcome.UNDETERMINED, value=value, unit="in", needs=("type",), keys=("type", key)))

    assert kinds(told("spacing", 10.0), told("spacing", 60.0))
    assert not kinds(told("from_box", 10.0), told("spacing", 60.0))


def test_a_number_that_is_none_is_seen():
    def wrong(**numbers):
        return [one.kind for one in comparing.wrong_numbers(state(finding(Outcome.PASS, **numbers)))]

    assert wrong(value=float("nan"))
    assert wrong(value=1.0, limit=float("inf"))
    assert wrong(value=5.0, low=1.0, high=4.0)
    assert not wrong(value=4.0, low=1.0, high=4.0, limit=15.0)


def test_questions_name_entries_that_are_open():
    cable = Cable(id="a.b", from_id="panel", to_id="box", length_m=Interval(3, 9), size="14 AWG", conductors=2)
    lamp = Load(id="lamp", box="box", power_w=Interval(60, 60))
    asked = circuit(boxes=(Box(id="box"),), cables=(cable,), loads=(lamp,))

    def wrong(*needs):
        return {
            kind for kind, _ in asking.wrong_questions(finding(Outcome.UNDETERMINED, needs=needs), asked, known=False)
        }

    assert wrong() == {asking.NAMES_NOTHING}
    assert wrong("cable.a.b.length", "supply.protection", "box.box.devices") == set()
    assert wrong("cable.a.b.size") == {asking.NAMES_THE_KNOWN}
    assert wrong("load.lamp.power") == {asking.NAMES_THE_KNOWN}
    assert wrong("cable.a.length") == {asking.NAMES_NO_ENTRY}
    assert wrong("the loads") == {asking.NAMES_NO_ENTRY}


@pytest.mark.parametrize("action", ["remove", "replace"])
def test_whether_a_load_was_on_is_asked_of_the_load_as_it_was_found(action):
    """It is no more, or another one stands for it; the file has its entry all the same."""
    old = Load(id="old", box="box", kind="heater", origin="existing", on_at_reading=None)
    change = Change(part=Ref("load", "old"), action=action, new={} if action == "remove" else {"kind": "light"})
    run = Cable(id="run", from_id="panel", to_id="box", origin="existing")
    found = Circuit(
        file="a", job=Job(title="old", rulebook="nec-2023"),
        supply=Supply(voltage_v=Interval(120, 120), breaker_a=Interval(15, 15)),
        boxes=(Box(id="box", origin="existing"),), cables=(run,), loads=(old,), changes=(change,),
    )  # fmt: skip
    planned = as_planned(found)
    entry = asking.entry_named(planned, "load.old.on_at_reading")
    assert entry is not None
    assert entry.gone
    finding_ = finding(Outcome.UNDETERMINED, needs=("load.old.on_at_reading",))
    assert list(asking.wrong_questions(finding_, planned, known=False)) == []
    told = changed(planned, entry, {"on_at_reading": True})
    assert as_planned(found).before.circuit.loads[0].on_at_reading is None
    assert told.before.circuit.loads[0].on_at_reading is True
    assert [kind for kind, _ in asking.wrong_questions(finding_, told, known=False)] == [asking.NAMES_THE_KNOWN]


def test_the_smallest_circuits_still_contradict():
    tally = short_run()
    known = [one for kinds in tally.contradictions.values() for one in kinds.values()]
    if not known:
        pytest.skip("nothing contradicts")
    found = min(known, key=lambda one: len((*one.after.boxes, *one.after.cables, *one.after.loads)))  # soonest done
    least = least_circuits.made_smallest(found)
    assert (least.check, least.kind) == (found.check, found.kind)
    assert len(least.after.cables) <= len(found.after.cables)
