"""The finding ``wire-size``: the thinnest size that would do for each added cable, asked of the other rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from circuitcheck.case import Amount, Case, CaseRule, Rounding, SizeRule
from circuitcheck.checking.asking import RANK, Asker
from circuitcheck.checking.judging import assumed_sentence, finding_about, findings_of_rule
from circuitcheck.checking.lines import Lines
from circuitcheck.checking.other_sizes import Known, Sizes, first_that_does, passes, worst_below
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.domain.conductor_ampacity import equivalent_size
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

Rules = Mapping[str, CaseRule[Any]]

#: How a sentence calls the check that decides.
_IN_WORDS = {
    "breaker-vs-wire": "the breaker decides",
    "ampacity": "what it may carry in its conditions decides",
    "voltage-drop": "the voltage lost on the way decides",
}
_OPEN = (Outcome.FAIL, Outcome.UNDETERMINED)


def size_findings(rule: SizeRule, circuit: Circuit, case: Case, rules: Rules, known: Known) -> Iterator[Finding]:
    """One finding for each added cable of the branch circuit.

    ``rules``: by their names, those that are asked. ``known``: what they said about the circuit as it is.
    """
    added = [cable for cable in circuit.tree.branch_cables if cable.origin != "existing"]
    if not added:
        return
    book = case.book
    sizes = rule.sizes(book)
    open_sizes = {entry.ref.id for entry in case.entries if entry.kind == "cable.size"}
    areas = [_area(size, book) for size in sizes]
    places = {cable.id: _place(cable.size, areas, book) for cable in added}
    tried = Sizes(circuit, book, sizes, places)
    drops = _drops(rule, case, rules, known)
    below = worst_below(case, drops)
    own: dict[str, float] = {}
    for share in (share for drop in drops.values() for share in drop.parts):
        own[share.subject] = max(share.value, own.get(share.subject, 0.0))
    for cable in added:
        settled = cable.size in sizes and cable.id not in open_sizes
        search = _Search(rule, rules, tried, cable, settled=settled)
        for name in rule.must:
            finding = known.get((name, cable.id))
            if finding is None:
                finding = finding_about(Asker(rules[name], case), case.tree.cable[cable.id])
            search.as_planned.extend([finding] if finding is not None else [])
        search.drops = [drops[name] for name in below.get(cable.id, ())]
        search.own_percent = 100.0 * own.get(cable.id, 0.0) / circuit.supply.voltage_v.low
        yield _untried(rule, cable, search) if tried.exhausted else _finding(rule, cable, case, search, areas)


def _drops(rule: SizeRule, case: Case, rules: Rules, known: Known) -> dict[str, Finding]:
    """What is said of the voltage lost to each load and driver, the worse of two of one name."""
    said: dict[str, Finding] = {}
    for name in rule.wish:
        findings = [finding for (check, _), finding in known.items() if check == name]
        for finding in findings or findings_of_rule(rules[name], case):
            other = said.get(finding.subject)
            if other is None or RANK[finding.outcome] > RANK[other.outcome]:
                said[finding.subject] = finding
    return said


def _area(size: str | None, book: Rulebook) -> float:
    """Area of metal by which the tables count a size [m2]; 0 for a size that they do not hold."""
    row = book.table("conductors").find(equivalent_size(book, size)[0]) if size is not None else None
    return (row.number("area") or 0.0) if row is not None else 0.0


def _place(size: str | None, areas: Sequence[float], book: Rulebook) -> int:
    """Where a size stands among the areas of others: the last that is no thicker; -1 before all."""
    area = _area(size, book)
    return sum(not exceeds(each, area) for each in areas) - 1


class _Search:
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
        if least is None or (is_open and self._unmet(least, *_OPEN) and self._unmet(last, *_OPEN)):
            return None
        return self._first(least, lambda place: self._unmet(place, *_OPEN) is None)

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

    def decider(self, place: int, *, with_advice: bool) -> str:
        """The check that the next thinner size does not meet; the thinnest of all is set by the breaker."""
        if place == 0:
            return self.rule.must[0]
        unmet = self._unmet(place - 1, *_OPEN) or (self._advised(place - 1) if with_advice else None)
        return unmet or self.rule.must[0]

    def advised(self) -> bool:
        """Whether something recommended is not met as planned."""
        cautions = [finding for finding in self.as_planned if finding.outcome is Outcome.CAUTION]
        return bool(cautions) or not passes(self.drops)

    def asked_about(self, place: int) -> tuple[list[Finding], list[Finding]]:
        """What was asked about a size: what must be met, what is recommended."""
        must = [self._asked.get((name, place)) for name in self.rule.must]
        return [finding for finding in must if finding is not None], self._lost.get(place) or []

    @property
    def places(self) -> list[int]:
        """The sizes that were asked about."""
        return sorted({place for _, place in self._asked} | set(self._lost))

    @property
    def drop_limit(self) -> float:
        """What is recommended to lose at most [percent]."""
        return self.drops[0].limit or 0.0

    def _first(self, start: int, does: Any) -> int | None:
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
        rating = self._must_at(self.rule.must[0], place)
        if finding.limit is None or rating is None or rating.value is None:
            return False
        return not exceeds(rating.value, finding.limit)

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
                case = self.tried.all_at(place)
                finding = self.tried.about(self.rules[name], case, case.tree.cable[self.cable.id])
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

    def _lost_in(self, case: Case) -> list[Finding]:
        tree = case.tree
        parts = [tree.load.get(drop.subject) or tree.driver[drop.subject] for drop in self.drops]
        said = [self.tried.about(self.rules[self.rule.wish[0]], case, part) for part in parts]
        return [finding for finding in said if finding is not None]


def _exceeds(drop: Finding, percent: float | None, own_percent: float) -> bool:
    """Whether the rest of the way alone loses more than is recommended."""
    return percent is not None and drop.limit is not None and exceeds(percent - own_percent, drop.limit)


def _is_certain(drop: Finding) -> bool:
    """Whether more than what is recommended is lost whatever is still unknown, or all is well."""
    lost = drop.low is not None and drop.limit is not None and exceeds(drop.low, drop.limit)
    return lost or drop.outcome in (Outcome.PASS, Outcome.FAIL)


def _finding(rule: SizeRule, cable: Cable, case: Case, search: _Search, areas: Sequence[float]) -> Finding:
    book = case.book
    least = search.least
    must = search.must(least)
    wished = search.wished(must)
    smallest = next((place for place in (wished, must, least) if place is not None), None)
    outcome = _outcome(search, wished, areas, book)
    thickest = book.value("usual-terminals-thickest")
    too_thick = smallest is not None and smallest == wished and exceeds(areas[smallest], _area(thickest.text, book))
    key = Ref("cable", cable.id)
    origin = [entry for entry in case.entries if entry.ref == key._replace(key="origin")]
    asked = [finding for place in search.places for group in search.asked_about(place) for finding in group]
    return Finding(
        check=rule.name,
        subject=cable.id,
        outcome=outcome,
        says=_says(search, outcome, least, must, wished, too_thick),
        working=Lines(lambda: _working(search)),
        sources=merge_sources(
            (book.table("branch-circuit-conductors").rows[0].source,) if smallest == 0 else (),
            *(finding.sources for finding in (*search.as_planned, *asked)),
            *(() if passes(search.drops) else (drop.sources for drop in search.drops)),
            (thickest.source,) if too_thick else (),
        ),
        needs=_needs(search) if outcome is Outcome.UNDETERMINED else (),
        assumed=tuple(map(assumed_sentence, origin)),
        assumed_keys=tuple(str(entry.ref) for entry in origin),
        keys=(str(key._replace(key="size")), str(key._replace(key="length"))),
        to_do=_to_do(search, outcome, smallest, must, too_thick),
        chosen=cable.size,
        smallest=search.tried.sizes[smallest] if smallest is not None else None,
        decided_by=search.decider(smallest, with_advice=smallest == wished) if smallest is not None else None,
    )


def _untried(rule: SizeRule, cable: Cable, search: _Search) -> Finding:
    """What the other rules say of the cable as planned, where so much is open that no other size is tried."""
    outcomes = [finding.outcome for finding in search.as_planned]
    outcome = next((each for each in _OPEN if each in outcomes), Outcome.CAUTION if search.advised() else Outcome.PASS)
    return Finding(
        check=rule.name,
        subject=cable.id,
        outcome=outcome,
        says=f'No other size was tried for cable "{cable.id}": too much of the circuit is unknown.',
        sources=merge_sources(*(finding.sources for finding in search.as_planned)),
        needs=_needs(search) if outcome is Outcome.UNDETERMINED else (),
        keys=(f"cable.{cable.id}.size",),
        chosen=cable.size,
    )


def _needs(search: _Search) -> tuple[str, ...]:
    """What has to be found out about the cable as planned."""
    open_findings = (finding for finding in search.as_planned if finding.outcome is Outcome.UNDETERMINED)
    return tuple(dict.fromkeys(need for finding in open_findings for need in finding.needs))


def _outcome(search: _Search, wished: int | None, areas: Sequence[float], book: Rulebook) -> Outcome:
    """What the other rules say of the cable as planned; what is recommended only as far as thickness helps."""
    outcomes = {finding.outcome for finding in search.as_planned}
    for outcome in _OPEN:
        if outcome in outcomes:
            return outcome
    if not search.advised():
        return Outcome.PASS
    if search.drop_open:
        return Outcome.CAUTION
    area = _area(search.cable.size, book)
    return Outcome.CAUTION if wished is not None and exceeds(areas[wished], area) else Outcome.PASS


def _says(
    search: _Search, outcome: Outcome, least: int | None, must: int | None, wished: int | None, too_thick: bool
) -> str:
    sizes, cable = search.tried.sizes, search.cable
    name = f'cable "{cable.id}"'
    if least is None:
        return f"No conductor size of this kind does for {name}: in its conditions none may keep this breaker."
    smallest = next(place for place in (wished, must, least) if place is not None)
    if outcome is Outcome.FAIL:
        decider = _IN_WORDS[search.decider(least, with_advice=False)]
        says = f"C{name[1:]} needs at least {sizes[least]}, not {cable.size or 'what is planned'}: {decider}"
        if wished is not None and wished != least:
            says += f"; {sizes[wished]} would also meet what is recommended"
        return says + "."
    if cable.size is None and outcome is not Outcome.PASS:
        open_end = "" if must is not None else ", and at worst no size does"
        return f"C{name[1:]} needs at least {sizes[smallest]}{open_end}; the file does not say which size is planned."
    if outcome is Outcome.UNDETERMINED:
        enough = f"{sizes[must]} would do in any case" if must is not None else "at worst no size does"
        if must is not None and all(search.held_by_breaker(each, must) for each in search.as_planned if each.needs):
            enough = f"{sizes[must]} carries all that the breaker lets through"
        return f"Cannot tell yet whether {cable.size} is enough for {name}: {sizes[least]} may do, and {enough}."
    if outcome is Outcome.CAUTION and search.drop_open:
        why = "the circuit has too many added cables to try others" if search.too_many else "it is still unknown"
        return (
            f"{cable.size} is enough for {name} by the breaker and the load. Whether the voltage lost asks for a "
            f"thicker one cannot be told: {why}."
        )
    if outcome is Outcome.CAUTION and wished is not None:
        advice = _IN_WORDS[search.decider(wished, with_advice=True)]
        thick = ", and that is thicker than usual terminals take" if too_thick else ""
        return f"{cable.size} is allowed for {name}, but {sizes[wished]} is recommended: {advice}{thick}."
    if cable.size is None:
        return f"Any usual size is enough for {name}: the thinnest that does is {sizes[smallest]}."
    return f"{cable.size} is enough for {name}: the thinnest that does is {sizes[smallest]}."


def _working(search: _Search) -> list[str]:
    """One line a size that was asked about: the breaker it may have, what it may carry, the drop, what it misses."""
    lines = [_line(search, place) for place in search.places]
    if search.beyond_help:
        lines.append(
            f"the rest of the way alone loses more than {shown_number(search.drop_limit)} %, so no thickness of this "
            "cable brings the drop under that"
        )
    return lines


def _line(search: _Search, place: int) -> str:
    must, lost = search.asked_about(place)
    told = []
    for finding in must:
        limit = _amperes(finding.limit, Rounding.DOWN)
        value = _amperes(finding.value, Rounding.NEAREST)
        told.append(
            f"breaker at most {limit} (here {value})"
            if finding.check == search.rule.must[0]
            else f"may carry {limit} for {value}"
        )
    drop = max((finding.value for finding in lost if finding.value is not None), default=None)
    if drop is not None:
        told.append(f"drop {shown_number(drop)} %")
    unmet = dict.fromkeys(finding.check for finding in (*must, *lost) if finding.outcome is not Outcome.PASS)
    verdict = f"not enough for {', '.join(unmet)}" if unmet else "enough"
    return f"{search.tried.sizes[place]}: {'; '.join(told)}: {verdict}"


def _amperes(amperes: float | None, rounding: Rounding) -> str:
    return "an unknown current" if amperes is None else str(Amount(amperes, "A", rounding))


def _to_do(
    search: _Search, outcome: Outcome, smallest: int | None, must: int | None, too_thick: bool
) -> tuple[str, ...]:
    if smallest is None:
        return ("Give the cable another way, or have a licensed electrician choose another kind of cable.",)
    if outcome is Outcome.PASS:
        return ()
    if must is None or search.drop_open:
        return (f'Find out what is missing about cable "{search.cable.id}" before you choose its size.',)
    if too_thick:
        return ("Plan a shorter way or another circuit: a conductor that thick does not fit common terminals.",)
    return (f'Plan {search.tried.sizes[smallest]} for cable "{search.cable.id}".',)
