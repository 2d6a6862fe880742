"""Random circuit files, each answered twice: by the program and by a second opinion that shares nothing with it.

The second opinion was written from the published description of the checks and from published tables alone, before the
rules were read. It reads the same text with a reader of its own, and its figures are typed in ``printed.py`` with their
sources. The seeds are fixed: 161 of them in ``make test``, all 500 in ``make test-long``.
"""

from functools import cache

import pytest

from circuitcheck.checking import findings_of
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.rules import ALL_RULES
from circuitcheck.rules.capacity.box_fill import RULE
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from tests.oracle import boxes, capacity, drop, low_voltage
from tests.oracle.circuits import EDITIONS, random_circuit
from tests.oracle.reading import written

ALL_SEEDS = range(500)
#: The first, and the one in which a cable cannot bring what is asked of it at all.
FEW_SEEDS = (*range(160), 333)
ASKED = {
    "ampacity", "breaker-vs-wire", "class-2", "driver-capacity", "load-share", "low-voltage-drop", "voltage-drop",
    "wire-size",
}  # fmt: skip
RULES = [rule for rule in ALL_RULES if rule.name in ASKED]

#: What is dear is worked out once: all of these stay in one process.
pytestmark = pytest.mark.xdist_group("second opinion")


@pytest.fixture(scope="module", params=[FEW_SEEDS, pytest.param(ALL_SEEDS, marks=pytest.mark.long)], ids=["few", "all"])
def seeds(request):
    """The circuits that are compared."""
    return request.param


@cache
def of_seed(seed):
    """(sections, (check, subject) -> finding) of a seed."""
    sections = random_circuit(seed)
    circuit = read_circuit(written(sections), f"seed {seed}", vocabulary())
    findings = findings_of(circuit, load_rulebook(circuit.job.rulebook), RULES)
    return sections, {(one.check, one.subject): one for one in findings}


@pytest.fixture
def answered(seeds):
    """seed -> (sections, (check, subject) -> finding)."""
    return {seed: of_seed(seed) for seed in seeds}


@pytest.fixture
def share(seeds):
    """The share of all seeds that is compared."""
    return len(seeds) / len(ALL_SEEDS)


def compared(cases, *, at_least):
    """The cases in which both do not agree, after a look that there were enough of them."""
    cases = list(cases)
    assert len(cases) >= at_least
    return [case for case in cases if case[1] != case[2]]


def near(value):
    """A number to five places, pushed off the halves so that float noise does not part two equal ones."""
    return None if value is None else round(value + 1e-9, 5) + 0.0


def test_load_share(answered, share):
    def cases():
        for seed, (sections, findings) in answered.items():
            one = findings["load-share", "circuit"]
            outcome, low, worst, breaker = capacity.load_share(sections)
            yield (
                seed,
                (one.outcome, near(one.low), near(one.high), one.limit),
                (outcome, near(low), near(worst), breaker),
            )

    assert not compared(cases(), at_least=500 * share)


def test_breaker_against_wire(answered, share):
    def cases():
        for seed, (sections, findings) in answered.items():
            breaker = capacity.ends(sections["supply"]["breaker"])[0]
            for cable in capacity.branch_cables(sections):
                one = findings["breaker-vs-wire", cable["id"]]
                limits = capacity.greatest_breaker(sections, cable)
                worst, best = min(limits), max(limits)
                outcome = "fail" if breaker > best else "undetermined" if breaker > worst else "pass"
                yield (seed, cable), (one.outcome, one.limit), (outcome, worst)

    assert not compared(cases(), at_least=1000 * share)


def test_ampacity(answered, share):
    def cases():
        for seed, (sections, findings) in answered.items():
            for cable in capacity.branch_cables(sections):
                one = findings["ampacity", cable["id"]]
                low, worst, limit = capacity.ampacity_numbers(sections, cable)
                numbers = (near(one.low), near(one.high), near(one.limit))
                yield (seed, cable), numbers, (near(low), near(worst), near(limit))

    assert not compared(cases(), at_least=1000 * share)


def test_outcome_of_ampacity(answered, share):
    def cases():
        for seed, (sections, findings) in answered.items():
            for cable in capacity.branch_cables(sections):
                outcome = capacity.ampacity_outcome(sections, cable)
                if outcome is not None:
                    yield (seed, cable), findings["ampacity", cable["id"]].outcome, outcome

    assert not compared(cases(), at_least=500 * share)


def test_least_wire_size(answered, share):
    def cases():
        for seed, (sections, findings) in answered.items():
            for cable in capacity.branch_cables(sections):
                one = findings.get(("wire-size", cable["id"]))
                size = capacity.least_size(sections, cable)
                if one is not None and size is not None and one.decided_by != "voltage-drop":
                    yield (seed, cable), one.smallest, size

    assert not compared(cases(), at_least=100 * share)


def test_voltage_drop(answered, share):
    worst = 0.0
    count = none = 0
    for sections, findings in answered.values():
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
    assert count >= 300 * share
    assert none > 0
    # Of the percent of nominal; near the most that a cable can bring, both loops stop a little short of the end.
    assert worst < 1e-4


@pytest.mark.parametrize("edition", EDITIONS)
def test_box_fill(edition, answered, share):
    def cases():
        for seed, (sections, _) in answered.items():
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

    assert not compared(cases(), at_least=1000 * share)


def test_class_2(answered, share):
    def cases():
        for seed, (sections, findings) in answered.items():
            for driver in sections.get("driver", ()):
                one = findings["class-2", driver["id"]]
                yield seed, (one.outcome, one.limit), low_voltage.class_2(driver)

    assert not compared(cases(), at_least=100 * share)


def test_low_voltage(answered, share):
    count = none = 0
    for seed, (sections, findings) in answered.items():
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
    assert count >= 40 * share
