"""What is said of the voltage lost to those that a cable feeds: the worst of it tells which size the cable wants."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import cached_property

from circuitcheck.case import Case, SizeRule
from circuitcheck.case.parts import Driver, Load
from circuitcheck.checking.asking import RANK, Asker, subjects_of
from circuitcheck.checking.judging import finding_about
from circuitcheck.checking.other_sizes import Known
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.size_search import Rules
from circuitcheck.circuit.model import Cable
from circuitcheck.domain.switch_loops import switch_loops
from circuitcheck.findings import Finding, Outcome


class Lost:
    """What is said of the voltage lost to the loads and drivers behind the cables that somebody asks about."""

    def __init__(
        self, rule: SizeRule, case: Case, rules: Rules, known: Known, scope: Scope, cables: frozenset[str]
    ) -> None:
        """``cables``: the ids of those that are asked about."""
        self._rule, self._case, self._rules, self._known, self._scope = rule, case, rules, known, scope
        self._cables = cables

    def below(self, cable: Cable) -> list[Finding]:
        """Of what is fed through a cable the worst, and where the most is lost."""
        return [self._drops[name] for name in self._below.get(cable.id, ())]

    def in_itself(self, cable: Cable) -> float:
        """The most that is lost in the cable itself [V]."""
        return self._own.get(cable.id, 0.0)

    @cached_property
    def _drops(self) -> dict[str, Finding]:
        """By the id of a load or driver; of one name there is one part."""
        case, known = self._case, self._known
        fed = None if self._scope.about is None else fed_through(case, self._cables)
        said: dict[str, Finding] = {}
        for name in self._rule.wish:
            findings = {subject: finding for (check, subject), finding in known.items() if check == name}
            if fed is not None or not findings:
                asker = Asker(self._rules[name], case)
                for part in subjects_of(self._rules[name], case):
                    if part.id not in findings and (fed is None or part.id in fed):
                        finding = finding_about(asker, part, named=self._scope.named)
                        if finding is not None:
                            findings[part.id] = finding
            said |= findings
        return said

    @cached_property
    def _below(self) -> dict[str, tuple[str, ...]]:
        return worst_below(self._case, self._drops)

    @cached_property
    def _own(self) -> dict[str, float]:
        own: dict[str, float] = {}
        for share in (share for drop in self._drops.values() for share in drop.parts):
            own[share.subject] = max(share.value, own.get(share.subject, 0.0))
        return own


def worst_below(case: Case, drops: Mapping[str, Finding]) -> dict[str, tuple[str, ...]]:
    """Cable id -> the load or driver fed through it with the worst answer, and the one that loses most.

    ``drops``: what is said of the voltage lost, by the id of the load. A cable adds the same loss to all that it feeds,
    so with another size the same one stays the worst. Of those that no voltage can serve nobody knows which is the
    worst, so that each is looked at.
    """
    switched = [(cable_id, name) for cable_id, name in _through_loops(case) if name in drops]
    tree = case.tree
    at_box: dict[str, tuple[str, ...]] = {}
    below: dict[str, tuple[str, ...]] = {}
    for cable in reversed(tree.branch_cables):
        box = cable.to_id
        hung: tuple[Load | Driver, ...] = (*tree.loads_at.get(box, ()), *tree.drivers_at.get(box, ()))
        names = (*at_box.get(box, ()), *(part.id for part in hung if part.id in drops))
        below[cable.id] = _worst(names, drops)
        at_box[cable.from_id] = (*at_box.get(cable.from_id, ()), *below[cable.id])
    for cable_id, name in switched:
        below[cable_id] = _worst((*below[cable_id], name), drops)
    return below


def fed_through(case: Case, cables: Collection[str]) -> set[str]:
    """The ids of the loads and drivers that are fed through one of these cables, or switched through it."""
    tree = case.tree
    waiting = [cable.to_id for cable in tree.branch_cables if cable.id in cables]
    boxes: set[str] = set()
    while waiting:
        box = waiting.pop()
        if box not in boxes:
            boxes.add(box)
            waiting.extend(cable.to_id for cable in tree.children.get(box, ()))
    fed = {load.id for box in boxes for load in tree.loads_at.get(box, ())}
    fed |= {driver.id for box in boxes for driver in tree.drivers_at.get(box, ())}
    return fed | {name for cable_id, name in _through_loops(case) if cable_id in cables}


def _through_loops(case: Case) -> list[tuple[str, str]]:
    """Each cable of a switch loop, by its id, with the id of each load that is switched through it."""
    with case.reading.at(case.reading.first):
        loops = switch_loops(case)
        return [
            (cable.id, load.id)
            for load in case.loads
            if load.switched_by in loops
            for cable in loops[load.switched_by or ""]
        ]


def _worst(names: Sequence[str], drops: Mapping[str, Finding]) -> tuple[str, ...]:
    """Each that no voltage can serve, the first of those of which nobody knows how much is lost, and of the others the
    worst and the one that loses most.
    """
    lost = {name: value for name in names if (value := drops[name].value) is not None}
    unserved = [name for name in names if name not in lost and drops[name].outcome is Outcome.FAIL]
    endless = [name for name in names if name not in lost and drops[name].outcome is not Outcome.FAIL][:1]
    worst = max(lost, key=lambda name: (RANK[drops[name].outcome], lost[name]), default=None)
    most = max(lost, key=lambda name: lost[name], default=None)
    numbered = [name for name in (worst, most) if name is not None]
    return tuple(dict.fromkeys((*unserved, *endless, *numbered)))
