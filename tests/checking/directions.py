"""Which way each entry is worse, tried on random cases: ``python -m tests.checking.directions [SEEDS] [CHECK …]``.

In a case drawn at random one entry is moved through its values, the best first by what the rule declares. The answer
may then only become worse; and values that count as alike must be answered alike.
"""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

from circuitcheck.case import EACH, Case, CaseRule
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules
from circuitcheck.checking.asking import RANK, subjects_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import load_rulebook
from tests.generating.circuits import draw_circuit
from tests.generating.dice import Dice, Shares
from tests.generating.possible import whole_span

#: How much is left open: most of it, so that every entry is met while it is open, or ranges and guesses.
MIXES = (Shares(left_out=0.7, ranges=0.2), Shares(left_out=0.4, ranges=0.3), Shares(ranges=0.5, guesses=0.4))
#: How many entries of one question are moved.
_MOVED = 3
#: Numbers that differ by no more than this share are the same.
_SAME = 1e-9

#: What is set aside, each with its reason.
REASONS = tomllib.loads(Path(__file__).with_name("unseen_directions.toml").read_text("utf-8"))

Declaration = tuple[str, str]


@dataclass(slots=True)
class Tried:
    """What was seen. Keys: the check and the entry, ``("box-fill", "cable.size")``.

    moved: how often an entry was moved. matters: how often the answer became worse, ``seeds``: in which circuits.
    wrong: where it became better though the rule says worse, with one example as text; wrong_numbers: where only its
    number did.
    """

    moved: Counter[Declaration] = field(default_factory=Counter)
    seeds: dict[Declaration, set[int]] = field(default_factory=dict)
    matters: Counter[Declaration] = field(default_factory=Counter)
    wrong: dict[Declaration, str] = field(default_factory=dict)
    wrong_numbers: dict[Declaration, str] = field(default_factory=dict)


class Bad(NamedTuple):
    """How bad an answer is, for comparing: its outcome, and how near the number is to what it may be.

    Nothing said is as good as a pass. Where the tables hold nothing it is no better than a failure, nor worse: the
    engine leaves both open. ``share``: value to limit, so that more is worse; None where there is no such number.
    ``no_row``: the tables may hold nothing here.
    """

    rank: int
    share: float | None
    no_row: bool = False

    def worse_than(self, other: Bad) -> bool:
        """Whether the outcome is worse; of two that pass or fail alike whether the number is."""
        if self.rank != other.rank:
            return self.rank > other.rank
        if self.share is None or other.share is None:
            return False
        return self.share > other.share + _SAME * max(abs(self.share), abs(other.share))


def how_bad(answer: Any) -> Bad:
    """How bad an answer is."""
    if answer is None:
        return Bad(RANK[Outcome.PASS], None, no_row=True)
    no_row = answer.outcome is Outcome.UNDETERMINED
    rank = RANK[Outcome.FAIL if no_row else answer.outcome]
    value, limit = answer.value, answer.limit
    if not value or not limit or answer.outcome not in (Outcome.PASS, Outcome.FAIL):
        return Bad(rank, None, no_row)
    share = limit / value if answer.at_least else value / limit
    # What fails though its number is within the limit fails by something else.
    return Bad(rank, share if (share > 1) is (answer.outcome is Outcome.FAIL) else None)


def try_directions(seeds: Iterable[int], rules: Iterable[CaseRule[Any]], only: str = "") -> Tried:
    """Move entries of random cases of these circuits. ``only``: no entry but of this kind."""
    tried = Tried()
    rules = tuple(rules)
    for seed in seeds:
        circuit = draw_circuit(seed, MIXES[seed % len(MIXES)])
        case = case_of(circuit, load_rulebook(circuit.job.rulebook))
        for rule in rules:
            for place, subject in enumerate(subjects_of(rule, case)):
                _try(rule, subject, case, _Chosen(f"{seed} {rule.name} {place}", rule.doubts), tried, seed, only)
    return tried


def try_in(case: Case, rule: CaseRule[Any], seed: int, kind: str) -> Tried:
    """Move entries of one kind in one case, for each subject of a rule."""
    tried = Tried()
    for place, subject in enumerate(subjects_of(rule, case)):
        _try(rule, subject, case, _Chosen(f"{seed} {rule.name} {place}", rule.doubts), tried, seed, kind)
    return tried


def _try(rule: CaseRule[Any], subject: Any, case: Case, chosen: _Chosen, tried: Tried, seed: int, only: str) -> None:
    with case.reading.at(chosen) as reading:
        rule.answer(subject, case, case.book)
        reads = reading.reads
    declared = [entry for entry in reads if entry.kind in rule.worse and len(entry.possible.options) > 1]
    declared = [entry for entry in declared if rule.worse[entry.kind] is not EACH and not chosen.presumes(entry)]
    few = sorted(declared, key=lambda entry: tried.moved[rule.name, entry.kind])[:_MOVED]
    for entry in (entry for entry in declared if entry.kind == only) if only else few:
        name = rule.name, entry.kind
        with case.reading.at(chosen):
            keys = [(rule.worse[entry.kind](value, entry.part, case), value) for value in chosen.values_of(entry)]
        if any(key is EACH for key, _ in keys):
            continue
        tried.moved[name] += 1
        answers = []
        for key, value in keys:
            with case.reading.at(chosen.moved(entry, value)):
                answers.append((key, how_bad(rule.answer(subject, case, case.book)), value))
        if name[1] in REASONS["open"].get(name[0], ()):
            answers = [each for each in answers if not each[1].no_row]
        answers.sort(key=lambda answer: answer[0])
        if any(two[1].worse_than(one[1]) for one, two in pairwise(answers)):
            tried.matters[name] += 1
            tried.seeds.setdefault(name, set()).add(seed)
        for (_, bad, value), (_, good, other) in _wrong(answers) if answers else ():
            where = tried.wrong if bad.rank != good.rank else tried.wrong_numbers
            where.setdefault(
                name,
                f"seed {seed}: {entry.ref}: {value!r} is said to be no worse than {other!r}, and answers {bad}, "
                f"then {good}",
            )


Placed = tuple[Any, Bad, Any]


def _wrong(answers: list[Placed]) -> Iterator[tuple[Placed, Placed]]:
    """Pairs of which the first is said to be no worse, and is.

    The engine asks for the best and the worst value alone, so what lies between may stand in any order. Of values that
    count as the best (or the worst) alike it may ask for any.
    """
    best, worst = answers[0][0], answers[-1][0]
    for first in answers:
        for second in answers:
            if first[1].worse_than(second[1]) and (first[0] == best or second[0] == worst):
                yield first, second


def values_of(entry: OpenEntry, dice: Dice) -> tuple[Any, ...]:
    """The values to move an entry through: all its options, and of a span something between."""
    options = entry.possible.options
    low, high = options[0], options[-1]
    if not isinstance(low, float) or not isinstance(high, float) or entry.kind == "supply.breaker":
        return options
    if not entry.possible.bounded:
        key = SECTIONS[entry.ref.section].keys[entry.kind.partition(".")[2]]
        usual = whole_span(entry.ref.section, key).usual
        low, high = max(low, usual[0]), min(high, usual[1])
    return (*options, *(dice.between(low, high) for _ in range(2)))


class _Chosen:
    """A case drawn at random: a value for each open entry, whenever and in whatever order they are asked for."""

    def __init__(self, name: str, doubts: frozenset[str]) -> None:
        """``doubts``: of what is presumed, the kinds that the rule takes as open."""
        self.name, self.doubts = name, doubts

    def presumes(self, entry: OpenEntry) -> bool:
        """Whether it counts as its first option."""
        return entry.possible.presumed and entry.kind not in self.doubts

    def __call__(self, entry: OpenEntry) -> Any:
        dice = Dice(f"case {self.name} {entry.ref} {entry.kind}")
        return dice.of(entry.possible.options[:1] if self.presumes(entry) else values_of(entry, dice))

    def values_of(self, entry: OpenEntry) -> tuple[Any, ...]:
        """The values to move an entry through."""
        return values_of(entry, Dice(f"moved {self.name} {entry.ref} {entry.kind}"))

    def moved(self, entry: OpenEntry, value: Any) -> Callable[[OpenEntry], Any]:
        """The same case with one entry moved."""
        return lambda asked: value if asked is entry else self(asked)


def turned(rule: CaseRule[Any], kind: str) -> CaseRule[Any]:
    """The rule with one declaration turned round."""
    direction = rule.worse[kind]

    def other_way(value: Any, part: Any, case: Case) -> Any:
        key = direction(value, part, case)
        return EACH if key is EACH else _Less(key)

    return replace(rule, worse={**rule.worse, kind: other_way})


class _Less:
    """Sorts the other way."""

    def __init__(self, key: Any) -> None:
        self.key = key

    def __lt__(self, other: _Less) -> bool:
        return bool(other.key < self.key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Less) and bool(other.key == self.key)

    def __hash__(self) -> int:
        return hash(self.key)


def declarations(rules: Iterable[CaseRule[Any]]) -> Iterator[tuple[CaseRule[Any], str]]:
    """Every entry of which a rule says which way is worse."""
    return ((rule, kind) for rule in rules for kind, direction in rule.worse.items() if direction is not EACH)


def unnoticed(rules: Iterable[CaseRule[Any]], seeds: Iterable[int]) -> list[Declaration]:
    """The declarations that nothing in these circuits tells from the other way round."""
    waiting = {(rule.name, kind): turned(rule, kind) for rule, kind in declarations(rules)}
    for seed in seeds:
        circuit = draw_circuit(seed, MIXES[seed % len(MIXES)])
        case = case_of(circuit, load_rulebook(circuit.job.rulebook))
        words = ("", "listed ", "rated ", "motor ")
        kinds = {f"{word}{entry.kind}" for entry in case.entries for word in words}
        for name, rule in [(name, rule) for name, rule in waiting.items() if name[1] in kinds]:
            tried = try_in(case, rule, seed, name[1])
            if tried.wrong or tried.wrong_numbers:
                del waiting[name]
    return sorted(waiting)


def main(arguments: list[str]) -> None:
    """Print which declarations are wrong, and which were never seen to matter."""
    seeds = int(arguments.pop(0)) if arguments and arguments[0].isdigit() else 100
    rules = [rule for rule in case_rules() if not arguments or rule.name in arguments]
    tried = try_directions(range(seeds), rules)
    for (check, kind), example in sorted(tried.wrong.items()):
        print(f"WRONG {check}: {kind}: {example}")
    for (check, kind), example in sorted(tried.wrong_numbers.items()):
        print(f"wrong numbers {check}: {kind}: {example}")
    every = [(rule.name, kind) for rule, kind in declarations(rules)]
    unseen = sorted(name for name in every if not tried.matters[name])
    for check, kind in unseen:
        print(f"never seen to matter: {check}: {kind} (moved {tried.moved[check, kind]} times)")
    print(f"{len(every)} declarations, {len(every) - len(unseen)} seen to matter, {len(tried.wrong)} wrong")


if __name__ == "__main__":
    main(sys.argv[1:])
