"""The cut list: each added run with what is left free at both ends, and what to buy of each kind of cable."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from circuitcheck.circuit.model import PANEL, Cable, Circuit
from circuitcheck.findings import Source, merge_sources
from circuitcheck.tables.rulebook import Rulebook

_METRIC = re.compile(r"\d\s*(?:m|cm|mm)\b")


@dataclass(frozen=True, slots=True)
class Span:
    """A length between two ends [m]."""

    low: float
    high: float

    def plus(self, more: float) -> Span:
        """Longer by ``more`` [m]."""
        return Span(self.low + more, self.high + more)


@dataclass(frozen=True, slots=True)
class Cut:
    """One added run. ``run``: from box to box [m]; ``extra_m``: what is added for both ends; None: not known.

    ``free_m``: what is left free at each end that is in a box. ``at_panel``: one end goes to the panel, which is an
    electrician's to say.
    """

    cable: Cable
    run: Span | None
    free_m: float
    extra_m: float
    at_panel: bool

    @property
    def piece(self) -> Span | None:
        """How long the piece is cut [m]."""
        return self.run.plus(self.extra_m) if self.run is not None else None


@dataclass(frozen=True, slots=True)
class CableKind:
    """What tells one kind of cable from another when it is bought. None: the file does not say."""

    type: str | None
    size: str | None
    conductors: int | None
    ground: bool | None
    material: str | None
    low_voltage: bool


@dataclass(frozen=True, slots=True)
class Bought:
    """A kind of cable with all its pieces [m], without and with waste; ``open_runs``: how many have no length."""

    kind: CableKind
    cables: tuple[str, ...]
    pieces: Span
    open_runs: int
    with_waste: Span


@dataclass(frozen=True, slots=True)
class CutList:
    """Every added run, what it comes to by kind of cable, and where the figures stand.

    ``waste``: its share. ``metric``: whether the file gives lengths of new cable in meters.
    """

    cuts: tuple[Cut, ...]
    bought: tuple[Bought, ...]
    waste: float
    metric: bool
    sources: tuple[Source, ...]


def cut_list(circuit: Circuit, book: Rulebook, only: Collection[str] | None = None) -> CutList:
    """The pieces to cut, in the order of the tree, branch circuit first. ``only``: ids of the cables; None, all."""

    def wanted(cable: Cable) -> bool:
        return cable.is_added and (only is None or cable.id in only)

    free, sheath = book.value("free-conductor-length"), book.value("cable-sheath-into-box")
    pigtail, waste = book.value("pigtail-length"), book.value("cable-waste-share")
    tree = circuit.tree
    cuts = [_cut(cable, free.number, sheath.number) for cable in tree.branch_cables if wanted(cable)]
    low = [cable for cable in tree.low_voltage_cables if wanted(cable)]
    cuts += [_cut(cable, pigtail.number, 0) for cable in low]
    names = (free, sheath, waste, *([pigtail] if low else []))
    return CutList(
        cuts=tuple(cuts),
        bought=tuple(_bought(cuts, frozenset(tree.driver_of), waste.number)),
        waste=waste.number,
        metric=any(cut.cable.length_m is not None and _METRIC.search(cut.cable.length_m.text) for cut in cuts),
        sources=merge_sources(*((value.source,) for value in names)),
    )


def _cut(cable: Cable, least_free_m: float, sheath_m: float) -> Cut:
    free = max(least_free_m, cable.free_length_m.high if cable.free_length_m is not None else 0.0)
    ends = 1 if cable.from_id == PANEL else 2
    run = Span(cable.length_m.low, cable.length_m.high) if cable.length_m is not None else None
    return Cut(cable, run, free, ends * (free + sheath_m), cable.from_id == PANEL)


def _bought(cuts: Iterable[Cut], low_voltage: frozenset[str], waste: float) -> Iterable[Bought]:
    kinds: dict[CableKind, list[Cut]] = {}
    for cut in cuts:
        cable = cut.cable
        low = cable.id in low_voltage
        kind = CableKind(cable.type, cable.size, cable.conductors, cable.ground, cable.material, low)
        kinds.setdefault(kind, []).append(cut)
    for kind, found in kinds.items():
        known = [cut.piece for cut in found if cut.piece is not None]
        pieces = Span(sum(piece.low for piece in known), sum(piece.high for piece in known))
        more = Span(pieces.low * (1 + waste), pieces.high * (1 + waste))
        yield Bought(kind, tuple(cut.cable.id for cut in found), pieces, len(found) - len(known), more)
