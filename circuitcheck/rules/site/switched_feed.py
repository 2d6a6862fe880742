"""Switched feed: what each switch kills, and whether a new light hangs on a switched wire.

What it asks: which conductor feeds each added light: one that is always hot, or one that a switch turns off.

Why: in a ceiling box the black wire may be the switched one. A light fed from it works only while that switch is on,
and a switch that is off does not make the box dead.

What to do: decide whether the new lights should follow that switch. Breaker off and tested dead before looking at the
wires, and let an electrician tell the always-hot wire from the switched one.

Cannot see: colors in the box. White may be hot in a switch loop, and the file only says what somebody wrote down.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import PANEL, Circuit, Driver, Load
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import added_lights
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

SWITCHED = ("switched", "switch loop", "travelers")
#: Switches one behind the other that are told, nearest the load, and loads named in one sentence.
MOST_IN_A_ROW = 8
MOST_NAMED = 12


def _switched_at(circuit: Circuit) -> dict[str, tuple[str | None, bool]]:
    """Box id -> the control that switches the way to it ("a switch" where unnamed), and whether that much is known."""
    found: dict[str, tuple[str | None, bool]] = {PANEL: (None, True)}
    for cable in circuit.tree.branch_cables:
        control, known = found[cable.from_id]
        if control is None:
            control = cable.switched_by or ("a switch" if cable.carries in SWITCHED else None)
            known = control is not None or (known and cable.carries is not None)
        found[cable.to_id] = (control, known)
    return found


def loads_killed_by(circuit: Circuit) -> dict[str, list[str]]:
    """Control id -> ids of the loads and drivers that go off with it.

    By their own word, by any cable on the way to them, and, for a three-way pair, by the word about its partner.
    """
    killed: dict[str, list[str]] = {control.id: [] for control in circuit.controls}
    above: dict[str, tuple[str, ...]] = {PANEL: ()}
    for cable in circuit.tree.branch_cables:
        before = above[cable.from_id]
        own = cable.switched_by
        above[cable.to_id] = before if own is None or own in before else (*before, own)[-MOST_IN_A_ROW:]
    things: tuple[Load | Driver, ...] = (*circuit.loads, *circuit.drivers)
    for thing in things:
        for control in dict.fromkeys((*above.get(thing.box, ()), *((thing.switched_by,) if thing.switched_by else ()))):
            killed.setdefault(control, []).append(thing.id)
    for control in circuit.controls:
        if control.with_id in killed and not killed[control.id]:
            killed[control.id] = list(killed[control.with_id])
        elif control.with_id in killed and not killed[control.with_id]:
            killed[control.with_id] = list(killed[control.id])
    return killed


def _named(loads: list[str]) -> str:
    """The loads that a switch turns off, the first ones by name."""
    if not loads:
        return "no load that the file names"
    more = len(loads) - MOST_NAMED
    return ", ".join(loads[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light, and one for each control with the loads that it kills."""
    source = book.value("switched-conductor-advice").source
    switched_at = _switched_at(circuit)
    for load in added_lights(circuit):
        control, known = switched_at.get(load.box, (None, True))
        control = load.switched_by or control
        feed = circuit.tree.feed.get(load.box)
        key = f"cable.{feed.id}.carries" if feed else f"load.{load.id}.switched_by"
        if control is not None and load.switched_by is not None:
            outcome, says = Outcome.PASS, f"{load.id} goes off with {control}, as the file says it should."
        elif control is not None:
            outcome = Outcome.CAUTION
            says = f"{load.id} hangs on a switched conductor: it goes off with {control}."
        elif not known:
            outcome = Outcome.CAUTION
            says = f"The file does not say whether {load.id} is fed from an always-hot or a switched conductor."
        else:
            outcome, says = Outcome.PASS, f"{load.id} is fed from a conductor that no switch turns off."
        yield Finding(
            check=RULE.name,
            subject=load.id,
            outcome=outcome,
            says=says,
            sources=(source,),
            keys=(key,),
            to_do=()
            if outcome is Outcome.PASS
            else (
                "Decide whether the light should follow that switch. A switch that is off does not make a box dead.",
            ),
        )
    for control_id, loads in loads_killed_by(circuit).items():
        yield Finding(
            check=RULE.name,
            subject=control_id,
            outcome=Outcome.PASS,
            says=f"{control_id} turns off: {_named(loads)}.",
            sources=(source,),
            keys=(f"control.{control_id}.box",),
        )


RULE = Rule(
    name="switched-feed",
    title="What a switch kills, and lights on a switched conductor",
    family="site",
    uses=("value:switched-conductor-advice",),
    check=check,
)
