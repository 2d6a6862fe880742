"""Through wiring: a recessed light whose own wiring box passes the circuit on.

What it asks: how many conductors of which size run through the wiring box of each added recessed light, against what
its label allows.

Why: the wiring box on a recessed light is small and hot. Only a light marked for it may pass the circuit on to the
next one.

What to do: read the label. It names how many conductors of which size. Otherwise splice in a box of its own that
stays reachable.

Cannot see: the volume of the wiring box; the label's count already stands for it.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Load
from circuitcheck.findings import Finding, Outcome, Source, exceeds
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

ASK = "A two-wire circuit that only joins lights together needs no through-wiring mark: does that hold here?"


def _thicker(circuit: Circuit, load: Load, book: Rulebook) -> str | None:
    """The first cable in the light's box whose conductors are thicker than its label names; None where none is."""
    areas = book.table("conductors")
    marked = areas.find(load.through_wiring_size) if load.through_wiring_size is not None else None
    most = marked.number("area") if marked is not None else None
    for cable in circuit.tree.cables_at.get(load.box, ()):
        row = areas.find(cable.size) if cable.size is not None else None
        area = row.number("area") if row is not None else None
        if most is not None and area is not None and exceeds(area, most):
            return cable.id
    return None


def _through(circuit: Circuit, load: Load) -> int | None:
    """Insulated conductors that enter the light's box from all its cables; None where one is unknown."""
    cables = circuit.tree.cables_at.get(load.box, ())
    counts = [cable.conductors for cable in cables]
    return None if None in counts else sum(count for count in counts if count is not None)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added recessed light through whose box the circuit goes on."""
    source = book.value("through-wiring-marking").source
    for load in circuit.loads:
        if not is_added(load) or not circuit.tree.children.get(load.box):
            continue
        if load.mounting is None and load.kind in (None, "light"):
            yield _where_is_it(load, source)
        if load.mounting != "recessed":
            continue
        key = f"load.{load.id}.through_wiring_count"
        count, allowed = _through(circuit, load), load.through_wiring_count
        thick = _thicker(circuit, load, book)
        needs: tuple[str, ...] = ()
        if allowed is None or count is None:
            outcome = Outcome.UNDETERMINED
            needs = (
                (key,)
                if allowed is None
                else tuple(
                    f"cable.{cable.id}.conductors"
                    for cable in circuit.tree.cables_at[load.box]
                    if cable.conductors is None
                )
            )
            says = f"The circuit goes on through {load.id}; cannot tell whether its own wiring box is marked for that."
        elif thick is not None:
            outcome = Outcome.FAIL
            says = f"Cable {thick} has thicker wire than the {load.through_wiring_size} that {load.id} is marked for."
        elif count > allowed:
            outcome = Outcome.FAIL
            says = f"{count} conductors enter the wiring box of {load.id}, which is marked for {allowed}."
        else:
            outcome, says = Outcome.PASS, f"{count} conductors enter the wiring box of {load.id}, marked for {allowed}."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            value=None if count is None else float(count),
            limit=None if allowed is None else float(allowed),
            unit="conductors" if count is not None else None,
            low=None if count is None else float(count),
            high=None if count is None else float(count),
            working=(f"marked size: {load.through_wiring_size or 'unknown'}",),
            sources=(source,),
            needs=needs,
            keys=(key, f"load.{load.id}.through_wiring_size"),
            to_do=()
            if outcome is Outcome.PASS
            else ("Read the label, or splice in a box of its own that stays reachable.",),
            ask=(ASK,) if allowed is None else (),
        )


def _where_is_it(load: Load, source: Source) -> Finding:
    """What is said of a light of unknown mounting: only a recessed one has a wiring box of its own."""
    key = f"load.{load.id}.mounting"
    return Finding(
        check=RULE.name,
        subject=load.id,
        outcome=Outcome.CAUTION,
        says=f"The circuit goes on through the box of {load.id}; a recessed light has to be marked for that.",
        sources=(source,),
        keys=(key,),
        to_do=("Say how the light is mounted, and read its label when it is a recessed one.",),
    )


RULE = Rule(
    name="through-wiring",
    title="Recessed lights that pass the circuit on",
    family="site",
    uses=("value:through-wiring-marking", "conductors"),
    check=check,
)
