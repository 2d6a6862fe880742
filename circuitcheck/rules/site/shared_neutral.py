"""Shared neutral: a multiwire circuit, two hots from two breakers with one neutral.

What it asks: whether the circuit shares its neutral, whether both breakers open together, on which legs of the panel
the two hots are, and what the neutral carries. A cable with three wires that leaves the panel is settled by what its
third wire is for: a feed and a switched hot are usual, and then nothing is shared.

Why: with one breaker off, the neutral is still live from the other half. If the neutral is opened at a device, lights
see up to twice their voltage. When both hots are on one leg the neutral carries the sum of both circuits, and no
breaker watches it.

What to do: a licensed electrician reads the volts between the two hots: about twice the voltage of the circuit on
opposite legs, about none on one leg. Both breakers open together (an identified tie or a two-pole breaker), and the
neutral is spliced and never passes through a device. A tie alone does not mend two hots on one leg.

Cannot see: a neutral borrowed from another circuit by mistake. Where nobody has read the volts, a two-pole breaker is
taken for opposite legs. Third-harmonic current of electronic lamps is not counted.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Direction,
    Family,
    Said,
    Things,
    order,
    said,
)
from circuitcheck.case.memory import aside
from circuitcheck.case.parts import Supply
from circuitcheck.circuit.model import PANEL
from circuitcheck.domain.directions import DRAW_WORSE
from circuitcheck.domain.draws import draws
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.tables.rulebook import Rulebook

TWO_CIRCUITS, _TWO_POLES = "two circuits", 2
_TO_DO = (
    "Turn off both breakers, and test every conductor in the box, the neutral too, before touching any.",
    "Keep the neutral spliced through with a pigtail: it must not depend on a device.",
)
_LOOK = (
    "Look for a red wire beside the black one in the boxes (breaker off, tested dead), or let an electrician look in "
    "the panel.",
    "Have a licensed electrician read the volts between the two hots. Never open the panel for it yourself.",
    _TO_DO[0],
)
_STOP = (
    "Turn off both breakers and leave them off.",
    "Have a licensed electrician put the two hots on opposite legs, under a two-pole breaker or an identified tie, and "
    "splice the neutral so that it passes through no device. A tie alone does not mend this.",
)
_ARC_FAULT = "Which arc-fault device suits a shared neutral here? A single-pole one trips."
_OLDER = "This circuit may be older than the rule of 2008: what is required when it is extended?"


def is_shared(case: Case) -> bool:
    """Whether another circuit uses the neutral: as the file says, or by what the cables from the panel are for."""
    told = case.supply.shared_neutral
    if told is not None:
        return told
    return any(cable.carries == TWO_CIRCUITS for cable in case.tree.children.get(PANEL, ()))


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """How the two breakers open and where their hots are; on one leg, what the neutral carries."""
    if not is_shared(case):
        return None
    together = supply.poles >= _TWO_POLES or bool(supply.handle_tie)
    one_leg, legs_told = _legs(supply, book)
    things: Things = {"nominal": Amount(supply.voltage_v, "V")}
    if supply.volts_between_hots_v is not None:
        things["volts"] = Amount(supply.volts_between_hots_v, "V")
    if one_leg:  # only there do the currents add up, and what the loads draw is of interest
        own, other = _own_current(case), _other_current(supply)
        things |= {
            "own": Amount(own, "A"),
            "other": Amount(other, "A"),
            "sum": Amount(own + other, "A"),
            "rating": Amount(supply.breaker_a, "A"),
        }
    outcome, says = _judge(things, together=together, one_leg=one_leg, legs_told=legs_told)
    odd = outcome is Outcome.UNDETERMINED
    keys = ("volts_between_hots",) if odd else ("handle_tie", "shared_neutral", "poles", "volts_between_hots")
    return Answer(
        part=supply,
        outcome=outcome,
        says=says,
        open_says=said("Cannot tell yet whether this circuit shares its neutral, and how."),
        working=lambda: _working(supply, together=together),
        sources=(
            book.value("multiwire-open-together").source,
            book.value("multiwire-neutral-not-through-device").source,
        ),
        keys=tuple(supply.entry(key) for key in keys),
        to_do={
            Outcome.FAIL: _STOP if one_leg else _TO_DO,
            Outcome.CAUTION: _TO_DO,
            Outcome.UNDETERMINED: _LOOK,
        },
        ask=() if odd else (_ARC_FAULT,) if together else (_ARC_FAULT, _OLDER),
        stop=one_leg,
    )


def _legs(supply: Supply, book: Rulebook) -> tuple[bool, bool]:
    """Whether both hots are on one leg, and whether the reading tells it; without a reading two poles tell it."""
    volts = supply.volts_between_hots_v
    if volts is None:
        return False, True
    share = volts / supply.voltage_v
    one = not exceeds(share, book.value("hots-on-one-leg-most").number)
    two = not exceeds(book.value("hots-on-two-legs-least").number, share)
    return one, one or two


def _judge(things: Things, *, together: bool, one_leg: bool, legs_told: bool) -> tuple[Outcome, Said]:
    if one_leg:
        return Outcome.FAIL, said(
            "The neutral is shared and both hots are on one leg: {volts} between them. So the neutral carries {own} "
            "and {other} together, {sum}, and no breaker protects it from overload; its wire is protected for "
            "{rating}.",
            **things,
        )
    odd = "{volts} between the hots fits neither opposite legs nor one leg of {nominal}."
    if not together:
        says = "The neutral is shared but the two breakers do not open together, so the neutral can stay live."
        return Outcome.FAIL, said(says if legs_told else f"{says} {odd}", **things)
    if not legs_told:
        return Outcome.UNDETERMINED, said(f"The neutral is shared. {odd}", **things)
    return Outcome.CAUTION, said(
        "The neutral is shared and both breakers open together: turn off both, and never open the neutral at a device."
    )


def _own_current(case: Case) -> float:
    """What this circuit sends through the neutral: the list or the reading, and what is added [A]."""
    with aside(case):
        drawn = draws(case)
        listed = sum(draw.amperes for draw in drawn if not draw.part.is_added)
        added = sum(draw.amperes for draw in drawn if draw.part.is_added)
    read = case.supply.measured_current_a
    return (listed if read is None else max(listed, read)) + added


def _other_current(supply: Supply) -> float:
    """What the other circuit sends through it: as read, else as much as this breaker lets through [A]."""
    return supply.breaker_a if supply.other_leg_current_a is None else supply.other_leg_current_a


def _working(supply: Supply, *, together: bool) -> Iterator[Said]:
    own, other = supply.breaker_a, _other_current(supply)
    things: Things = {
        "larger": Amount(max(own, other), "A"),
        "own": Amount(own, "A"),
        "other": Amount(other, "A"),
        "sum": Amount(own + other, "A"),
    }
    guess = " (as much as this one, since nobody measured it)" if supply.other_leg_current_a is None else ""
    yield said("breakers open together: " + ("yes" if together else "no"))
    yield said(
        "neutral, hots on different legs: at most the larger of the two, {larger}; hots on one leg: up to {own} + "
        "{other}" + guess + " = {sum} on a wire that no breaker protects from overload",
        **things,
    )


_WORSE: dict[str, Direction] = {
    **DRAW_WORSE,
    "supply.voltage": EACH,  # a reading between the hots is judged against it
    "supply.shared_neutral": MORE,
    "supply.poles": LESS,
    "supply.handle_tie": LESS,
    "supply.volts_between_hots": LESS,
    "supply.other_leg_current": MORE,
    "supply.measured_current": MORE,
    "supply.breaker": MORE,
    "cable.carries": order("feed and switched", TWO_CIRCUITS),
}

RULE = CaseRule[Supply](
    name="shared-neutral",
    title="A neutral shared by two breakers",
    family=Family.SITE,
    rank=270,
    subjects=lambda case: (case.supply,),
    answer=answer,
    worse=_WORSE,
)
