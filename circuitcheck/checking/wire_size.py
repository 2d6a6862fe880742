"""The finding ``wire-size``: the thinnest size that would do for each added cable, asked of the other rules."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from circuitcheck.case import Amount, Case, CaseRule, Rounding, SizeRule
from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.in_words import assumed_sentence
from circuitcheck.checking.judging import finding_about
from circuitcheck.checking.lines import Lines
from circuitcheck.checking.lost_below import Lost
from circuitcheck.checking.other_sizes import Known, Sizes, passes
from circuitcheck.checking.scope import WHOLE, Scope
from circuitcheck.checking.size_search import OPEN, Rules, SizeSearch
from circuitcheck.checking.unknowns import most_named_first
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.domain.conductor_ampacity import equivalent_size
from circuitcheck.errors import NotInBookError
from circuitcheck.findings import Finding, Outcome, exceeds, merge_sources
from circuitcheck.quantities import How
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

#: How a sentence calls the check that decides.
_IN_WORDS = {
    "breaker-vs-wire": "the breaker decides",
    "ampacity": "what it may carry in its conditions decides",
    "voltage-drop": "the voltage lost on the way decides",
}


def size_findings(
    rule: SizeRule, circuit: Circuit, case: Case, known: Known, scope: Scope = WHOLE
) -> Iterator[Finding]:
    """One finding for each added cable of the branch circuit, or for those about which somebody asks.

    ``known``: what the other rules said about the circuit as it is.
    """
    rules: Rules = {each.name: each for each in ALL_RULES if isinstance(each, CaseRule)}
    named, about = scope
    added = [cable for cable in circuit.tree.branch_cables if cable.is_added or _is_guess(cable)]
    asked = added if about is None else [cable for cable in added if cable.id in about]
    if not asked:
        return
    book = case.book
    sizes = rule.sizes(book)
    open_sizes = {entry.ref.id for entry in case.entries_of("cable", "size")}
    open_origins = {entry.ref.id: entry for entry in case.entries_of("cable", "origin")}
    areas = [_printed_area(size, book) for size in sizes]
    places = {cable.id: _place(cable.size, areas, book) for cable in added}
    tried = Sizes(circuit, case, sizes, places)
    lost = Lost(rule, case, rules, known, scope, frozenset(cable.id for cable in asked))
    for cable in asked:
        settled = cable.size in sizes and cable.id not in open_sizes
        search = SizeSearch(rule, rules, tried, cable, settled=settled)
        for name in rule.must:
            finding = known.get((name, cable.id))
            if finding is None:
                finding = finding_about(Asker(rules[name], case), case.tree.cable[cable.id], named=named)
            search.as_planned.extend([finding] if finding is not None else [])
        finding = None if named else _open_already(rule, cable, search)
        if finding is None:
            search.drops = lost.below(cable)
            search.own_percent = 100.0 * lost.in_itself(cable) / circuit.supply.voltage_v.low
            finding = None if named else _at_a_glance(rule, cable, search)
        if finding is None:
            origin = open_origins.get(cable.id)
            finding = _untried(rule, cable, search) if tried.exhausted else _finding(rule, cable, origin, search, areas)
        yield from _if_added(finding, cable) if _is_guess(cable) else (finding,)


def _is_guess(cable: Cable) -> bool:
    """Whether nobody knows that the cable is still to be added."""
    return cable.known_by.get("origin") == How.GUESS


def _if_added(finding: Finding, cable: Cable) -> Iterator[Finding]:
    """The finding about a cable that may be there already: nothing fails by it until somebody knows."""
    if finding.outcome in OPEN:
        needs = tuple(dict.fromkeys((*finding.needs, str(cable.entry("origin")))))
        yield replace(finding, outcome=Outcome.UNDETERMINED, needs=needs)
    elif cable.is_added:
        yield finding


def _open_already(rule: SizeRule, cable: Cable, search: SizeSearch) -> Finding | None:
    """Where the cable as planned fails or is open, that is how it comes out, whatever is lost on the way."""
    outcomes = {finding.outcome for finding in search.as_planned}
    outcome = next((each for each in OPEN if each in outcomes), None)
    return _unsearched(rule, cable, search, outcome) if outcome is not None else None


def _at_a_glance(rule: SizeRule, cable: Cable, search: SizeSearch) -> Finding | None:
    """How it comes out where that takes no search, for whoever reads no more; None where it takes one."""
    if not search.advised():
        return _unsearched(rule, cable, search, Outcome.PASS)
    return _unsearched(rule, cable, search, Outcome.CAUTION) if search.thicker_meets_all() else None


def _unsearched(rule: SizeRule, cable: Cable, search: SizeSearch, outcome: Outcome) -> Finding:
    return Finding(
        check=rule.name,
        subject=cable.id,
        outcome=outcome,
        says=f'Nobody asked which other size would do for cable "{cable.id}".',
        needs=_needs(search) if outcome is Outcome.UNDETERMINED else (),
        chosen=cable.size,
    )


def _area(size: str | None, book: Rulebook) -> float | None:
    """Area of metal by which the tables count a size [m2]; None for one that is unknown, or that they do not hold."""
    row = book.table("conductors").find(equivalent_size(book, size)[0]) if size is not None else None
    return row.printed_number("area") if row is not None else None


def _printed_area(size: str, book: Rulebook) -> float:
    """The same of a size that the book names itself. Raises: NotInBookError."""
    area = _area(size, book)
    if area is None:
        raise NotInBookError(
            book.edition, f"row {size!r} in table 'conductors', though it names that size", absent=False
        )
    return area


def _place(size: str | None, areas: Sequence[float], book: Rulebook) -> int:
    """Where a size stands among the areas of others: the last that is no thicker; -1 before all, and where unknown."""
    area = _area(size, book)
    return -1 if area is None else sum(not exceeds(each, area) for each in areas) - 1


class _Places(NamedTuple):
    """Where among the sizes stand: the thinnest that the breaker may protect, the thinnest that does in any case, and
    the one that is recommended; None where none does. ``too_thick``: usual terminals do not take that one.
    """

    least: int | None
    must: int | None
    wished: int | None
    too_thick: bool

    @property
    def smallest(self) -> int | None:
        """The one to take."""
        return next((place for place in (self.wished, self.must, self.least) if place is not None), None)


def _finding(
    rule: SizeRule, cable: Cable, origin: OpenEntry | None, search: SizeSearch, areas: Sequence[float]
) -> Finding:
    """``origin``: whether the cable is added, where that is open."""
    book = search.tried.book
    least = search.least
    must = search.must(least)
    wished = search.wished(must)
    smallest = next((place for place in (wished, must, least) if place is not None), None)
    outcome = _outcome(search, wished, areas, book)
    thickest = book.value("usual-terminals-thickest")
    too_thick = (
        smallest is not None and smallest == wished and exceeds(areas[smallest], _printed_area(thickest.text, book))
    )
    places = _Places(least, must, wished, too_thick)
    key = Ref("cable", cable.id)
    asked = [finding for place in search.places for group in search.asked_about(place) for finding in group]
    return Finding(
        check=rule.name,
        subject=cable.id,
        outcome=outcome,
        says=_says(search, outcome, places),
        working=Lines(lambda: _working(search)),
        sources=merge_sources(
            (book.table("branch-circuit-conductors").rows[0].source,) if smallest == 0 else (),
            *(finding.sources for finding in (*search.as_planned, *asked)),
            *(() if passes(search.drops) else (drop.sources for drop in search.drops)),
            (thickest.source,) if too_thick else (),
        ),
        needs=_needs(search) if outcome is Outcome.UNDETERMINED else (),
        assumed=(assumed_sentence(origin),) if origin is not None else (),
        assumed_keys=(str(origin.ref),) if origin is not None else (),
        keys=(str(key._replace(key="size")), str(key._replace(key="length"))),
        to_do=_to_do(search, outcome, places),
        chosen=cable.size,
        smallest=search.tried.sizes[smallest] if smallest is not None else None,
        decided_by=search.decider(smallest, with_advice=smallest == wished) if smallest is not None else None,
    )


def _untried(rule: SizeRule, cable: Cable, search: SizeSearch) -> Finding:
    """What the other rules say of the cable as planned, where so much is open that no other size is tried."""
    outcomes = [finding.outcome for finding in search.as_planned]
    outcome = next((each for each in OPEN if each in outcomes), Outcome.CAUTION if search.advised() else Outcome.PASS)
    return Finding(
        check=rule.name,
        subject=cable.id,
        outcome=outcome,
        says=f'No other size was tried for cable "{cable.id}": too much of the circuit is unknown.',
        sources=merge_sources(*(finding.sources for finding in search.as_planned)),
        needs=_needs(search) if outcome is Outcome.UNDETERMINED else (),
        keys=(str(cable.entry("size")),),
        chosen=cable.size,
    )


def _needs(search: SizeSearch) -> tuple[str, ...]:
    """What has to be found out about the cable as planned, what settles most first."""
    return tuple(most_named_first(finding for finding in search.as_planned if finding.outcome is Outcome.UNDETERMINED))


def _outcome(search: SizeSearch, wished: int | None, areas: Sequence[float], book: Rulebook) -> Outcome:
    """What the other rules say of the cable as planned; what is recommended only as far as thickness helps."""
    outcomes = {finding.outcome for finding in search.as_planned}
    for outcome in OPEN:
        if outcome in outcomes:
            return outcome
    if not search.advised():
        return Outcome.PASS
    if search.drop_open:
        return Outcome.CAUTION
    planned = _area(search.cable.size, book)
    if wished is None or (planned is not None and not exceeds(areas[wished], planned)):
        return Outcome.PASS
    return Outcome.CAUTION


def _says(search: SizeSearch, outcome: Outcome, places: _Places) -> str:
    least, must, wished, too_thick = places
    smallest = places.smallest
    sizes, cable = search.tried.sizes, search.cable
    name = f'cable "{cable.id}"'
    if least is None or smallest is None:
        return f"No conductor size of this kind does for {name}: in its conditions none may keep this breaker."
    if outcome is Outcome.FAIL:
        decider = _IN_WORDS[search.decider(least, with_advice=False)]
        says = f"C{name[1:]} needs at least {sizes[least]}, not {cable.size or 'what is planned'}: {decider}"
        if wished is not None and wished != least:
            says += f"; {sizes[wished]} would also meet what is recommended"
        return says + "."
    if cable.size is None and outcome is not Outcome.PASS:
        open_end = "" if must is not None else ", and at worst no size does"
        return f"C{name[1:]} needs at least {sizes[smallest]}{open_end}; which size is planned is not given."
    if outcome is Outcome.UNDETERMINED:
        enough = f"{sizes[must]} would do in any case" if must is not None else "at worst no size does"
        if must is not None and all(search.held_by_breaker(each, must) for each in search.as_planned if each.needs):
            enough = f"{sizes[must]} carries all that the breaker lets through"
        return f"Cannot tell yet whether {cable.size} is enough for {name}: {sizes[least]} may do, and {enough}."
    if outcome is Outcome.CAUTION and search.drop_open:
        why = ": the circuit has too many added cables to try others" if search.too_many else ""
        return (
            f"{cable.size} is enough for {name} by the breaker and the load. Whether the voltage lost asks for a "
            f"thicker one is unknown{why}."
        )
    if outcome is Outcome.CAUTION and wished is not None:
        advice = _IN_WORDS[search.decider(wished, with_advice=True)]
        thick = ", and that is thicker than usual terminals take" if too_thick else ""
        return f"{cable.size} is allowed for {name}, but {sizes[wished]} is recommended: {advice}{thick}."
    if cable.size is None:
        return f"Any usual size is enough for {name}: the thinnest that does is {sizes[smallest]}."
    return f"{cable.size} is enough for {name}: the thinnest that does is {sizes[smallest]}."


def _working(search: SizeSearch) -> list[str]:
    """One line a size that was asked about: the breaker it may have, what it may carry, the drop, what it misses."""
    lines = [_line(search, place) for place in search.places]
    if search.beyond_help:
        lines.append(
            f"the rest of the way alone loses more than {shown_number(search.drop_limit)} %, so no thickness of this "
            "cable brings the drop under that"
        )
    return lines


def _line(search: SizeSearch, place: int) -> str:
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


def _to_do(search: SizeSearch, outcome: Outcome, places: _Places) -> tuple[str, ...]:
    smallest, must, too_thick = places.smallest, places.must, places.too_thick
    if smallest is None:
        return ("Give the cable another way, or have a licensed electrician choose another kind of cable.",)
    if outcome is Outcome.PASS:
        return ()
    if outcome is Outcome.UNDETERMINED and _needs(search) == ("supply.breaker",):
        return ("Read the rating on the breaker's handle before you choose the size; leave the panel cover on.",)
    if must is None or search.drop_open:
        return (f'Find out what is missing about cable "{search.cable.id}" before you choose its size.',)
    if too_thick:
        return ("Plan a shorter route or another circuit: a conductor that thick does not fit common terminals.",)
    return (f'Plan {search.tried.sizes[smallest]} for cable "{search.cable.id}".',)
