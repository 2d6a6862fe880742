"""Which conductor sizes would do for a cable, thinnest first: breaker, ampacity and load where it lies, voltage drop.

The circuit is solved once, as it is planned. For another size only this cable's own share of the worst drop below it
is scaled, with the current that the solved circuit sends through it. Through a thicker conductor slightly less flows,
since loads of constant power then see more voltage, so the scaled drop is on the high side.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.domain.conductor_ampacity import COPPER, Corrected, equivalent_size
from circuitcheck.domain.overcurrent import greatest_breaker, most_for
from circuitcheck.findings import Source, exceeds, merge_sources
from circuitcheck.rules.cable_currents import CableCurrent, cable_currents
from circuitcheck.rules.cable_impedance import Impedances
from circuitcheck.rules.capacity.branch_state import BranchState, Stretch
from circuitcheck.rules.capacity.conductor_ampacity import may_round_up, metals_of, receptacles_on
from circuitcheck.rules.capacity.solved_branch import branch_state
from circuitcheck.rules.capacity.surroundings import Surroundings, ampacity_range, branch_surroundings
from circuitcheck.rules.switch_loops import SWITCH_LOOP
from circuitcheck.tables.rulebook import Rulebook

BREAKER, AMPACITY, DROP = "breaker-vs-wire", "ampacity", "voltage-drop"


class Limits(NamedTuple):
    """What one size may carry [A] at the worst and at the best end: the largest breaker by itself and where it lies.

    before_a: the ampacity before correction and adjustment, for continuous loads with their factor.
    """

    breaker_a: tuple[float, float]
    ampacity_a: tuple[float, float]
    breaker_there_a: tuple[float, float]
    before_a: tuple[float, float]
    sources: tuple[Source, ...]


class Candidate(NamedTuple):
    """One size for one cable, and the checks that it does not meet.

    ``fails_at_best``: even if everything unknown turns out well. ``fails_at_worst``: if it turns out badly.
    ``advised``: only if loads that nobody called continuous are on for hours, or only what is recommended of the drop.
    ``drop_percent`` is the worst drop below the cable, None where it cannot be told.
    """

    size: str
    area_m2: float
    limits: Limits
    fails_at_best: tuple[str, ...]
    fails_at_worst: tuple[str, ...]
    advised: tuple[str, ...]
    drop_percent: float | None


class Thickest(NamedTuple):
    """The thickest conductor that usual terminals take, and where that stands."""

    area_m2: float
    source: Source


class DropBelow(NamedTuple):
    """What a cable's size does to the worst drop below it [V]: the rest of the way, and its own share for R + jX.

    Its own share is the part of R + jX times the current that is in step with the voltage, times ``scale``.
    """

    rest_v: float
    lean_a: complex
    scale: float
    length_m: float

    def volts(self, ohm_per_m: complex) -> float:
        """The worst loss below with another conductor in this cable [V]."""
        return self.rest_v + self.scale * (2.0 * self.length_m * ohm_per_m * self.lean_a).real


class SizeCandidates:
    """The sizes for every cable of one circuit under one rulebook, with what they share looked up once."""

    def __init__(self, circuit: Circuit, book: Rulebook) -> None:
        """Solve the circuit as planned, and add up its currents."""
        self._circuit = circuit
        self._book = book
        self._state = branch_state(circuit, book)
        self._impedances = Impedances(book)
        self._currents = cable_currents(circuit, book)
        self._surroundings = branch_surroundings(circuit, book)
        receptacles = receptacles_on(circuit, book)
        self.kinds_open = (
            tuple(f"load.{load.id}.kind" for load in circuit.loads if load.kind is None)
            if may_round_up(book, receptacles[0]) != may_round_up(book, receptacles[1])
            else ()
        )
        # More receptacles never allow a larger breaker, so the most of them are the worst end.
        self._round_up = (may_round_up(book, receptacles[1]), may_round_up(book, receptacles[0]))
        self._limits: dict[tuple[object, ...], Limits] = {}
        self._clean, self._single = _worst_below(self._state)
        self._stretches = _own_stretches(self._state)
        usual = book.value("usual-terminals-thickest")
        self.terminals_thickest = Thickest(self._area(usual.text), usual.source)
        self.limit_percent = 100.0 * book.value("voltage-drop-recommended-branch").number
        rows = book.table("branch-circuit-conductors")
        breaker = circuit.supply.breaker_a
        least, least_at_best = (rows.first_at_least("rating", end) for end in (breaker.high, breaker.low))
        self.least_row = least
        # The thinnest conductor at worst and at best: a rating that is not certain may be the smaller one.
        self._least_m2 = tuple(
            self._area(row.text("copper") or "") if row is not None else 0.0 for row in (least, least_at_best)
        )
        thinnest = self._area(book.table("branch-circuit-conductors").rows[0].text("copper") or "")
        self._sizes = tuple(
            (row.key[0], area)
            for row in book.table("conductors").rows
            if (area := row.number("area") or 0.0) >= thinnest
        )

    def current(self, cable: Cable) -> CableCurrent:
        """What flows through the cable."""
        return self._currents[cable.id]

    def surroundings(self, cable: Cable) -> Surroundings:
        """Where the cable lies."""
        return self._surroundings[cable.id]

    def area_of(self, size: str) -> float | None:
        """The area of metal by which the tables count a size [m2], None for a size that they do not know."""
        return self._area(equivalent_size(self._book, size)[0]) or None

    def _area(self, size: str) -> float:
        row = self._book.table("conductors").find(size)
        return (row.number("area") or 0.0) if row is not None else 0.0

    def of(self, cable: Cable, around: Surroundings) -> Iterator[Candidate]:
        """Each size that the tables hold from the thinnest for a branch circuit up, with what it does not meet."""
        below = self._drop_below(cable)
        if self._is_beyond_help(below):
            below = None
        for size, area in self._sizes:
            limits = self._limits_of(size, cable.material, around)
            if limits is not None:
                yield self._candidate(cable, size, area, limits, below)

    def drop_cannot_be_met(self, cable: Cable) -> bool:
        """Whether the rest of the way alone loses more than is recommended, whatever this cable's conductor."""
        return self._is_beyond_help(self._drop_below(cable))

    def _is_beyond_help(self, below: DropBelow | None) -> bool:
        return below is not None and exceeds(self._percent(below.rest_v), self.limit_percent)

    def _percent(self, volts: float) -> float:
        return 100.0 * volts / self._state.volts[0]

    def _candidate(self, cable: Cable, size: str, area: float, limits: Limits, below: DropBelow | None) -> Candidate:
        breaker = self._circuit.supply.breaker_a
        current = self._currents[cable.id]
        # A load that is not known is at most what the breaker lets through for hours.
        most = breaker.high if current.open_keys else 0.0
        highest = max(current.high, most), max(current.plain_high, most)
        conductor = self._impedances.conductor(cable, size) if below is not None else None
        drop = None
        if below is not None and conductor is not None:
            drop = self._percent(below.volts(conductor.high))
        advised = []
        if exceeds(current.worst, limits.before_a[0]):
            advised.append(AMPACITY)
        if drop is not None and exceeds(drop, self.limit_percent):
            advised.append(DROP)
        return Candidate(
            size=size,
            area_m2=area,
            limits=limits,
            fails_at_best=self._unmet(cable, size, area, limits, 1, breaker.low, (current.low, current.plain_low)),
            fails_at_worst=self._unmet(cable, size, area, limits, 0, breaker.high, highest),
            advised=tuple(advised),
            drop_percent=drop,
        )

    def _unmet(
        self,
        cable: Cable,
        size: str,
        area: float,
        limits: Limits,
        end: int,
        breaker_a: float,
        load_a: tuple[float, float],
    ) -> tuple[str, ...]:
        metal = metals_of(cable.material, size, self._book)[end]
        unmet = []
        too_thin = metal == COPPER and exceeds(self._least_m2[end], area)
        if too_thin or exceeds(breaker_a, limits.breaker_a[end]):
            unmet.append(BREAKER)
        counted, plain = load_a
        if (
            exceeds(plain, limits.ampacity_a[end])
            or exceeds(counted, limits.before_a[end])
            or exceeds(breaker_a, limits.breaker_there_a[end])
        ):
            unmet.append(AMPACITY)
        return tuple(unmet)

    def _limits_of(self, size: str, material: str | None, around: Surroundings) -> Limits | None:
        where = (around.insulation_c, around.ambient_c, around.count, around.cable_limit_c, around.terminals_c)
        asked = (size, material, where)
        if asked not in self._limits:
            there = ampacity_range(self._book, size, material, around)
            base = self._book.value("ambient-base").number
            bare = ampacity_range(
                self._book,
                size,
                material,
                Surroundings(
                    insulation_c=around.insulation_c,
                    ambient_c=(base, base),
                    count=(1, 1),
                    cable_limit_c=around.cable_limit_c,
                    terminals_c=around.terminals_c,
                ),
            )
            if there is None or bare is None:
                return None
            self._limits[asked] = self._limits_from(size, material, there, bare)
        return self._limits[asked]

    def _limits_from(
        self, size: str, material: str | None, there: tuple[Corrected, Corrected], bare: tuple[Corrected, Corrected]
    ) -> Limits:
        by_itself: list[float] = []
        placed: list[float] = []
        sources: list[tuple[Source, ...]] = [one.sources for one in there]
        for end, metal in enumerate(metals_of(material, size, self._book)):
            most, _, cited = most_for(self._book, size, metal, bare[end].amperes, round_up=self._round_up[end])
            device, also = greatest_breaker(self._book, there[end].amperes, may_round_up=self._round_up[end])
            by_itself.append(most)
            placed.append(device)
            sources += (cited, also)
        return Limits(
            breaker_a=(by_itself[0], by_itself[1]),
            ampacity_a=(there[0].amperes, there[1].amperes),
            breaker_there_a=(placed[0], placed[1]),
            before_a=(bare[0].before_a, bare[1].before_a),
            sources=merge_sources(*sources),
        )

    def _drop_below(self, cable: Cable) -> DropBelow | None:
        """What the cable's size does to the drop, or None where that cannot be told or nothing is fed through it."""
        own = self._stretches.get(cable.id)
        if own is None or cable.length_m is None:
            return None
        leg = self._state.legs[own.leg]
        if leg.needs or not leg.served_high:
            return None
        conductor = own.impedance.conductor
        worst_v = self._clean[own.node] if conductor is not None else self._single[own.node]
        if worst_v is None:
            return None
        plain_v = (2.0 * cable.length_m.high * conductor.high * own.lean_a).real if conductor is not None else 0.0
        return DropBelow(
            rest_v=worst_v - own.own_loss_v,
            lean_a=own.lean_a,
            scale=own.own_loss_v / plain_v if plain_v > 0.0 else 1.0,
            length_m=cable.length_m.high,
        )


def _own_stretches(state: BranchState) -> dict[str, Stretch]:
    """Cable id -> the stretch through which its current flows: for a switch loop the one that lies before its loads.

    A loop of several cables has no stretch of its own for each, so their size is not judged by the drop.
    """
    found: dict[str, Stretch] = {}
    for stretch in state.stretches:
        cable = stretch.cables[-1]
        if len(stretch.cables) == 1:
            before = found.get(cable.id)
            if before is None or (cable.carries == SWITCH_LOOP and stretch.current_a > before.current_a):
                found[cable.id] = stretch
    return found


def _worst_below(state: BranchState) -> tuple[list[float | None], list[float | None]]:
    """For each node the worst loss [V] of any load at or below it.

    First list: loads to which the whole way is known. Second: loads with at most one unknown on the way, which is the
    cable in question when its own size is not known.
    """
    clean: list[float | None] = [None] * len(state.stretches)
    single: list[float | None] = [None] * len(state.stretches)
    for node in state.node_of.values():
        if node >= 0:
            stretch = state.stretches[node]
            if not stretch.needs:
                clean[node] = stretch.high_loss_v
            if len(stretch.needs) <= 1:
                single[node] = stretch.high_loss_v
    for stretch in reversed(state.stretches):
        if stretch.above >= 0:
            for worst in (clean, single):
                mine, above = worst[stretch.node], worst[stretch.above]
                if mine is not None and (above is None or mine > above):
                    worst[stretch.above] = mine
    return clean, single
