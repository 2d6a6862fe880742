"""Which size of a cable would do: it is changed in the circuit, and the rules that it concerns are asked again.

What a cable may carry and the breaker that it may have hang on no other cable's size, so one circuit with all added
cables at a size answers for each of them. The voltage lost hangs on every cable of the way; there each is tried with
all others as planned, unless all of them thinner do.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from circuitcheck.case import Case, CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.judging import finding_about
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.tables.rulebook import Rulebook

#: So many parts are made anew at most to try sizes for the voltage lost in one circuit; past that none is tried.
MOST_PARTS = 40_000

#: So many cases are asked about at most; past that no other size is tried.
MOST_TRIES = 5_000

#: So many are kept at once.
_MOST_ASKERS = 24

#: What is known already, by check and subject.
Known = Mapping[tuple[str, str], Finding]


def first_that_does(count: int, does: Callable[[int], bool]) -> int | None:
    """The first of ``count`` places that does, where all after it do too; None where none does.

    Places 0, 1, 3, 7 … are asked until one does, then halves between.
    """
    before, place = -1, 0
    while not does(place):
        if place == count - 1:
            return None
        before, place = place, min(2 * place + 1, count - 1)
    while place - before > 1:
        middle = (before + place) // 2
        if does(middle):
            place = middle
        else:
            before = middle
    return place


class Sizes:
    """The added cables of a circuit with other sizes than planned."""

    def __init__(self, circuit: Circuit, book: Rulebook, sizes: Sequence[str], places: Mapping[str, int]) -> None:
        """``sizes``: thinnest first; ``places``: by the id of each added cable where its planned size stands there."""
        self.sizes, self.places = sizes, places
        self.book, self._circuit = book, circuit
        self._all_at: dict[int, Case] = {}
        self._thinned: dict[int, Case] = {}
        self._alone: dict[tuple[str, int], Case] = {}
        #: Who asks which rule about which case: what was found out for one part counts for the next.
        self._askers: dict[tuple[CaseRule[Any], Case], Asker] = {}
        self._parts = sum(len(getattr(circuit, each.attribute)) for each in SECTIONS.values() if each.many)
        self._left = MOST_PARTS
        self._tries = 0

    @property
    def exhausted(self) -> bool:
        """Whether so many cases were asked about that no more sizes are tried."""
        return self._tries > MOST_TRIES

    def about(self, rule: CaseRule[Any], case: Case, part: Any) -> Finding | None:
        """How a rule comes out for one part, without what decides it."""
        asker = self._askers.get((rule, case))
        if asker is None:
            if len(self._askers) >= _MOST_ASKERS:
                del self._askers[next(iter(self._askers))]
            asker = self._askers[rule, case] = Asker(rule, case)
        before = asker.tries
        finding = finding_about(asker, part, named=False)
        self._tries += asker.tries - before
        return finding

    def all_at(self, place: int) -> Case:
        """Every added cable of this size."""
        if place not in self._all_at:
            self._all_at[place] = self._case_with(place, lambda cable: cable.id in self.places)
        return self._all_at[place]

    def thinned(self, place: int) -> Case:
        """Every added cable at most of this size: a case in which no less is lost than with any one of them thinned."""
        if all(planned >= place for planned in self.places.values()):
            return self.all_at(place)
        if place not in self._thinned:
            self._thinned[place] = self._case_with(place, lambda cable: self.places.get(cable.id, -1) > place)
        return self._thinned[place]

    def alone(self, cable: Cable, place: int) -> Case | None:
        """One cable alone of this size, all others as planned; None where too many were tried before."""
        if (cable.id, place) not in self._alone:
            if self._left < self._parts:
                return None
            self._left -= self._parts
            self._alone = {(cable.id, place): self._case_with(place, lambda each: each.id == cable.id)}
        return self._alone[cable.id, place]

    def _case_with(self, place: int, chosen: Callable[[Cable], bool]) -> Case:
        cables = (self._resized(each, place) if chosen(each) else each for each in self._circuit.cables)
        return case_of(replace(self._circuit, cables=tuple(cables)), self.book)

    def _resized(self, cable: Cable, place: int) -> Cable:
        """A cable with another size. Solid stays solid as far as the tables know such a thick wire solid."""
        how = {name: word for name, word in cable.known_by.items() if name != "size"}
        resized = replace(cable, size=self.sizes[place], known_by=how)
        row = self.book.table("conductors").find(self.sizes[place])
        solid = row is not None and row.number("copper_solid") is not None
        return resized if solid or cable.stranding != "solid" else replace(resized, stranding="stranded")


def passes(findings: Sequence[Finding]) -> bool:
    """Whether all of them pass."""
    return all(finding.outcome is Outcome.PASS for finding in findings)
