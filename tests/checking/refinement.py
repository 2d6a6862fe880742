"""Refinement: many random circuits are found out step by step, and what is said on the way is compared."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path

from circuitcheck.case import AnyRule
from circuitcheck.checking import check
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook, load_rulebook, vocabulary
from tests.checking import asking
from tests.checking.asking import Asked
from tests.checking.comparing import (
    Answers,
    Contradiction,
    State,
    contradictions,
    grouped,
    worst_of,
    wrong_asking,
    wrong_numbers,
)
from tests.generating.circuits import draw_circuit
from tests.generating.dice import Dice, Shares
from tests.generating.entries import Entry
from tests.generating.narrowing import Narrowing
from tests.generating.opening import opened
from tests.generating.planned import draw_changed

#: The checks by name: each has its page.
CHECKS = frozenset(page.stem for page in (Path(__file__).parents[2] / "docs" / "checks").glob("*.md")) - {"index"}

#: How much is left open, from a circuit that lacks a few entries to one of which little is known.
MIXES = (
    Shares(left_out=0.05, ranges=0.1),
    Shares(left_out=0.15, ranges=0.3),
    Shares(left_out=0.3, ranges=0.15),
    Shares(left_out=0.6, ranges=0.1),
    Shares(left_out=0.0, ranges=0.35, guesses=0.15),
    Shares(left_out=0.02, ranges=0.02, guesses=0.02),
)

#: Every so many circuits one is an example of the project.
_EXAMPLE_EVERY = 5

#: Every so many parts of it are replaced, moved, altered or taken away.
_CHANGED_EVERY = 8

#: Open answers of one circuit for which it is tried whether finding out what they ask for settles them.
_ASKED_A_CIRCUIT = 2


@dataclass(slots=True)
class Tally:
    """What a run has met."""

    circuits: int = 0
    answers: int = 0
    contradictions: dict[str, dict[str, Contradiction]] = field(default_factory=dict)
    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    settled: Counter[str] = field(default_factory=Counter)
    asked: Asked = field(default_factory=Asked)

    def note(self, found: Iterable[Contradiction]) -> None:
        """Count what was found by check and kind, and keep the smallest."""
        for one in found:
            self.counts[one.check, one.kind] += 1
            kept = self.contradictions.setdefault(one.check, {})
            if one.kind not in kept or one.size < kept[one.kind].size:
                kept[one.kind] = one

    def lines(self) -> Iterator[str]:
        """The contradictions by check and kind, with how many there were and one of them."""
        for name in sorted(self.contradictions):
            for kind, smallest in sorted(self.contradictions[name].items()):
                yield f"{name}: {kind}: {self.counts[name, kind]}, such as {smallest.after.file} ({smallest.subject})"


class RuleRaisedError(Exception):
    """A rule raised; ``contradiction`` says which."""

    def __init__(self, contradiction: Contradiction) -> None:
        self.contradiction = contradiction
        super().__init__(str(contradiction))


def answers_of(circuit: Circuit, book: Rulebook, rules: Sequence[AnyRule] = ALL_RULES) -> Answers:
    """The findings by check and subject. Raises: RuleRaisedError."""
    report = check(circuit, book, rules)
    for fault in report.faults:
        kind = f"raises {fault.says.partition(':')[0]}"
        raise RuleRaisedError(Contradiction(fault.check, kind, "", circuit, circuit, fault.says))
    return grouped(report)


def states_of(circuit: Circuit, dice: Dice, book: Rulebook) -> list[State]:
    """The circuit as it is, with part of the facts, with all facts, and with what is planned as well: known.

    Facts are settled first, so that a caution that turns to a failure by them alone is seen.
    """
    narrowing = Narrowing(dice, book)
    states = [State(circuit, answers_of(circuit, book))]
    for share, plans in ((0.5, False), (1.0, False), (0.6, True), (1.0, True)):
        circuit = narrowing.narrowed(circuit, share, _everything if plans else _facts)
        states.append(State(circuit, answers_of(circuit, book), plans, known=plans and share >= 1))
    return states


def _facts(entry: Entry, circuit: Circuit) -> bool:
    return not entry.is_plan(circuit)


def _everything(entry: Entry, circuit: Circuit) -> bool:
    return True


def run_until(answers: int, first_seed: int = 0) -> Tally:
    """As ``run``, from this seed on until so many answers were compared."""
    tally = Tally()
    seed = first_seed
    while tally.answers < answers:
        run((seed,), tally)
        seed += 1
    return tally


def run(seeds: Iterable[int], tally: Tally | None = None, *, asked_a_circuit: int = _ASKED_A_CIRCUIT) -> Tally:
    """Draw a circuit for each seed, find out the rest, and compare all that was said on the way.

    ``asked_a_circuit``: for so many of its open answers what they ask for is found out.
    """
    tally = tally or Tally()
    for seed in seeds:
        circuit = circuit_of_seed(seed)
        book = load_rulebook(circuit.job.rulebook)
        tally.circuits += 1
        try:
            states = states_of(circuit, Dice(f"find out {seed}"), book)
            _ask(states[0], tally, Dice(f"ask {seed}"), book, asked_a_circuit)
        except RuleRaisedError as error:
            tally.note([error.contradiction])
            continue
        tally.answers += sum(len(state.answers) for state in states[1:])
        for state in states:
            tally.note([*wrong_numbers(state), *wrong_asking(state)])
        for place, before in enumerate(states):
            for after in states[place + 1 :]:
                tally.note(contradictions(before, after, by_plans=after.plans))
        _count_settled(states[0], tally)
    return tally


def circuit_of_seed(seed: int) -> Circuit:
    """A circuit from nothing, or one of the examples with much of it forgotten: real houses hang together better.

    Now and then one as it will be, with its changes carried out.
    """
    shares = MIXES[seed % len(MIXES)]
    if seed % _CHANGED_EVERY == _CHANGED_EVERY - 1:
        return as_planned(draw_changed(seed, shares))
    if seed % _EXAMPLE_EVERY:
        return draw_circuit(seed, shares)
    example = examples()[seed // _EXAMPLE_EVERY % len(examples())]
    return replace(opened(example, Dice(f"forget {seed}"), shares), file=f"{seed}: {Path(example.file).name}")


@cache
def examples() -> tuple[Circuit, ...]:
    """The examples that the project ships."""
    files = sorted((Path(__file__).parents[2] / "examples").glob("*.circuit.toml"))
    return tuple(read_file(file, vocabulary()) for file in files)


def _ask(state: State, tally: Tally, dice: Dice, book: Rulebook, most: int) -> None:
    """Ask on for a few of the open answers, since each takes a check of its own."""
    still_open = list(asking.open_answers(finding for findings in state.answers.values() for finding in findings))
    narrowing = Narrowing(dice, book)

    def findings_of(circuit: Circuit) -> list[Finding]:
        return [finding for findings in answers_of(circuit, book).values() for finding in findings]

    for finding in dice.random.sample(still_open, min(most, len(still_open))):
        tally.asked.ask(state.circuit, finding, narrowing, findings_of)


def _count_settled(state: State, tally: Tally) -> None:
    for (name, _), findings in state.answers.items():
        if worst_of(findings) is not Outcome.UNDETERMINED:
            tally.settled[name] += 1
