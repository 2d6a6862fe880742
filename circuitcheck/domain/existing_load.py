"""What is on the circuit already: the listed loads, or the reading at the panel where it is larger."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from circuitcheck.case import Case, in_order, once
from circuitcheck.case.list_apart import gone_apart, list_apart
from circuitcheck.case.parts import Cable, Driver, Load
from circuitcheck.domain.draws import RECEPTACLE, draw_of, draws, driver_draw, load_draw
from circuitcheck.domain.luminaires import LIGHT
from circuitcheck.findings import Source, merge_sources
from circuitcheck.refs import Ref


class ExistingLoad(NamedTuple):
    """What the existing loads draw by the list and by the reading, without any factor [A].

    reading: None where nobody measured. A reading can only raise the load: lamps may have been off, and the next lamp
    may be bigger. What the work takes away is off it.
    """

    listed: float
    reading: float | None

    @property
    def surplus(self) -> float:
        """What was read and no listed load explains [A]."""
        return max(0.0, self.reading - self.listed) if self.reading is not None else 0.0


@once
def existing_load(case: Case) -> ExistingLoad:
    """The existing load of the circuit [A]. What is to be added was not there yet when somebody measured.

    A load that goes is taken off the reading only where it was on.
    """
    reading = case.supply.measured_current_a
    if reading is None:
        return ExistingLoad(0.0, None)
    return ExistingLoad(_listed(case), max(0.0, reading - _taken_off(case)))


class Explained(NamedTuple):
    """How much of a reading the existing loads on the list explain [A], and where that stands in the code."""

    amperes: float
    sources: tuple[Source, ...]


@once
def explained(case: Case) -> Explained:
    """What the list explains of a reading, whatever its loads are here: what they draw at the least [A].

    Something else may be plugged in than the file says: a receptacle explains what the code plans for it. Of loads that
    the work takes away the list explains what they drew, where they were on.

    Source: NFPA 70, 220.14(I).
    """
    apart = list_apart(case)
    existing = [draw for draw in draws(apart) if not draw.part.is_added]
    planning = case.book.value("receptacle-planning-load")
    outlets = [load for load in apart.loads if not load.is_added and load.kind == RECEPTACLE]
    planned = {outlet.ref: outlet.quantity * planning.number / apart.supply.voltage_v for outlet in outlets}
    amperes = sum(max(draw.amperes, planned.get(draw.ref, 0.0)) for draw in existing)
    sources = merge_sources(*(draw.sources for draw in existing), (planning.source,) if outlets else ())
    return Explained(amperes + _taken_off(case), sources)


@once
def most_unlisted(case: Case) -> float:
    """What may flow in any cable beside the loads that hang on cables, those at their least whatever they are here [A].

    It was read and no existing load explains it, or loads draw it that hang on no cable of the branch circuit.
    """
    reading = case.supply.measured_current_a
    if reading is None:
        return unfed_draw(case)
    apart = list_apart(case)
    there = _listed(apart) - sum(draw_of(apart, part).amperes for part in _unfed_existing(apart))
    return _beside(case, reading - _taken_off(case) - there)


@once
def most_unlisted_through(case: Case, cable: Cable) -> float:
    """The same of one cable: what neither the loads behind it draw nor, at their least, the others on cables [A]."""
    if case.supply.measured_current_a is None:
        return unfed_draw(case)
    in_order(case, _listed_behind, lambda: reversed(case.tree.branch_cables))
    elsewhere = _listed_elsewhere(list_apart(case))
    reading = case.supply.measured_current_a - _taken_off(case)
    return _beside(case, reading - _listed_behind(case, cable) - elsewhere[cable.id])


@once
def unlisted_behind(case: Case, cable: Cable) -> float:
    """What may flow in the only cable that leaves the panel beside the loads behind it [A].

    A load that hangs on no cable of the branch circuit is fed somehow, and may be behind it.
    """
    if case.supply.measured_current_a is None:
        return unfed_draw(case)
    in_order(case, _listed_behind, lambda: reversed(case.tree.branch_cables))
    return _beside(case, case.supply.measured_current_a - _taken_off(case) - _listed_behind(case, cable))


def _beside(case: Case, left: float) -> float:
    """What a reading leaves, at least what existing loads without a cable draw, and those that are added [A]."""
    existing = sum(draw_of(case, part).amperes for part in _unfed_existing(case))
    return max(0.0, left, existing) + (unfed_draw(case) - existing)


@once
def unfed(case: Case) -> tuple[Load | Driver, ...]:
    """The loads and drivers that hang on no cable of the branch circuit: what feeds them nobody knows."""
    boxes = frozenset(case.tree.order)
    parts: tuple[Load | Driver, ...] = (*case.loads, *case.drivers)
    return tuple(part for part in parts if part.box not in boxes)


@once
def unfed_draw(case: Case) -> float:
    """What these draw together [A]."""
    return sum(draw_of(case, part).amperes for part in unfed(case))


def to_find_out(case: Case) -> tuple[Ref, ...]:
    """The entries to look at where a current has no place: the boxes of these, or whether the list is complete."""
    return tuple(part.entry("box") for part in unfed(case)) or (case.supply.entry("loads_complete"),)


def _unfed_existing(case: Case) -> Iterator[Load | Driver]:
    return (part for part in unfed(case) if not part.is_added)


def _taken_off(case: Case) -> float:
    """What the loads that go drew while somebody measured [A], also those that another stands for, or that move."""
    taken_off = 0.0
    for gone in case.gone:
        drawn = _drawn(case, gone_apart(case)[gone.load], has_watts=gone.has_watts)
        if drawn and gone.load.on_at_reading:
            taken_off += drawn
    return taken_off


def _drawn(case: Case, load: Load, *, has_watts: bool) -> float:
    """What a load that goes drew while it was on [A]. ``has_watts``: the file gives its watts.

    Of a light the watts on its label are the largest lamp's: only the lamp that is in it tells what it draws. Where
    nothing is given it may still be found out.
    """
    volts = list_apart(case).supply.voltage_v
    if load.fitted_w is not None:
        return load.quantity * load.fitted_w / volts
    if load.current_a is not None:
        return load.quantity * load.current_a
    if load.apparent_va is not None:
        return load.quantity * load.apparent_va / volts
    if has_watts and load.kind == LIGHT:
        return 0.0
    return load.quantity * (load.power_w or 0.0) / volts


def _listed(case: Case) -> float:
    return sum(draw.amperes for draw in draws(case) if not draw.part.is_added)


@once
def _listed_behind(case: Case, cable: Cable) -> float:
    """What the existing loads behind a cable draw [A]; asked of the cables ``in_order``, the last first."""
    own, children = _listed_at(case, cable.to_id), case.tree.children.get(cable.to_id, ())
    return own + sum(_listed_behind(case, child) for child in children)


@once
def _listed_elsewhere(case: Case) -> Mapping[str, float]:
    """Cable id -> what the existing loads draw that are not behind it [A]."""
    behind: dict[str, float] = {}
    for cable in reversed(case.tree.branch_cables):
        children = case.tree.children.get(cable.to_id, ())
        behind[cable.id] = _listed_at(case, cable.to_id) + sum(behind[child.id] for child in children)
    # Where those are that hang on no cable nobody knows, so they may be behind any.
    total = _listed(case) - sum(draw_of(case, part).amperes for part in _unfed_existing(case))
    return {name: total - amperes for name, amperes in behind.items()}


def _listed_at(case: Case, box: str) -> float:
    """What the existing loads of one box draw [A]."""
    loads = (load_draw(case, load).amperes for load in case.tree.loads_at.get(box, ()) if not load.is_added)
    drivers = (driver_draw(case, driver).amperes for driver in case.tree.drivers_at.get(box, ()) if not driver.is_added)
    return sum(loads) + sum(drivers)
