"""The smallest set of questions that settles every open answer, found greedily, and what each visit settles."""

from __future__ import annotations

from collections.abc import Sequence

from circuitcheck.advice.asking_again import (
    Step,
    answers,
    found_out,
    open_answers,
    outcomes,
    parts_in,
    standing,
    with_steps,
)
from circuitcheck.advice.questions import Questions
from circuitcheck.advice.turning import looks
from circuitcheck.case import Case
from circuitcheck.case.making import case_of
from circuitcheck.checking.open_values import open_values
from circuitcheck.circuit.guide import visits
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Unknown, VisitSettles
from circuitcheck.tables.rulebook import Rulebook

#: So many questions at most are put together, for so many open answers, with so many parts.
MOST, MOST_OPEN, MOST_PARTS = 24, 40, 60


def least_questions(
    circuit: Circuit, book: Rulebook, unknowns: Sequence[Unknown], not_judged: Sequence[str] = ()
) -> tuple[str, ...]:
    """Keys that settle every open answer if each turns out well: none of them can be left out. Empty where none do.

    Each step takes the entry that the most open answers name, the fewer others they name the more it weighs. What is
    not needed in the end is dropped again. Of a file that leaves very much open nobody is told a set that long.
    ``not_judged``: the checks that the book has nothing for whatever is found out.
    """
    if sum(unknown.decides for unknown in unknowns) > MOST_OPEN or parts_in(circuit) > MOST_PARTS:
        return ()
    order = {unknown.key: place for place, unknown in enumerate(unknowns)}
    taken: list[Step] = []
    state = circuit
    while len(taken) < MOST:
        open_now = open_answers(state, book, not_judged)
        if not open_now:
            return _pruned(circuit, book, taken, not_judged)
        step = _next_step(state, book, open_now, {each.key for each in taken}, order)
        if step is None:
            return ()
        taken.append(step)
        state = with_steps(state, (step,))
    return ()


def visits_settle(
    circuit: Circuit, book: Rulebook, questions: Questions, open_findings: Sequence[Finding]
) -> tuple[VisitSettles, ...]:
    """How many open answers each visit settles, where all that is found there turns out well; the easiest first."""
    at: dict[str, list[str]] = {}
    for unknown in questions.unknowns:
        if unknown.decides and unknown.key in questions.best:
            at.setdefault(unknown.visit, []).append(unknown.key)
    told = []
    for name in sorted(at, key=lambda name: visits()[name].cost):
        keys = set(at[name])
        names = tuple(dict.fromkeys((each.check, each.subject) for each in open_findings if keys & {*each.needs}))
        state = with_steps(circuit, (questions.best[key] for key in at[name]))
        after = outcomes(answers(state, book, names))
        told.append(VisitSettles(name, sum(after.get(each) is not Outcome.UNDETERMINED for each in names)))
    return tuple(told)


def best_step(circuit: Circuit, case: Case, key: str, concerned: Sequence[Finding]) -> Step | None:
    """The value of an entry with which the answers that name it stand best; None where it cannot be changed.

    Of two words after which as much is open, the one after which fewer entries are asked for.
    """
    values = open_values(key, case)
    if values is None:
        return None
    names = tuple(dict.fromkeys((each.check, each.subject) for each in concerned))
    ranked = [
        (
            standing(answers(found_out(circuit, values, value), case.book, names, named=values.span is None)),
            place,
            value,
        )
        for place, value in enumerate(looks(values))
    ]
    return Step(key, values, min(ranked, key=lambda each: each[:2])[2]) if ranked else None


def _next_step(
    state: Circuit, book: Rulebook, open_now: Sequence[Finding], taken: set[str], order: dict[str, int]
) -> Step | None:
    weights: dict[str, float] = {}
    case = case_of(state, book)
    for finding in open_now:
        for key in finding.needs:
            if key not in taken:
                weights[key] = weights.get(key, 0.0) + 1.0 / len(finding.needs)
    for key in sorted(weights, key=lambda key: (-weights[key], order.get(key, len(order)))):
        step = best_step(state, case, key, [finding for finding in open_now if key in finding.needs])
        if step is not None:
            return step
    return None


def _pruned(circuit: Circuit, book: Rulebook, taken: Sequence[Step], not_judged: Sequence[str]) -> tuple[str, ...]:
    kept = list(taken)
    for step in reversed(taken):
        fewer = [each for each in kept if each is not step]
        if not open_answers(with_steps(circuit, fewer), book, not_judged, named=False):
            kept = fewer
    return tuple(step.key for step in kept)
