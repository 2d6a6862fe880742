"""Danger signs: things that end the job before any arithmetic.

What it asks: whether anybody looked for loose pebble insulation, brittle or cloth insulation, burning smell, scorch
marks, warm plates, flicker or knob and tube wiring.

Why: loose pebble insulation may hold asbestos, and the other signs point at wiring that heats up or falls apart when
it is moved. No count of amperes makes up for them.

What to do: it fits the sign. Heat, smell, scorch marks or flicker: breaker off, but leave a panel or a breaker alone
that is warm or smells; smoke means out of the house, and the fire department. Old insulation: leave it alone and call.
Loose pebbles: keep out of the attic, and call people trained for asbestos.

Cannot see: anything that nobody looked at. A clean list says only what was seen from outside.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.case import EvidenceRule
from circuitcheck.circuit.keys.job import ASBESTOS_SIGN
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, merge_sources
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

#: Signs of insulation that breaks when it is moved; every other sign of the wiring points at heat or a loose joint.
OLD_INSULATION = ("brittle insulation", "cloth insulation", "knob and tube")
KEY = "site.signs"
HEAT = (
    "Smoke, or a burning smell that stays: get everybody out of the house and call the fire department from outside.",
    "Turn the breaker off and leave it off. If the panel or the breaker itself is warm or smells, do not touch it.",
    "Call a licensed electrician now, and use nothing on this circuit until the cause is found.",
)
OLD = (
    "Leave the old wiring alone: do not move it, bend it, open it or splice anything to it.",
    "Call a licensed electrician to look at it before any work on this circuit.",
)


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for the whole circuit. Fails, with ``stop``, on any sign; undetermined when nobody looked.

    A guess that there is none is no look; a guess at a sign is reason enough to stop.
    """
    asbestos = book.value("loose-pebble-insulation")
    wiring = book.value("wiring-stop-signs")
    sources = merge_sources((asbestos.source, wiring.source))
    signs = circuit.site.signs
    guessed = circuit.site.known_by.get("signs") == How.GUESS
    if signs is None or (guessed and not signs):
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.UNDETERMINED,
            says="Cannot tell yet: nobody has looked for danger signs. That comes before any box is opened.",
            sources=sources,
            needs=(KEY,),
            keys=(KEY,),
            to_do=(
                "Look, without opening anything, for: " + "; ".join((ASBESTOS_SIGN, *wiring.items)) + ".",
                "Then list what was seen, or an empty list.",
            ),
        )
        return
    if not signs:
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.PASS,
            says="Somebody looked, and saw no danger signs.",
            sources=sources,
            keys=(KEY,),
        )
        return
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.FAIL,
        says=f"Stop: {', '.join(signs)} was seen. No work on this circuit until the right people have looked.",
        working=tuple(f"seen: {sign}" for sign in signs),
        sources=sources,
        keys=(KEY,),
        to_do=_to_do(signs, asbestos.text),
        stop=True,
    )


def _to_do(signs: tuple[str, ...], asbestos: str) -> tuple[str, ...]:
    """What fits the signs that were seen, the most urgent first."""
    heat = any(sign != ASBESTOS_SIGN and sign not in OLD_INSULATION for sign in signs)
    old = any(sign in OLD_INSULATION for sign in signs)
    pebbles = (asbestos,) if ASBESTOS_SIGN in signs else ()
    return (*(HEAT if heat else ()), *pebbles, *(OLD if old else ()))


RULE = EvidenceRule(
    name="stop-first",
    title="Danger signs, before any arithmetic",
    rank=205,
    check=check,
)
