"""Signs to stop: things that end the job before any arithmetic.

What it asks: whether anybody looked for loose pebble insulation, brittle or cloth insulation, burning smell, warm
plates, flicker or knob and tube wiring.

Why: loose pebble insulation may hold asbestos, and the other signs point at wiring that heats up or falls apart when
it is moved. No count of amperes makes up for them.

What to do: leave boxes closed, stay out of the attic where loose pebbles lie, and call a licensed electrician or, for
the pebbles, people trained for asbestos.

Cannot see: anything that nobody looked at. A clean list says only what was seen from outside.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, merge_sources
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

ASBESTOS_SIGN = "loose pebble insulation"
WIRING_ADVICE = (
    "Turn the breaker off and leave it off; do not open or move the wiring. A licensed electrician looks at it first."
)


def check(circuit: Circuit, book: Rulebook) -> Iterable[Finding]:
    """One finding for the whole circuit. Fails, with ``stop``, on any sign; undetermined when nobody looked."""
    asbestos = book.value("loose-pebble-insulation")
    wiring = book.value("wiring-stop-signs")
    sources = merge_sources((asbestos.source, wiring.source))
    signs = circuit.site.signs
    key = "site.signs"
    if signs is None:
        yield Finding(
            check=RULE.name,
            subject="circuit",
            outcome=Outcome.UNDETERMINED,
            says="Nobody has said yet whether the place was looked over for signs to stop before any box is opened.",
            sources=sources,
            needs=(key,),
            keys=(key,),
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
            says="The place was looked over and no sign to stop was seen.",
            sources=sources,
            keys=(key,),
        )
        return
    to_do: list[str] = []
    if ASBESTOS_SIGN in signs:
        to_do.append(asbestos.text)
    if any(sign != ASBESTOS_SIGN for sign in signs):
        to_do.append(WIRING_ADVICE)
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.FAIL,
        says=f"Stop here: {', '.join(signs)} was seen, so leave the wiring alone and call the right people first.",
        working=tuple(f"seen: {sign}" for sign in signs),
        sources=sources,
        keys=(key,),
        to_do=tuple(to_do),
        stop=True,
    )


RULE = Rule(
    name="stop-first",
    title="Signs to stop before any arithmetic",
    family="site",
    uses=("value:loose-pebble-insulation", "value:wiring-stop-signs"),
    check=check,
)
