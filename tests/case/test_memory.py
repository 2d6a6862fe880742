"""What is worked out once is what would be worked out anew, in whatever case, and rests on what was read for it."""

import random
import sys

import pytest

from circuitcheck.case import in_order, once
from circuitcheck.case.choice import Choice, Farthest, Settled, bits_of
from circuitcheck.case.making import case_of
from circuitcheck.case.memory import aside
from circuitcheck.case.reading import Reading
from circuitcheck.case.waiting import entry_of
from tests.rules.build import book, box, cable, circuit, load


def built(lamps=14, **given):
    parts = (load(f"l{n}", "b", current_a=(1, 9), **given) for n in range(lamps))
    return case_of(circuit(box("b"), cable("f", "panel", "b", length_m=None), *parts), book())


def amperes(case):
    return [entry_of(lamp, "current_a") for lamp in case.loads]


class Plan:
    """Functions of a case, each of a few lamps and of others before it; what is looked at next may hang on a value."""

    def __init__(self, dice, case, functions=8):
        self.case, self.entries = case, amperes(case)
        self.steps = [self._steps(dice, number) for number in range(functions)]
        self.kept = [self._kept(number) for number in range(functions)]

    def _steps(self, dice, number):
        lamps = [("lamp", dice.randrange(len(self.entries))) for _ in range(dice.choice((0, 1, 2, 5, 14)))]
        steps = lamps + [("function", dice.randrange(number)) for _ in range(min(number, dice.choice((0, 1, 3))))]
        dice.shuffle(steps)
        return steps

    def _kept(self, number):
        @once
        def kept(case):
            read = lambda place: case.loads[place].current_a  # noqa: E731 - the same walk, other readers
            return self._walk(number, read, lambda other: self.kept[other](case))

        return kept

    def _walk(self, number, read, call):
        total = 0.0
        for kind, place in self.steps[number]:
            if total % 3 == 2:  # what was read so far ends it
                break
            total += (place + 1) * (read(place) if kind == "lamp" else call(place))
        return total

    def plainly(self, number, choice):
        """The value in a case and what is read for it, with nothing kept."""
        reads = set()

        def read(place):
            reads.add(self.entries[place])
            return choice[self.entries[place]]

        def call(other):
            return self._walk(other, read, call)

        return call(number), reads


class Cases:
    """A worst or best case and what stands in it. Every third value hangs on that of the lamp before."""

    def __init__(self, dice, plan):
        self.plan, self.reading, self.settled = plan, plan.case.reading, Settled()
        self.stands = {entry: float(dice.randrange(1, 4)) for entry in plan.entries}
        self.hangs = {plan.entries[n]: plan.entries[n - 1] for n in range(2, len(plan.entries), 3)}
        self.base = Choice(self.reading, self.choose, self.settled)

    def choose(self, entry):
        other = self.hangs.get(entry)
        if other is None:
            self.settled.settle(entry, self.stands[entry])
            return self.stands[entry]
        value = self.stands[entry] + self.reading.choice[other] % 2
        self.settled.hangs_on(entry, (other,))
        return value

    def moved(self, dice):
        count = dice.choice((0, 1, 1, 2, 3, 10, 14))
        moved = {entry: float(dice.randrange(1, 4)) for entry in dice.sample(self.plan.entries, count)}
        kind = Farthest if dice.random() < 0.5 else dict
        return Choice(self.reading, self.choose, self.settled, kind(moved), self.base) if moved else self.base


@pytest.mark.parametrize("seed", range(60))
def test_in_any_case_it_is_what_it_would_be_anew(seed):
    dice = random.Random(seed)
    plan = Plan(dice, built())
    ends = [Cases(dice, plan) for _ in range(3)]
    choices = []
    for _ in range(120):
        choice = dice.choice(choices) if choices and dice.random() < 0.3 else dice.choice(ends).moved(dice)
        choices.append(choice)
        number = dice.randrange(len(plan.kept))
        with plan.case.reading.at(choice) as reading:
            value, read = plan.kept[number](plan.case), reading.reads
        plain, reads = plan.plainly(number, choice)
        assert value == plain
        assert set(read) == reads


@pytest.mark.parametrize("seed", range(20))
def test_two_cases_agree_where_all_values_are_the_same(seed):
    dice = random.Random(seed)
    plan = Plan(dice, built())
    ends = [Cases(dice, plan) for _ in range(2)]
    choices = [dice.choice(ends).moved(dice) for _ in range(12)]
    for _ in range(150):
        entries = dice.sample(plan.entries, dice.choice((1, 1, 2, 4)))
        one, other = dice.choice(choices), dice.choice(choices)
        same = all(one[entry] == other[entry] for entry in entries)
        assert one.agrees(other, bits_of(entries)) is same


def test_what_is_kept_is_found_in_another_case_with_the_same_values():
    calls = []

    @once
    def together(case):
        calls.append(1)
        return sum(lamp.current_a for lamp in case.loads)

    case = built(lamps=12)
    entries = amperes(case)
    bases = []
    for _ in range(2):
        settled = Settled()
        for entry in entries:
            settled.settle(entry, 2.0)
        bases.append(Choice(case.reading, lambda entry: 2.0, settled))
    ways = [{}, {entries[3]: 5.0}, {entries[3]: 5.0}, {entries[3]: 2.0}, {entries[4]: 5.0}]
    for base in bases:
        for way in ways:
            with case.reading.at(Choice(case.reading, lambda entry: 2.0, base.settled, way, base)):
                assert together(case) == 24 + (3 if 5.0 in way.values() else 0)
    assert len(calls) == 3


@pytest.mark.parametrize("moves", [6, 12])
def test_what_is_moved_to_other_values_is_another_case(moves):
    """Of many moves only which entries these are is told; their values are looked at besides."""

    @once
    def together(case):
        return sum(lamp.current_a for lamp in case.loads)

    case = built(lamps=14)
    entries, settled = amperes(case), Settled()
    for entry in entries:
        settled.settle(entry, 1.0)
    base = Choice(case.reading, lambda entry: 1.0, settled)
    for value in (1.0, 2.0, 3.0, 2.0):
        moved = dict.fromkeys(entries[:moves], value)
        with case.reading.at(base):
            assert together(case) == 14
        with case.reading.at(Choice(case.reading, lambda entry: 1.0, settled, moved, base)):
            assert together(case) == 14 + moves * (value - 1)


def test_what_hangs_on_another_entry_that_is_not_read_counts_by_its_value():
    """Of twelve lamps that are read the last draws as many amperes as the first, which nobody looks at."""

    @once
    def all_but_the_first(case):
        return sum(lamp.current_a for lamp in case.loads[1:])

    case = built(lamps=13)
    first, *others, last = amperes(case)
    settled = Settled()
    for entry in (first, *others):
        settled.settle(entry, 1.0)

    def choose(entry):
        assert entry is last
        settled.hangs_on(last, (first,))
        return case.reading.choice[first]

    base = Choice(case.reading, choose, settled)
    for amps in (1.0, 5.0, 3.0, 5.0):
        with case.reading.at(Choice(case.reading, choose, settled, {first: amps}, base)):
            assert all_but_the_first(case) == 11 + amps


def test_two_cases_disagree_on_what_hangs_on_a_moved_entry_though_nobody_looked_at_it_before():
    """The very first entry of a case too, which has the lowest bit."""
    case = built(lamps=2)
    first, second = amperes(case)
    assert first.bit == 1
    settled = Settled()
    settled.settle(second, 1.0)

    def choose(entry):
        settled.hangs_on(first, (second,))
        return case.reading.choice[second]

    base = Choice(case.reading, choose, settled)
    assert not base.agrees(Choice(case.reading, choose, settled, {second: 5.0}, base), first.bit)
    assert base.agrees(Choice(case.reading, choose, settled, {second: 1.0}, base), first.bit)


def test_before_a_case_is_asked_about_nothing_is_read():
    case = built(lamps=2)
    assert amperes(case)[0].bit == 1
    assert case.reading.reads == ()


def test_while_no_case_is_asked_about_the_first_option_counts_where_somebody_looks():
    case = built(lamps=2)
    with case.reading.at(case.reading.first):
        assert [lamp.current_a for lamp in case.loads] == [1, 1]


def test_what_reads_nothing_open_is_kept_for_good():
    calls = []

    @once
    def names(case):
        calls.append(1)
        return [lamp.id for lamp in case.loads]

    case = built(lamps=2)
    for value in (1.0, 2.0):
        with case.reading.at(lambda entry, value=value: value) as reading:
            assert names(case) == ["l0", "l1"]
            assert reading.reads == ()
    assert calls == [1]


def test_aside_nobody_is_asked_for_what_has_no_bound():
    case = built(lamps=1)
    (run,) = case.cables
    length = entry_of(run, "length_m")
    with case.reading.at(lambda entry: 1.0) as reading:
        with aside(case):
            assert run.length_m == 1.0
        assert reading.reads == (length,)
        assert reading.asked_of(reading.read) == 0
        assert run.length_m == 1.0
        assert reading.asked_of(reading.read) == length.bit


def test_what_raises_inside_leaves_what_was_read_before():
    @once
    def raises(case):
        raise ValueError(case.loads[1].current_a)

    case = built(lamps=2)
    with case.reading.at(lambda entry: 1.0) as reading:
        assert case.loads[0].current_a == 1.0
        with pytest.raises(ValueError, match=r"1\.0"):
            raises(case)
        with pytest.raises(ValueError, match=r"1\.0"), aside(case):
            raises(case)
        assert reading.reads == (amperes(case)[0],)


def test_entries_stand_in_the_order_of_the_file_whoever_asked_for_them_first():
    case = built(lamps=20)
    last_first = [entry_of(lamp, "current_a") for lamp in reversed(case.loads)]
    reading = case.reading
    assert reading.entries_of(bits_of(last_first)) == tuple(reversed(last_first))
    assert reading.entries_of(bits_of(last_first[:3])) == tuple(reversed(last_first[:3]))
    assert reading.paths_of(bits_of(last_first[-2:])) == ("load.l0.current", "load.l1.current")


def test_sets_of_entries_by_what_they_can_be():
    lamp = load("l", "b", current_a=(1, 9), quantity=None)
    case = case_of(circuit(box("b"), cable("f", "panel", "b", length_m=None), lamp), book())
    length, current = entry_of(case.cables[0], "length_m"), entry_of(case.loads[0], "current_a")
    quantity = entry_of(case.loads[0], "quantity")
    reading = case.reading
    assert reading.unbounded == length.bit
    assert reading.several & current.bit
    assert not reading.several & length.bit
    assert reading.presumed == quantity.bit
    assert reading.assumed & quantity.bit
    assert reading.of_kind["load.current"] == current.bit
    assert reading.asked_of(length.bit | current.bit) == length.bit


def test_far_along_a_chain_nothing_goes_deep():
    @once
    def up_to(case, number):
        return case.loads[number].current_a + (up_to(case, number - 1) if number else 0.0)

    case = built(lamps=400)
    in_order(case, up_to, lambda: range(400))
    with case.reading.at(lambda entry: 1.0) as reading:
        assert up_to(case, 399) == 400
        assert len(reading.reads) == 400
    assert isinstance(case.reading, Reading)


def test_along_a_chain_longer_than_calls_may_go_deep_nothing_goes_deep():
    @once
    def up_to(case, number):
        return case.loads[number % 2].current_a + (up_to(case, number - 1) if number else 0.0)

    far = 2 * sys.getrecursionlimit()
    case = built(lamps=2)
    in_order(case, up_to, lambda: range(far))
    with case.reading.at(lambda entry: 1.0):
        assert up_to(case, far - 1) == far


def test_what_no_order_was_given_for_may_go_a_little_deep():
    """Each level makes two calls; a hundred levels are far more than the rules go down where no order is given."""

    @once
    def up_to(case, number):
        return case.loads[0].current_a + (up_to(case, number - 1) if number else 0.0)

    case = built(lamps=1)
    with case.reading.at(lambda entry: 1.0):
        assert up_to(case, 99) == 100
