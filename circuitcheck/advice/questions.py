"""What to find out first: what each open entry can do to the answer, at which value it turns, and where one goes.

Every entry is changed in the circuit and the same rules are asked again. What nobody would find out by that stays as
the check itself named it.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from circuitcheck.advice.asking_again import (
    Name,
    Progress,
    Standing,
    Step,
    answers,
    effort,
    found_out,
    outcomes,
    standing,
)
from circuitcheck.advice.turning import looks, where_it_holds
from circuitcheck.case.making import case_of
from circuitcheck.checking.open_values import OpenValues, open_values
from circuitcheck.circuit.guide import visits
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Report, Unknown, Verdict
from circuitcheck.tables.rulebook import Rulebook

#: So many answers are asked again for one file, fewer the longer a check of it takes.
MOST_ASKED = 1200
#: To change the circuit takes as long as so many answers.
_A_CHANGE = 2
_GOOD = (Outcome.PASS, Outcome.CAUTION)


class Questions(NamedTuple):
    """The unknowns in the order in which to find them out, and of each that was tried its best value."""

    unknowns: tuple[Unknown, ...]
    best: Mapping[str, Step]


def questions_of(report: Report, circuit: Circuit, book: Rulebook, progress: Progress = lambda _: None) -> Questions:
    """The report's unknowns with what each can do, in the order in which to find them out.

    Those that can end the job by themselves come first, then those that turn the most answers, then the easiest visit.
    Where something fails already no entry ends anything: nothing that is found out changes the verdict. Of very many
    those that the most open answers name are tried; ``alone`` of the others stays None.
    """
    case = case_of(circuit, book)
    later = {str(entry.ref) for entry in case.entries if entry.possible.later is not None}
    ended = report.verdict is Verdict.DOES_NOT_FIT or bool(report.stop)
    concerned = {
        unknown.key: [each for each in report.findings if _rests_on(each, unknown.key, later)]
        for unknown in report.unknowns
    }
    left, asked = MOST_ASKED / effort(report, circuit), 0
    told: dict[str, Unknown] = {}
    best: dict[str, Step] = {}
    for unknown in sorted(report.unknowns, key=lambda each: (not each.decides, -len(concerned[each.key]))):
        about = concerned[unknown.key]
        values = open_values(unknown.key, case) if about and left > 0 else None
        if values is None:
            told[unknown.key] = replace(unknown, alone=False if not about or ended else None)
            continue
        question = _Question(unknown, about, values, circuit, book)
        told[unknown.key] = question.answered(ended=ended)
        best[unknown.key] = question.best
        left -= question.asked
        asked += question.asked
        progress(asked)
    cost = {name: visit.cost for name, visit in visits().items()}
    order = sorted(
        (told[unknown.key] for unknown in report.unknowns),
        key=lambda each: (not each.decides, not each.alone, -len(each.checks), cost.get(each.visit, len(cost))),
    )
    return Questions(tuple(order), best)


def _rests_on(finding: Finding, key: str, later: Container[str]) -> bool:
    """Whether finding out an entry may turn this answer: an open one that names it, or a caution that only what people
    do leaves (how long a load stays on, what is plugged in, work still to be done).
    """
    if finding.outcome is Outcome.UNDETERMINED:
        return key in finding.needs
    return finding.outcome is Outcome.CAUTION and key in later and key in (*finding.needs, *finding.assumed_keys)


class _Question:
    """One open entry, and the open answers that name it.

    Of a number the two ends are tried first. Between them, and where the end of a region is looked for, only the
    answers are asked again that turn at one of the ends: of a file that leaves much open they are few.
    """

    def __init__(
        self, unknown: Unknown, concerned: Sequence[Finding], values: OpenValues, circuit: Circuit, book: Rulebook
    ) -> None:
        self.unknown, self.values, self.circuit, self.book = unknown, values, circuit, book
        self._open: dict[Name, Finding] = {(each.check, each.subject): each for each in concerned}
        self.names: tuple[Name, ...] = tuple(self._open)
        self._turned: tuple[Name, ...] = ()
        self._told: dict[Any, dict[Name, Outcome]] = {}
        self._standing: dict[Any, Standing] = {}
        self.asked = 0
        """How many answers were asked again."""

    @property
    def best(self) -> Step:
        """The value with which the answers stand best."""
        return Step(self.unknown.key, self.values, min(self._standing, key=self._standing.__getitem__))

    def answered(self, *, ended: bool) -> Unknown:
        """The entry with what it can do. ``ended``: something fails whatever it turns out to be."""
        values = looks(self.values)
        first = values if self.values.span is None else (values[0], values[-1])
        for value in first:
            self._ask(value, self.names)
        self._turned = tuple(name for name in self.names if any(self._is_turned(name, value) for value in first))
        tried = [self._outcomes(value) for value in values] if self._turned else []
        good = {name for name in self._turned if any(each[name] in _GOOD for each in tried)}
        bad = {name for name in self._turned if any(each[name] is Outcome.FAIL for each in tried)}
        return replace(
            self.unknown,
            alone=bool(bad) and not ended,
            settles=self._settled(good) if self.unknown.decides else None,
            ends=where_it_holds(self.values, self._ends) if bad and not ended else None,
            checks=tuple(name for name in self.names if name in bad or (name in good and self.unknown.decides)),
        )

    def _settled(self, good: set[Name]) -> str | None:
        """Where every answer that it can settle by itself is settled, else where any of them is."""
        if not good:
            return None
        ways: tuple[Callable[[Any], bool], ...] = (
            lambda value: not self._ends(value) and all(self._is_good(name, value) for name in good),
            lambda value: not self._ends(value) and any(self._is_good(name, value) for name in good),
            lambda value: any(self._is_good(name, value) for name in good),
        )
        return next((text for way in ways if (text := where_it_holds(self.values, way)) is not None), None)

    def _is_turned(self, name: Name, value: Any) -> bool:
        outcome = self._told[value][name]
        return outcome is not self._open[name].outcome

    def _is_good(self, name: Name, value: Any) -> bool:
        return self._outcomes(value)[name] in _GOOD

    def _ends(self, value: Any) -> bool:
        return Outcome.FAIL in self._outcomes(value).values()

    def _outcomes(self, value: Any) -> Mapping[Name, Outcome]:
        """The outcome of each answer that this entry turns, at a value."""
        return self._ask(value, self._turned)

    def _ask(self, value: Any, names: Sequence[Name]) -> Mapping[Name, Outcome]:
        told = self._told.setdefault(value, {})
        missing = [name for name in names if name not in told]
        if missing:
            findings = answers(found_out(self.circuit, self.values, value), self.book, missing)
            now = outcomes(findings)
            told.update({name: now.get(name, Outcome.PASS) for name in missing})
            self.asked += _A_CHANGE + len(missing)
            others = [finding for name, finding in self._open.items() if name not in missing]
            self._standing.setdefault(value, standing((*findings, *others)))
        return told
