"""Which size of a cable would do: it is changed in the circuit, and the rules that it concerns are asked again.

What a cable may carry and the breaker that it may have hang on no other cable's size, so each is tried with all others
as planned. The voltage lost hangs on every cable of the way; where all added cables may be thinner at once, each may.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from circuitcheck.case import Case, CaseRule
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.results import Result
from circuitcheck.case.sizes_apart import SizesApart
from circuitcheck.checking.asking import Asked, Asker, Moved, outcome_of
from circuitcheck.checking.judging import finding_about
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome

#: So many parts are looked at anew at most to try sizes for the voltage lost in one circuit; past that none is tried.
MOST_PARTS = 40_000

#: So many cases are asked about at most; past that no other size is tried.
MOST_TRIES = 5_000

#: What is known already, by check and subject.
Known = Mapping[tuple[str, str], Finding]

#: Which size counts of cables that are not as planned: the place among the sizes.
Chosen = Mapping[OpenEntry, int]


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


class _SizedAsker(Asker):
    """One rule and one circuit in which some sizes are chosen. What was found out with others counts here too."""

    def __init__(self, rule: CaseRule[Any], apart: SizesApart) -> None:
        super().__init__(rule, apart.case)
        #: The sizes that count in every case, and all that says which do.
        self.chosen: Chosen = {}
        self._no_matter = apart.chosen

    def settled(self, subject: Any) -> Result | None:
        """What the rule answers about a subject of which it reads nothing open but sizes that are chosen."""
        read = self._answer(subject, worst=True, moved=self.chosen)
        return None if read.rests_on & ~self._no_matter else read

    def ask(self, subject: Any, *, worst: bool, moved: Moved | None = None) -> Asked:
        """The worst answer (or the best) with these sizes."""
        return super().ask(subject, worst=worst, moved={**self.chosen, **moved} if moved else self.chosen)

    def fails(self, subject: Any, *, worst: bool, moved: Moved) -> bool:
        """Whether the worst answer (or the best) with these sizes is that it does not do."""
        return super().fails(subject, worst=worst, moved={**self.chosen, **moved})

    def told(self, subject: Any, asked: Asked | None = None) -> list[tuple[str, Mapping[str, Any]]]:
        """Nothing: nobody reads how an answer about another size came about."""
        return []


class Sizes:
    """The added cables of a circuit with other sizes than planned. case: the circuit in which they are chosen."""

    def __init__(self, circuit: Circuit, case: Case, sizes: Sequence[str], places: Mapping[str, int]) -> None:
        """``case``: the circuit as planned; ``sizes``: thinnest first; ``places``: where the planned size of each added
        cable stands there, by its id.
        """
        self.sizes, self.places, self.book = sizes, places, case.book
        self._circuit = circuit
        self._all_at: dict[int, Circuit] = {}
        self._apart = SizesApart(case, places, self._in_file)
        self.case = self._apart.case
        self._alone: tuple[str, int] | None = None
        self._askers: dict[CaseRule[Any], _SizedAsker] = {}
        self._parts = sum(len(getattr(circuit, each.attribute)) for each in SECTIONS.values() if each.many)
        self._left = MOST_PARTS
        self._tries = 0

    @property
    def exhausted(self) -> bool:
        """Whether so many cases were asked about that no more sizes are tried."""
        return self._tries > MOST_TRIES

    def about(self, rule: CaseRule[Any], chosen: Chosen, part: Any) -> Finding | None:
        """How a rule comes out for one part of the case with these sizes, without what decides it."""
        asker = self._asker(rule, chosen)
        before = asker.tries
        finding = finding_about(asker, part, named=False)
        self._tries += asker.tries - before
        return finding

    def about_cable(self, rule: CaseRule[Any], cable: Cable, place: int) -> Finding | None:
        """How a rule comes out for a cable of this size, all others as planned."""
        return self.about(rule, {self._apart.of_cable[cable.id]: place}, self.case.tree.cable[cable.id])

    def surely_passes(self, rule: CaseRule[Any], cable: Cable, place: int) -> bool:
        """Whether a rule passes a cable of this size whatever is unknown."""
        asker = self._asker(rule, {self._apart.of_cable[cable.id]: place})
        worst = asker.ask(self.case.tree.cable[cable.id], worst=True)
        return worst.complete and not worst.asked and outcome_of(worst.answer) is Outcome.PASS

    def _asker(self, rule: CaseRule[Any], chosen: Chosen) -> _SizedAsker:
        asker = self._askers.get(rule)
        if asker is None:
            asker = self._askers[rule] = _SizedAsker(rule, self._apart)
        asker.chosen = chosen
        return asker

    def thinned(self, place: int) -> Chosen:
        """Every added cable at most of this size: a case in which no less is lost than with any one of them thinned."""
        return {self._apart.thinnest: place}

    def alone(self, cable: Cable, place: int) -> Chosen | None:
        """One cable alone of this size, all others as planned; None where too many were tried before."""
        if self._alone != (cable.id, place):
            if self._left < self._parts:
                return None
            self._left -= self._parts
            self._alone = cable.id, place
        return {self._apart.of_cable[cable.id]: place}

    def _in_file(self, name: str, place: int) -> tuple[Cable, Circuit]:
        """A cable as the file would have it that has all added cables in this size, and the circuit then."""
        circuit = self._all_at.get(place)
        if circuit is None:
            cables = (self._resized(each, place) if each.id in self.places else each for each in self._circuit.cables)
            circuit = self._all_at[place] = replace(self._circuit, cables=tuple(cables))
        return circuit.tree.cable[name], circuit

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
