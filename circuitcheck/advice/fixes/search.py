"""The search: candidates for each finding that pass its check, combined from cheap to dear, re-checked in full."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from circuitcheck.advice.asking_again import effort
from circuitcheck.advice.fixes.combining import combined
from circuitcheck.advice.fixes.found import Fix, Fixes, Subject
from circuitcheck.advice.fixes.kinds import CALL, KINDS, other_ways, steps_for, ways_not_tried
from circuitcheck.advice.fixes.step import Asked, Step
from circuitcheck.case import AnyRule
from circuitcheck.checking import check
from circuitcheck.checking.asking_all import fault_written_down
from circuitcheck.checking.would_do import answers_about
from circuitcheck.circuit.edits import Edit, EditError, edited
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.findings import Fault, Finding, NotJudged, Outcome, Report
from circuitcheck.outcomes import answer_words, check_words
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook, vocabulary

#: Most fixes that are shown, candidates that are kept for a finding, and circuits that are checked in full.
MOST_FIXES, MOST_WAYS, MOST_CHECKS = 6, 8, 40

#: Of a large circuit, or one of which little is known, fewer circuits are checked in full, but this many; and so many
#: changes of a small one are looked at by the check that complains, and at least so many of any.
_LEAST_CHECKS, _MOST_LOOKS, _LEAST_LOOKS = 6, 600, 60

#: So many answers that a change breaks are mended by more changes.
_MOST_MENDED = 4

NOTHING = "Nothing fails and nothing is open, so there is nothing to fix."

_BAD = (Outcome.FAIL, Outcome.UNDETERMINED)

Progress = Callable[[int], None]


def fixes_of(
    circuit: Circuit,
    book: Rulebook,
    report: Report | None = None,
    *,
    most_checks: int = MOST_CHECKS,
    progress: Progress = lambda _: None,
) -> Fixes:
    """The fixes of a circuit under a rulebook. ``report``: what ``check`` says of it, where that is known already.

    most_checks: how many changed circuits are checked in full at the most. progress: is told how many changes were
    looked at, now and then; what it raises ends the search.
    """
    report = report if report is not None else check(circuit, book)
    if report.stop:
        return Fixes((), (CALL,), f"{CALL} Reason: {report.stop[0].says}", report.faults)
    if report.faults:
        return _none_through(report.faults)
    search = _Search(circuit, book, report, most_checks, progress)
    if not search.bad:
        found = search.for_cautions()
        return Fixes(tuple(found), search.told_not_tried(), None if found else NOTHING, search.faults)
    fixes = sorted(search.run(), key=lambda fix: fix.costs)[:MOST_FIXES]
    ways = other_ways({finding.check for finding in search.failing})
    return Fixes(tuple(fixes), (*ways, *search.told_not_tried()), None if fixes else _why_none(search), search.faults)


def fixes_for(
    circuit: Circuit, book: Rulebook, report: Report, finding: Finding, *, progress: Progress = lambda _: None
) -> Fixes:
    """The fixes of one finding that fails, is open or is a caution: what clears it alone, then with more.

    Those that clear it alone leave other findings as they are. ``progress`` as for ``fixes_of``.
    """
    if report.stop or finding.outcome is Outcome.PASS:
        return fixes_of(circuit, book, report, progress=progress)
    if report.faults:
        return _none_through(report.faults)
    search, subject = _Search(circuit, book, report, MOST_CHECKS, progress), _subject(finding)
    ways = search.ways(finding, *({finding.outcome} - set(_BAD)))
    alone = sorted((fix for fix in search.each(ways) if subject in fix.clears), key=lambda fix: fix.costs)
    more = [fix for fix in search.run() if subject in fix.clears] if finding.outcome is Outcome.FAIL else []
    known = {fix.key for fix in alone}
    further = sorted((fix for fix in more if fix.key not in known), key=lambda fix: fix.costs)
    found = (*alone[: MOST_FIXES - min(len(further), MOST_FIXES // 2)], *further[: MOST_FIXES // 2])
    named = answer_words(finding)
    none = f"None of the changes that were tried clears this and breaks nothing else: {named}."
    if finding.check not in KINDS:
        none = f"No change to the plan answers this; the finding tells what to do: {named}."
    elif finding.outcome is Outcome.UNDETERMINED:
        none = f"What is still unknown has to be found out; no change to the plan takes its place: {named}."
    told = (*other_ways({finding.check}), *search.told_not_tried())
    return Fixes(found, told, None if found else none, search.faults)


def first_fix(circuit: Circuit, book: Rulebook, report: Report) -> Fix | None:
    """The first fix that the search comes upon: for whoever wants one soon, not the smallest."""
    return None if report.stop else next(_Search(circuit, book, report).run(), None)


def carried_out(circuit: Circuit, book: Rulebook, report: Report, steps: Sequence[Step]) -> Fix | None:
    """The steps carried out together and re-checked in full; None where they clear nothing, or break something."""
    return next(_Search(circuit, book, report).tried(tuple(steps)), None)


def _none_through(faults: tuple[Fault, ...]) -> Fixes:
    names = ", ".join(check_words(fault.check) for fault in faults)
    none = f"No change was tried: {names} could not be checked, and a change may break just that."
    return Fixes((), (), none, faults)


def _why_none(search: _Search) -> str:
    failing = [finding for finding in search.bad if finding.outcome is Outcome.FAIL]
    if not failing:
        return "Nothing fails: what is still unknown has to be found out first; no change to the plan replaces that."
    told = [answer_words(finding) for finding in failing[:6]]
    names = ", ".join(dict.fromkeys(told))
    return f"None of the changes that were tried clears this and breaks nothing else: {names}."


class _Search:
    def __init__(
        self,
        circuit: Circuit,
        book: Rulebook,
        report: Report,
        most_checks: int = MOST_CHECKS,
        progress: Progress = lambda _: None,
    ) -> None:
        self.circuit, self.book, self.report = circuit, book, report
        self.planned = as_planned(circuit)
        self.bad = [finding for finding in report.findings if finding.outcome in _BAD]
        self._outcomes = _outcomes(report.findings)
        self._rules = {rule.name: rule for rule in ALL_RULES}
        self._words = vocabulary()
        scale = effort(report, circuit)
        self._checks, self._most_checks = 0, max(min(most_checks, _LEAST_CHECKS), round(most_checks / scale))
        self._most_looks = max(_LEAST_LOOKS, round(_MOST_LOOKS / scale))
        self._looked_at, self._progress = 0, progress
        self._broken: list[Finding] = []
        self._not_tried: dict[str, None] = {}
        self._faults: dict[Fault, None] = {}

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Checks that could not be done of a circuit that was changed, each fault once."""
        return tuple(self._faults)

    def told_not_tried(self) -> tuple[str, ...]:
        """What is said of changes that were not tried, since the book has no number for them."""
        return ways_not_tried(self.book, self._not_tried)

    @cached_property
    def failing(self) -> list[Finding]:
        """The findings that fail."""
        return [finding for finding in self.bad if finding.outcome is Outcome.FAIL]

    def run(self) -> Iterator[Fix]:
        """Fixes as they are found. Those that leave nothing failing come first, as far as there are any."""
        ways = {_subject(finding): self.ways(finding) for finding in self.failing}
        solvable = [found for found in ways.values() if found]
        whole: list[frozenset[str]] = []
        for steps in combined(solvable):
            if self._checks >= self._most_checks or len(whole) >= MOST_FIXES:
                break
            keys = frozenset(step.key for step in steps)
            if any(smaller <= keys for smaller in whole):
                continue
            for fix in self._tried_or_mended(steps):
                whole.append(keys)
                yield fix
        if not whole and len(solvable) > 1:
            for found in solvable:
                yield from itertools.islice(self.each(found), 1)
        for finding in self.bad:
            if finding.outcome is Outcome.UNDETERMINED and not self.failing:
                yield from itertools.islice(self.each(self.ways(finding)), MOST_FIXES)

    def _tried_or_mended(self, steps: tuple[Step, ...]) -> Iterator[Fix]:
        """The steps together; where they break something else, together with what mends that: thicker cable may want a
        larger box.
        """
        self._broken.clear()
        fixes = list(self.tried(steps))
        if not fixes and 0 < len(self._broken) <= _MOST_MENDED and self._checks < self._most_checks:
            fixes = list(self.tried((*steps, *self._mending(steps, tuple(self._broken)))))
        yield from fixes

    def _mending(self, steps: Sequence[Step], broken: Iterable[Finding]) -> Iterator[Step]:
        """For each answer that the steps break, the first step after which its check complains no more."""
        edits = [edit for step in steps for edit in step.edits]
        for finding in broken:
            changed = as_planned(edited(self.circuit, edits, self._words))
            ways = steps_for(Asked(finding, changed, self.book), self._not_tried)
            way = next((step for step in ways if self._is_mended(finding, [*edits, *step.edits])), None)
            if way is not None:
                edits += way.edits
                yield way

    def _is_mended(self, finding: Finding, edits: Sequence[Edit]) -> bool:
        said = self._said(self._rules[finding.check], finding.subject, edits)
        return said is not None and not said.intersection(_BAD)

    def _said(self, rule: AnyRule, subject: str, edits: Iterable[Edit]) -> frozenset[Outcome] | None:
        """What a rule says of a subject after these changes; None where they cannot be made, or it cannot be told."""
        self._look()
        try:
            changed = as_planned(edited(self.circuit, edits, self._words))
        except (EditError, ValueError):
            return None
        lost: list[Fault | NotJudged] = []
        said: tuple[Finding, ...] = ()
        with fault_written_down(rule.name, lost):
            said = answers_about(changed, self.book, (rule,), frozenset({subject}))
        self._keep(lost)
        return None if lost else frozenset(each.outcome for each in said)

    def _keep(self, lost: Iterable[Fault | NotJudged]) -> None:
        self._faults.update(dict.fromkeys(each for each in lost if isinstance(each, Fault)))

    def for_cautions(self) -> list[Fix]:
        """Of a circuit that fits: what would do away with a caution, without another one in its place."""
        found: list[Fix] = []
        for finding in self.report.findings:
            if finding.outcome is Outcome.CAUTION and not finding.to_come and finding.check in KINDS:
                found += itertools.islice(
                    (fix for fix in self.each(self.ways(finding, Outcome.CAUTION)) if not fix.brings), 1
                )
        return sorted({fix.key: fix for fix in found}.values(), key=lambda fix: fix.costs)[:MOST_FIXES]

    def each(self, steps: Iterable[Step]) -> Iterator[Fix]:
        """Each step by itself."""
        for step in steps:
            if self._checks < self._most_checks:
                yield from self.tried((step,))

    def ways(self, finding: Finding, *also_bad: Outcome) -> list[Step]:
        """The steps with which the finding's own check no longer complains of its subject.

        Of what fails also those after which it is only open, as far as none of their kind does more: what is still
        unknown is no reason to plan for the worst of it.
        """
        rule = self._rules.get(finding.check)
        if rule is None:
            return []
        found: list[Step] = []
        enough: set[str] = set()
        eased: set[str] = set()
        fails = finding.outcome is Outcome.FAIL
        for step in steps_for(Asked(finding, self.planned, self.book), self._not_tried):
            if step.family and step.family in enough:
                continue
            if self._looked_at >= self._most_looks:
                break
            now = self._said(rule, finding.subject, step.edits)
            if now is None:
                continue
            if not now.intersection((*_BAD, *also_bad)):
                found.append(step)
                enough.add(step.family)
            elif fails and Outcome.FAIL not in now and (not step.family or step.family not in eased):
                found.append(step)
                eased.add(step.family)
            if len(found) >= MOST_WAYS:
                break
        return found

    def tried(self, steps: tuple[Step, ...]) -> Iterator[Fix]:
        """The steps together, checked in full: a fix where something is cleared and nothing else breaks."""
        self._checks += 1
        self._look()
        try:
            circuit = edited(self.circuit, [edit for step in steps for edit in step.edits], self._words)
        except (EditError, ValueError):
            return
        report = check(circuit, self.book)
        self._keep(report.faults)
        if report.faults or report.stop or not set(report.not_judged) <= set(self.report.not_judged):
            return
        now = _outcomes(report.findings)
        allowed = frozenset(key for step in steps for key in step.unsets)
        self._broken[:] = (
            finding for finding in report.findings if finding.outcome in _BAD and self._is_broken(finding, allowed)
        )
        if self._broken:
            return
        clears = tuple(
            subject
            for subject, outcome in self._outcomes.items()
            if (outcome in _BAD or outcome is Outcome.CAUTION) and _is_better(outcome, now.get(subject))
        )
        eased = any(
            outcome is Outcome.FAIL and now.get(subject) is Outcome.UNDETERMINED
            for subject, outcome in self._outcomes.items()
        )
        if clears or eased:
            yield Fix(
                steps=steps,
                circuit=circuit,
                report=report,
                clears=clears,
                leaves=tuple(subject for subject, outcome in now.items() if outcome in _BAD),
                brings=tuple(self._brought(report.findings)),
            )

    def _look(self) -> None:
        self._looked_at += 1
        self._progress(self._looked_at)

    def _is_broken(self, finding: Finding, allowed: frozenset[str]) -> bool:
        """Whether a finding is worse than before, by more than what a step makes unknown and says so."""
        before = self._outcomes.get(_subject(finding))
        if finding.outcome is Outcome.FAIL:
            return before is not Outcome.FAIL
        if before in _BAD:
            return False
        return not finding.needs or not allowed.issuperset(finding.needs)

    def _brought(self, findings: Sequence[Finding]) -> Iterator[tuple[str, str, Outcome]]:
        for finding in findings:
            before = self._outcomes.get(_subject(finding))
            new_caution = finding.outcome is Outcome.CAUTION and not finding.to_come and before is not Outcome.CAUTION
            if new_caution or (finding.outcome is Outcome.UNDETERMINED and before not in _BAD):
                yield finding.check, finding.subject, finding.outcome


def _subject(finding: Finding) -> Subject:
    return finding.check, finding.subject


def _outcomes(findings: Iterable[Finding]) -> Mapping[Subject, Outcome]:
    """Check and subject -> the worst that is said of it; work still to come counts as passed."""
    rank = {Outcome.PASS: 0, Outcome.CAUTION: 1, Outcome.UNDETERMINED: 2, Outcome.FAIL: 3}
    worst: dict[Subject, Outcome] = {}
    for finding in findings:
        outcome = Outcome.PASS if finding.to_come else finding.outcome
        subject = _subject(finding)
        if subject not in worst or rank[outcome] > rank[worst[subject]]:
            worst[subject] = outcome
    return worst


def _is_better(before: Outcome, now: Outcome | None) -> bool:
    if before is Outcome.CAUTION:
        return now in (None, Outcome.PASS)
    return now not in _BAD
