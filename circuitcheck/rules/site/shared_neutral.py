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

from circuitcheck.circuit.model import Circuit
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
    other = supply.other_leg_current_a
    working = [f"breakers open together: {_word(supply.handle_tie)}"]
    if other is not None:
        own = supply.breaker_a.high
        working.append(
            f"neutral, hots on different legs: at most the larger of the two, {max(own, other.high):.3g} A; "
            f"hots on the same leg: up to {own:.3g} A + {other.high:.3g} A = {own + other.high:.3g} A"
        )
    needs: tuple[str, ...] = ()
    ask = (
        "Do the two hots of this circuit stand on different legs of the panel?",
        "Which arc-fault device suits a shared neutral here? A single-pole one trips.",
    )
    if supply.handle_tie is None:
        outcome, needs = Outcome.UNDETERMINED, (TIE,)
        says = "The neutral is shared, and the file does not say whether both breakers open together."
    elif supply.handle_tie:
        outcome = Outcome.CAUTION
        says = (
            "The neutral is shared and both breakers open together: turn off both, and never open the "
            "neutral at a device."
        )
    else:
        outcome = Outcome.FAIL
        says = "The neutral is shared but the two breakers do not open together, so the neutral can stay live."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        working=tuple(working),
        sources=sources,
        needs=needs,
        keys=(TIE, SHARED),
        to_do=TO_DO,
        ask=ask,
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
