"""The current that each branch cable carries, added up from the ends of the circuit to the panel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from circuitcheck.case import Case, in_order, once
from circuitcheck.case.list_apart import MOTOR, kinds_apart
from circuitcheck.case.parts import Cable, Load
from circuitcheck.domain.draws import Draw, driver_draw, is_continuous, load_draw, motor_quarter
from circuitcheck.domain.existing_load import most_unlisted_through, unfed, unfed_draw, unlisted_behind
from circuitcheck.findings import Source, merge_sources

SWITCH_LOOP = "switch loop"
#: What a cable carries that takes no current back from where it goes.
_ONLY_ONWARD = ("feed", "switched")


class Carried(NamedTuple):
    """What flows through a cable [A], motors as they are.

    plain: the sum. times: the same with continuous loads counted with their factor. quarter: a quarter of the largest
    motor that the cable feeds; short_quarter: of the largest of those that are not continuous.

    Source: NFPA 70, 430.24, of a conductor that supplies several motors.
    """

    plain: float = 0.0
    times: float = 0.0
    quarter: float = 0.0
    short_quarter: float = 0.0
    sources: tuple[Source, ...] = ()

    @property
    def load(self) -> float:
        """What it counts in its conditions of use [A]: as it is, the largest motor a quarter more."""
        return self.plain + self.quarter

    @property
    def counted(self) -> float:
        """What it counts before correction and adjustment [A]: continuous loads and the largest motor a quarter more.

        Never both factors for the same motor.
        """
        return self.times + self.short_quarter

    def plus(self, other: Carried) -> Carried:
        """Both together."""
        sources = merge_sources(self.sources, other.sources) if other.sources else self.sources
        return Carried(
            self.plain + other.plain,
            self.times + other.times,
            max(self.quarter, other.quarter),
            max(self.short_quarter, other.short_quarter),
            sources,
        )


def carried_by(case: Case, cable: Cable) -> Carried:
    """What the listed loads send through a cable; a switch loop carries what its switch turns on."""
    in_order(case, _hanging_below, lambda: reversed(case.tree.branch_cables))
    carried = _hanging_below(case, cable)
    for load in _through_loop(case, cable):
        carried = carried.plus(_of(case, load_draw(case, load)))
    return carried


class Unlisted(NamedTuple):
    """A current that may flow through a cable of the branch circuit and that no load behind it explains [A].

    It was read at the panel, or loads draw it that hang on no cable. certain: all of it flows through this cable, since
    everything on the circuit does; else nobody knows its place.
    """

    amperes: float
    certain: bool


@once
def unlisted_through(case: Case, cable: Cable) -> Unlisted:
    """What may flow through a cable beside the loads behind it.

    Of what was read nothing flows to what is only added: that was not there when somebody measured. Where an existing
    load hangs on no cable, nobody knows what else of what was there does not.
    """
    homeruns = case.tree.children.get(case.tree.order[0], ())
    is_only = len(homeruns) == 1 and homeruns[0] is cable
    if case.supply.measured_current_a is None:
        return Unlisted(unfed_draw(case), is_only and not unfed(case))
    if is_only:
        return Unlisted(unlisted_behind(case, cable), not unfed(case))
    if all(part.is_added for part in unfed(case)) and not leads_to_what_was_there(case, cable):
        return Unlisted(unfed_draw(case), certain=False)
    return Unlisted(most_unlisted_through(case, cable), certain=False)


def leads_to_what_was_there(case: Case, cable: Cable) -> bool:
    """Whether anything that the cable feeds or switches was there before the work, be it another one or elsewhere now.

    A cable that was there itself does, a box, a load or a driver, and a switch of such a load. A cable that takes a
    current to a switch and back may: who knows what else hangs on that switch.
    """
    in_order(case, _was_there, lambda: reversed(case.tree.branch_cables))
    return _was_there(case, cable)


@once
def _was_there(case: Case, cable: Cable) -> bool:
    tree, end = case.tree, cable.to_id
    behind = (
        cable, tree.box[end], *tree.loads_at.get(end, ()), *tree.drivers_at.get(end, ()),
        *switched_loads(case).get(end, ()),
    )  # fmt: skip
    if any(not part.is_added or part.ref in case.replaced or part.ref in case.moved for part in behind):
        return True
    if any(_was_there(case, child) for child in tree.children.get(end, ())):
        return True
    return cable.carries not in _ONLY_ONWARD


@once
def _hanging_below(case: Case, cable: Cable) -> Carried:
    """The current of everything connected downstream."""
    tree = case.tree
    carried = Carried()
    for load in tree.loads_at.get(cable.to_id, ()):
        carried = carried.plus(_of(case, load_draw(case, load)))
    for driver in tree.drivers_at.get(cable.to_id, ()):
        carried = carried.plus(_of(case, driver_draw(case, driver)))
    for child in tree.children.get(cable.to_id, ()):
        carried = carried.plus(_hanging_below(case, child))
    return carried


def _of(case: Case, draw: Draw) -> Carried:
    kind = kinds_apart(case, MOTOR)[draw.part].kind if isinstance(draw.part, Load) else None
    quarter = motor_quarter(case, draw, kind)
    if is_continuous(case, draw.part):
        factor = case.book.value("continuous-load-factor").number
        return Carried(draw.amperes, draw.amperes * factor, quarter, 0.0, draw.sources)
    return Carried(draw.amperes, draw.amperes, quarter, motor_quarter(case, draw), draw.sources)


@once
def switched_loads(case: Case) -> Mapping[str, tuple[Load, ...]]:
    """Box id -> the loads that are switched by a control in that box."""
    at: dict[str, tuple[Load, ...]] = {}
    for load in case.loads:
        control = case.control.get(load.switched_by) if load.switched_by is not None else None
        if control is not None:
            at[control.box] = (*at.get(control.box, ()), load)
    return at


def _through_loop(case: Case, cable: Cable) -> tuple[Load, ...]:
    """The loads whose current runs through this cable to their switch and back."""
    if not switched_loads(case):
        return ()
    in_order(case, _loop_loads, lambda: reversed(case.tree.branch_cables))
    return _loop_loads(case, cable)


@once
def _loop_loads(case: Case, cable: Cable) -> tuple[Load, ...]:
    loads = switched_loads(case).get(cable.to_id, ())
    for child in case.tree.children.get(cable.to_id, ()):
        loads = (*loads, *_loop_loads(case, child))
    return loads if loads and cable.carries == SWITCH_LOOP else ()
