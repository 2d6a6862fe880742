"""Shared neutral: a multiwire circuit, two hots from two breakers with one neutral.

What it asks: whether the circuit shares its neutral, whether both breakers open together, and what the neutral
carries.

Why: with one breaker off, the neutral is still live from the other half. If the neutral is opened at a device, lights
see up to twice their voltage. When both hots come from the same leg the neutral carries the sum and nothing protects
it.

What to do: both breakers open together (a handle tie or a two-pole breaker), the neutral is spliced and never passed
through a device, and somebody who may open the panel confirms that the two hots stand on different legs.

Cannot see: which legs the breakers are on, and a neutral borrowed from another circuit by mistake. Third-harmonic
current of electronic lamps is not counted.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Supply
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

SHARED = "supply.shared_neutral"
TIE = "supply.handle_tie"
TO_DO = (
    "Turn off both breakers, and test every conductor in the box, the neutral too, before touching any.",
    "Keep the neutral spliced through with a pigtail: it must not depend on a device.",
)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding about the circuit, or none where the neutral is not shared."""
    together = book.value("multiwire-open-together")
    neutral = book.value("multiwire-neutral-not-through-device")
    sources = (together.source, neutral.source)
    supply = circuit.supply
    if supply.shared_neutral is False:
        return
    if supply.shared_neutral is None:
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.UNDETERMINED,
            says="Cannot tell whether this circuit shares its neutral with another breaker.",
            sources=sources,
            needs=(SHARED,),
            keys=(SHARED,),
            to_do=(
                "Look for a red wire beside the black one in the boxes (breaker off, tested dead), "
                "or let an electrician look in the panel.",
                *TO_DO[:1],
            ),
        )
        return
    together_known = True if supply.poles is not None and supply.poles > 1 else supply.handle_tie
    working = [f"breakers open together: {_word(together_known)}", _neutral_current(supply)]
    needs: tuple[str, ...] = ()
    ask: tuple[str, ...] = (
        "Do the two hots of this circuit stand on different legs of the panel?",
        "Which arc-fault device suits a shared neutral here? A single-pole one trips.",
    )
    if together_known is None:
        outcome, needs = Outcome.UNDETERMINED, (TIE,)
        says = "The neutral is shared, and the file does not say whether both breakers open together."
    elif together_known:
        outcome = Outcome.CAUTION
        says = (
            "The neutral is shared and both breakers open together: turn off both, and never open the "
            "neutral at a device."
        )
    else:
        outcome = Outcome.FAIL
        says = "The neutral is shared but the two breakers do not open together, so the neutral can stay live."
        ask = (*ask, "This circuit may be older than the rule of 2008: what is asked of it when it is extended?")
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        working=tuple(working),
        sources=sources,
        needs=needs,
        keys=(TIE, SHARED, "supply.poles"),
        to_do=TO_DO,
        ask=ask,
    )


def _neutral_current(supply: Supply) -> str:
    """What the neutral may carry when the two hots stand on different legs, and when both stand on one."""
    own = supply.breaker_a.high
    other = supply.other_leg_current_a
    both = own if other is None else other.high
    guess = " (as much as this one, since nobody measured it)" if other is None else ""
    return (
        f"neutral, hots on different legs: at most the larger of the two, {max(own, both):.3g} A; hots on the same "
        f"leg: up to {own:.3g} A + {both:.3g} A{guess} = {own + both:.3g} A on a wire that no breaker watches"
    )


def _word(answer: bool | None) -> str:
    return "unknown" if answer is None else "yes" if answer else "no"


RULE = Rule(
    name="shared-neutral",
    title="A neutral shared by two breakers",
    family="site",
    uses=("value:multiwire-open-together", "value:multiwire-neutral-not-through-device"),
    check=check,
)
