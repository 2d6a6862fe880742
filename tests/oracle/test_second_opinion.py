"""Random circuit files, each answered twice: by the program and by a second opinion that shares nothing with it.

The second opinion was written from the published description of the checks and from published tables alone, before the
rules were read. It reads the same text with a reader of its own, and its figures are typed in ``printed.py`` with their
sources. The seeds are fixed.
"""

from functools import cache

import pytest

from circuitcheck.checking import check, findings_of
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.rules import ALL_RULES
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.oracle import boxes, capacity, drop, low_voltage
from tests.oracle.circuits import EDITIONS, random_circuit
from tests.oracle.reading import written

SEEDS = range(500)
ASKED = {
    "ampacity", "breaker-vs-wire", "class-2", "driver-capacity", "load-share", "low-voltage-drop", "voltage-drop",
    "wire-size",
}  # fmt: skip
RULES = [rule for rule in ALL_RULES if rule.name in ASKED]

#: What is dear is worked out once: all of these stay in one process.
pytestmark = pytest.mark.xdist_group("second opinion")


@cache
def answered():
    """(sections, (check, subject) -> finding) of each seed."""
    found = []
    for seed in SEEDS:
        sections = random_circuit(seed)
        circuit = read_circuit(written(sections), f"seed {seed}", vocabulary())
        report = check(circuit, load_rulebook(circuit.job.rulebook), RULES)
        found.append((sections, {(one.check, one.subject): one for one in report.findings}))
    return found


def compared(cases, *, at_least):
    """The cases in which both do not agree, after a look that there were enough of them."""
    cases = list(cases)
    assert len(cases) >= at_least
    return [case for case in cases if case[1] != case[2]]


def near(value):
    """A number to five places, pushed off the halves so that float noise does not part two equal ones."""
    return None if value is None else round(value + 1e-9, 5) + 0.0


def test_load_share():
    def cases():
        for seed, (sections, findings) in enumerate(answered()):
            one = findings["load-share", "circuit"]
            outcome, low, worst, breaker = capacity.load_share(sections)
            yield (
                seed,
                (one.outcome, near(one.low), near(one.high), one.limit),
                (outcome, near(low), near(worst), breaker),
            )

    assert not compared(cases(), at_least=500)


def test_breaker_against_wire():
    def cases():
        for seed, (sections, findings) in enumerate(answered()):
            breaker = capacity.ends(sections["supply"]["breaker"])[0]
            for cable in capacity.branch_cables(sections):
                one = findings["breaker-vs-wire", cable["id"]]
                limits = capacity.greatest_breaker(sections, cable)
                worst, best = min(limits), max(limits)
                outcome = "fail" if breaker > best else "undetermined" if breaker > worst else "pass"
                yield (seed, cable), (one.outcome, one.limit), (outcome, worst)

    assert not compared(cases(), at_least=1000)


def test_ampacity():
    def cases():
        for seed, (sections, findings) in enumerate(answered()):
            for cable in capacity.branch_cables(sections):
                one = findings["ampacity", cable["id"]]
                low, worst, limit = capacity.ampacity_numbers(sections, cable)
                numbers = (near(one.low), near(one.high), near(one.limit))
                yield (seed, cable), numbers, (near(low), near(worst), near(limit))

    assert not compared(cases(), at_least=1000)


def test_outcome_of_ampacity():
    def cases():
        for seed, (sections, findings) in enumerate(answered()):
            for cable in capacity.branch_cables(sections):
                outcome = capacity.ampacity_outcome(sections, cable)
                if outcome is not None:
                    yield (seed, cable), findings["ampacity", cable["id"]].outcome, outcome

    assert not compared(cases(), at_least=500)


def test_least_wire_size():
    def cases():
        for seed, (sections, findings) in enumerate(answered()):
            for cable in capacity.branch_cables(sections):
                one = findings.get(("wire-size", cable["id"]))
                size = capacity.least_size(sections, cable)
                if one is not None and size is not None and one.decided_by != "voltage-drop":
                    yield (seed, cable), one.smallest, size

    assert not compared(cases(), at_least=100)


def test_voltage_drop():
    worst = 0.0
    count = none = 0
    for sections, findings in answered():
        ends = [drop.drops(sections, end) for end in (0, 1)]
        if None in ends:
            continue
        for load in sections["load"]:
            one = findings["voltage-drop", load["id"]]
            if {} in ends:
                assert one.value is None
                none += 1
                continue
            count += 1
            for mine, theirs in zip(ends, (one.low, one.high), strict=True):
                worst = max(worst, abs(mine[load["id"]] - theirs) / max(1.0, theirs))
    assert count >= 300
    assert none > 0
    # Of the percent of nominal; near the most that a cable can bring, both loops stop a little short of the end.
    assert worst < 1e-4


@pytest.mark.parametrize("edition", EDITIONS)
def test_box_fill(edition):
    def cases():
        for seed, (sections, _) in enumerate(answered()):
            again = sections | {"job": {"title": "again", "rulebook": edition}}
            circuit = read_circuit(written(again), "again", vocabulary())
            findings = {one.subject: one for one in findings_of(circuit, load_rulebook(edition), (RULE,))}
            for box in sections["box"]:
                low, high = (boxes.needed(sections, box, edition, worst=worst) for worst in (False, True))
                has, opened = boxes.room(box), boxes.touched(sections, box)
                if not opened and has is None:
                    assert box["id"] not in findings
                    continue
                one = findings[box["id"]]
                outcome = boxes.outcome(low, high, has, opened=opened)
                mine = (outcome, near(low[0]), near(high[0]), near(has and has[0]))
                yield (seed, box), (one.outcome, near(one.low), near(one.high), near(one.limit)), mine

    assert not compared(cases(), at_least=1000)


def test_class_2():
    def cases():
        for seed, (sections, findings) in enumerate(answered()):
            for driver in sections.get("driver", ()):
                one = findings["class-2", driver["id"]]
                yield seed, (one.outcome, one.limit), low_voltage.class_2(driver)

    assert not compared(cases(), at_least=100)


def test_low_voltage():
    count = none = 0
    for seed, (sections, findings) in enumerate(answered()):
        if "driver" not in sections or seed % 2:
            continue
        far, gives = findings["low-voltage-drop", "light"], findings["driver-capacity", "driver"]
        best, worst = (low_voltage.far_end(sections, end) for end in (0, 1))
        assert far.limit == pytest.approx(low_voltage.least_voltage(sections))
        if worst is None:
            none += 1
            assert far.value is None
            continue
        count += 1
        assert (far.low, far.high) == pytest.approx((worst[0], best[0]), rel=3e-5)
        assert gives.high == pytest.approx(worst[1], rel=3e-4)
        assert gives.low == pytest.approx(best[1], rel=3e-4)
    assert count >= 40
