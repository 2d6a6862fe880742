"""The sizes for one added cable: which nothing rules out, which does in any case, which is recommended."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from circuitcheck.case import MORE, Answer, Case, CaseRule, Family, SizeRule, said
from circuitcheck.case.parts import Cable as KnownCable
from circuitcheck.checking.other_sizes import Chosen, Sizes, first_that_does, passes
from circuitcheck.circuit.model import Cable
from circuitcheck.domain.conditions_of_use import CONDITIONS_WORSE, ampacity_of
from circuitcheck.findings import Finding, Outcome, exceeds
from circuitcheck.tables.rulebook import Rulebook

Rules = Mapping[str, CaseRule[Any]]
#: Outcomes with which a size does not do, or not for certain.
OPEN = (Outcome.FAIL, Outcome.UNDETERMINED)


def _carries_all(cable: KnownCable, case: Case, book: Rulebook) -> Answer:
    """Whether a cable in its conditions of use may carry all that the breaker lets through."""
    may = ampacity_of(case, cable)
    carries = may is not None and not exceeds(case.supply.breaker_a, may.amperes)
    return Answer(part=cable, outcome=Outcome.PASS if carries else Outcome.FAIL, says=said(""))


#: Asked of a size that only unknown loads leave open.
_CARRIES_ALL = CaseRule[KnownCable](
    name="what the breaker lets through",
    title="Whether a cable carries all that the breaker lets through",
    family=Family.CAPACITY,
    rank=0,
    subjects=lambda case: case.tree.branch_cables,
    answer=_carries_all,
    worse={**CONDITIONS_WORSE, "supply.breaker": MORE},
)


class SizeSearch:
    """The sizes for one cable. as_planned, drops: what the rules say of it, and of what it feeds, as planned."""

    def __init__(self, rule: SizeRule, rules: Rules, tried: Sizes, cable: Cable, *, settled: bool) -> None:
        """``settled``: the planned size is one of the sizes, and no guess."""
        self.rule, self.rules, self.tried, self.cable = rule, rules, tried, cable
        self.planned = tried.places[cable.id] if settled else None
        self.as_planned: list[Finding] = []
        self.drops: list[Finding] = []
        #: What is lost in the cable itself as planned, of nominal voltage.
        self.own_percent = 0.0
        #: No thickness brings the voltage lost within what is recommended: for certain, or as far as can be told.
        self.beyond_help = self.drop_open = self.too_many = False
        self._asked: dict[tuple[str, int], Finding | None] = {}
        self._lost: dict[int, list[Finding] | None] = {}

    @property
    def least(self) -> int | None:
        """The thinnest that nothing rules out."""
        return self._first(0, lambda place: self._unmet(place, Outcome.FAIL) is None)

    def must(self, least: int | None) -> int | None:
        """The thinnest that does whatever is still unknown."""
        last = len(self.tried.sizes) - 1
        is_open = any(finding.outcome is Outcome.UNDETERMINED for finding in self.as_planned)
        if least is None or (is_open and self._unmet(least, *OPEN) and self._unmet(last, *OPEN)):
            return None
        return self._first(least, lambda place: self._unmet(place, *OPEN) is None)

    def wished(self, must: int | None) -> int | None:
        """The thinnest that meets what is recommended too, as far as thickness helps."""
        if must is None or self._advised(must) is None:
            return must
        if any(drop.outcome is Outcome.UNDETERMINED and drop.value is None for drop in self.drops):
            self.drop_open = True  # a length or a load that can be anything asks for no thickness
            return self._first(must, lambda place: self._advised(place) is None)
        if any(_exceeds(drop, drop.value, self.own_percent) for drop in self.drops):
            self.beyond_help = any(_exceeds(drop, drop.low, self.own_percent) for drop in self.drops)
            self.drop_open = not self.beyond_help
            return self._first(must, lambda place: self._advised(place) is None)
        thickest = self._lost_at(len(self.tried.sizes) - 1) if not passes(self.drops) else []
        self.too_many = thickest is None
        if thickest is None or not passes(thickest):
            self.beyond_help = thickest is not None and all(map(_is_certain, thickest))
            self.drop_open = not self.beyond_help
        return self._first(must, lambda place: self._advised(place) is None)

    def thicker_meets_all(self) -> bool:
        """Whether the thickest size meets what is recommended, and the planned one does not; False where that is open.

        Then the one that is recommended is thicker than planned, whichever it is.
        """
        last = len(self.tried.sizes) - 1
        if self.planned is None or not self.advised():
            return False
        if any(drop.outcome is Outcome.UNDETERMINED and drop.value is None for drop in self.drops):
            return False
        if any(_exceeds(drop, drop.value, self.own_percent) for drop in self.drops):
            return False
        return self._advised(last) is None

    def decider(self, place: int, *, with_advice: bool) -> str:
        """The check that the next thinner size does not meet; the thinnest of all is set by the breaker."""
        if place == 0:
            return self.rule.must[0]
        unmet = self._unmet(place - 1, *OPEN) or (self._advised(place - 1) if with_advice else None)
        return unmet or self.rule.must[0]

    def advised(self) -> bool:
        """Whether something recommended is not met as planned."""
        cautions = [finding for finding in self.as_planned if finding.outcome is Outcome.CAUTION]
        return bool(cautions) or not passes(self.drops)

    def asked_about(self, place: int) -> tuple[list[Finding], list[Finding]]:
        """What was asked about a size: what must be met, what is recommended."""
        must = [self._asked.get((name, place)) for name in self.rule.must]
        lost = self.drops if place == self.planned and not passes(self.drops) else self._lost.get(place)
        return [finding for finding in must if finding is not None], lost or []

    @property
    def places(self) -> list[int]:
        """The sizes that were asked about."""
        return sorted({place for _, place in self._asked} | set(self._lost))

    @property
    def drop_limit(self) -> float:
        """What is recommended to lose at most [percent]. Raises: ValueError where no answer about it has a limit."""
        limit = next((drop.limit for drop in self.drops if drop.limit is not None), None)
        if limit is None:
            raise ValueError(f"no answer of {self.rule.wish[0]} says how much may be lost")
        return limit

    def _first(self, start: int, does: Callable[[int], bool]) -> int | None:
        found = first_that_does(len(self.tried.sizes) - start, lambda place: does(start + place))
        return None if found is None else start + found

    def _unmet(self, place: int, *outcomes: Outcome) -> str | None:
        """The first check that ends so with this size."""
        for name in self.rule.must:
            finding = self._must_at(name, place)
            if finding is not None and finding.outcome in outcomes and not self.held_by_breaker(finding, place):
                return name
        return None

    def held_by_breaker(self, finding: Finding, place: int) -> bool:
        """Whether an answer is open by loads that nobody knows alone, and the size carries what the breaker lets on."""
        by_loads = all(need.startswith(("load.", "driver.")) for need in finding.needs)
        if finding.outcome is not Outcome.UNDETERMINED or finding.value is not None or not by_loads:
            return False
        return self.tried.surely_passes(_CARRIES_ALL, self.cable, place)

    def _advised(self, place: int) -> str | None:
        """The first check that recommends a thicker one."""
        for name in self.rule.must:
            finding = self._must_at(name, place)
            if finding is not None and finding.outcome is Outcome.CAUTION:
                return name
        if self.beyond_help or self.drop_open:
            return None
        lost = self._lost_at(place)
        return None if lost is not None and passes(lost) else self.rule.wish[0]

    def _must_at(self, name: str, place: int) -> Finding | None:
        if (name, place) not in self._asked:
            if place == self.planned:
                finding = next((each for each in self.as_planned if each.check == name), None)
            else:
                finding = self.tried.about_cable(self.rules[name], self.cable, place)
            self._asked[name, place] = finding
        return self._asked[name, place]

    def _lost_at(self, place: int) -> list[Finding] | None:
        """What is said of the voltage lost to those that the cable feeds; None where too many were tried before."""
        if place == self.planned or not self.drops:
            return self.drops
        if place not in self._lost:
            lost = self._lost_in(self.tried.thinned(place)) if self._thins(place) else None
            if lost is None or not passes(lost):
                alone = self.tried.alone(self.cable, place)
                lost = self._lost_in(alone) if alone is not None else None
            self._lost[place] = lost
        return self._lost[place]

    def _thins(self, place: int) -> bool:
        return self.planned is not None and place < self.planned and passes(self.drops)

    def _lost_in(self, chosen: Chosen) -> list[Finding]:
        tree = self.tried.case.tree
        parts = [tree.load.get(drop.subject) or tree.driver[drop.subject] for drop in self.drops]
        said = [self.tried.about(self.rules[self.rule.wish[0]], chosen, part) for part in parts]
        return [finding for finding in said if finding is not None]


def _exceeds(drop: Finding, percent: float | None, own_percent: float) -> bool:
    """Whether the rest of the way alone loses more than is recommended."""
    return percent is not None and drop.limit is not None and exceeds(percent - own_percent, drop.limit)


def _is_certain(drop: Finding) -> bool:
    """Whether more than what is recommended is lost whatever is still unknown, or all is well."""
    lost = drop.low is not None and drop.limit is not None and exceeds(drop.low, drop.limit)
    return lost or drop.outcome in (Outcome.PASS, Outcome.FAIL)
