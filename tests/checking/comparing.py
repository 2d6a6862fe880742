"""Two states of knowledge of one circuit: where the later answers contradict the earlier, or a number is none."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from circuitcheck.checking.in_words import LEFT_OUT
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import SEVERITY, Finding, Outcome, Report
from tests.checking import asking

#: What an answer may become when more is found out. None: the rule has nothing to say about the subject.
_STAYS: Mapping[Outcome | None, frozenset[Outcome | None]] = {
    Outcome.PASS: frozenset({Outcome.PASS, None}),
    Outcome.FAIL: frozenset({Outcome.FAIL}),
    Outcome.CAUTION: frozenset({Outcome.CAUTION, Outcome.PASS, None}),
    Outcome.UNDETERMINED: frozenset({*Outcome, None}),
    None: frozenset({None, Outcome.PASS, Outcome.CAUTION}),
}
#: A caution may stand for "open only by duration or by work to come": settling those may turn it to a failure.
_BY_PLANS = _STAYS[Outcome.CAUTION] | {Outcome.FAIL, Outcome.UNDETERMINED}

#: Two values are the same when they agree to this share of the larger, or to this much.
_SAME = 1e-6

#: Checks whose number may lie outside of the range told before by a share of itself, and why.
SLACK = asking.KNOWN_FAULTS["slack"]

Answers = dict[tuple[str, str], list[Finding]]


@dataclass(frozen=True, slots=True)
class State:
    """A circuit on its way from open to known, and what was said of it. ``known``: nothing is open any more.

    plans: the last step may have settled work to come and duration too, not facts alone.
    """

    circuit: Circuit
    answers: Answers
    plans: bool = False
    known: bool = False


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Two answers that cannot both be right, and the circuits that they were given for."""

    check: str
    kind: str
    subject: str
    before: Circuit
    after: Circuit
    says: str

    @property
    def size(self) -> int:
        """How many parts the circuit has."""
        return sum(len(parts) for parts in vars(self.after).values() if isinstance(parts, tuple))

    def __str__(self) -> str:
        return f"{self.check}: {self.kind} ({self.subject}; {self.after.file}): {self.says}"


def grouped(report: Report) -> Answers:
    """The findings of a report by check and subject."""
    answers: Answers = {}
    for finding in report.findings:
        answers.setdefault((finding.check, finding.subject), []).append(finding)
    return answers


def worst_of(findings: Iterable[Finding]) -> Outcome | None:
    """The outcome of several findings about one subject: the worst; None of no finding."""
    return min((finding.outcome for finding in findings), key=SEVERITY.__getitem__, default=None)


def contradictions(before: State, after: State, *, by_plans: bool) -> Iterator[Contradiction]:
    """Where the answers after more was found out contradict those before.

    ``by_plans``: what was found out is about work to come or about duration too, so that a caution may have been open.
    """
    for name in before.answers.keys() | after.answers.keys():
        old, new = before.answers.get(name, []), after.answers.get(name, [])
        was, now = worst_of(old), worst_of(new)
        stays = _BY_PLANS if by_plans and was is Outcome.CAUTION else _STAYS[was]
        if now not in stays and not _may_change(name, was, before, after):
            says = f"{(old or new)[0].says!r} -> {(new or old)[0].says!r}"
            kind = f"{was or 'no answer'}, then {now or 'no answer'}"
            yield Contradiction(name[0], kind, name[1], before.circuit, after.circuit, says)
        else:
            yield from _values_outside(name, old, new, before.circuit, after.circuit)


def _may_change(name: tuple[str, str], was: Outcome | None, before: State, after: State) -> bool:
    """Whether an answer was told with a condition, and so may become any other.

    Either nobody knew what the thing is, or the answer left out what a cable of unknown length beside its way costs,
    and said so; then what hangs on that cable is open by the same check, so that nobody takes the whole for settled.
    """
    if was is None:
        return _kind_was_unknown(name[1], before.circuit, after.circuit)
    if was is Outcome.FAIL or not any(_leaves_out(finding) for finding in before.answers[name]):
        return False
    others = (worst_of(found) for (check, _), found in before.answers.items() if check == name[0])
    return any(other in (Outcome.FAIL, Outcome.UNDETERMINED) for other in others)


def _leaves_out(finding: Finding) -> bool:
    return any(LEFT_OUT in sentence for sentence in finding.assumed)


def _kind_was_unknown(subject: str, before: Circuit, after: Circuit) -> bool:
    """Whether nobody knew what the thing is: nothing is said about such a thing, whatever it may turn out to be."""
    for old, new in zip(_things(before), _things(after), strict=True):
        if old.id == subject:
            return old.kind is None and new.kind is not None
    return False


def _things(circuit: Circuit) -> tuple[Any, ...]:
    return (*circuit.loads, *circuit.low_voltage_loads, *circuit.controls)


def _values_outside(
    name: tuple[str, str], old: list[Finding], new: list[Finding], before: Circuit, after: Circuit
) -> Iterator[Contradiction]:
    """A value found later that lies outside the range told before. Findings are paired in their order, by unit."""
    by_unit: dict[str | None, list[Finding]] = {}
    for finding in old:
        if finding.value is not None:
            by_unit.setdefault(finding.unit, []).append(finding)
    for unit, told in by_unit.items():
        later = [finding for finding in new if finding.value is not None and finding.unit == unit]
        if len(later) != len(told):
            continue
        for first, second in zip(told, later, strict=True):
            if not _of_one_question(first, second):
                continue
            low, high = ends(first)
            least, most = ends(second)
            spare = SLACK.get(name[0], {}).get("share", 0.0)
            if least < low - _slack(low, least, spare) or most > high + _slack(high, most, spare):
                says = f"{low:g} to {high:g} {unit}, then {least:g} to {most:g}: {first.says!r} -> {second.says!r}"
                yield Contradiction(name[0], "value outside the range told before", name[1], before, after, says)


def _of_one_question(first: Finding, second: Finding) -> bool:
    """Whether the numbers of two findings are of one thing, and the first claims to hold whatever is found out.

    A light has a distance from a closet's storage and another from wood: the entries that decide tell them apart, and
    not what is asked for beside them (the kind of a cable, for both of its distances). What leaves an effect out says
    so.
    """
    if first.keys and second.keys and not _decide(first) & _decide(second):
        return False
    own = [_own_numbers(finding) for finding in (first, second)]
    if all(own) and not own[0] & own[1]:
        return False
    return not _leaves_out(first)


def _own_numbers(finding: Finding) -> set[str]:
    """The entries of its subject that the finding names and that are measured in its unit: distances, say."""
    named = (re.fullmatch(rf"(\w+)\.{re.escape(finding.subject)}\.(\w+)", key) for key in finding.keys)
    entries = [match for match in named if match is not None and match[1] in SECTIONS]
    kinds = {match[0]: SECTIONS[match[1]].keys[match[2]].kind for match in entries}
    return {entry for entry, kind in kinds.items() if kind is not None and finding.unit in kind.units}


def _decide(finding: Finding) -> set[str]:
    """The entries that its number is of; all that it names where every one of them is asked for."""
    return set(finding.keys) - set(finding.needs) or set(finding.keys)


def _slack(one: float, other: float, spare: float = 0.0) -> float:
    return _SAME * max(abs(one), abs(other), 1.0) + spare * min(abs(one), abs(other))


def ends(finding: Finding) -> tuple[float, float]:
    """Low and high of a finding with a value; the value itself where it has neither.

    One end alone: what is not known can be anything, so nothing bounds the value on the other side.
    """
    if finding.low is not None and finding.high is None:
        return finding.low, math.inf
    if finding.high is not None and finding.low is None:
        return -math.inf, finding.high
    value = finding.value if finding.value is not None else math.nan
    low = finding.low if finding.low is not None else value
    high = finding.high if finding.high is not None else value
    return low, high


def wrong_numbers(state: State) -> Iterator[Contradiction]:
    """Values that are not finite, or not between the low and the high beside them."""
    for (name, subject), findings in state.answers.items():
        for finding in findings:
            numbers = (finding.value, finding.low, finding.high, finding.limit)
            if any(number is not None and not math.isfinite(number) for number in numbers):
                yield Contradiction(name, "a number is not finite", subject, state.circuit, state.circuit, str(numbers))
            elif finding.value is not None:
                low, high = ends(finding)
                if not low - _slack(low, high) <= finding.value <= high + _slack(low, high):
                    kind = "value not between its own low and high"
                    yield Contradiction(name, kind, subject, state.circuit, state.circuit, str(numbers))


def wrong_asking(state: State) -> Iterator[Contradiction]:
    """Open answers that ask for nothing, for what is known already, or for what cannot be written."""
    for (name, subject), findings in state.answers.items():
        for finding in asking.open_answers(findings):
            for kind, says in asking.wrong_questions(finding, state.circuit, known=state.known):
                yield Contradiction(name, kind, subject, state.circuit, state.circuit, says)
