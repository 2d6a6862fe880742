"""Cord-connected lights: flexible cord is not fixed wiring, and a cut plug changes what the light is listed for.

What it asks: whether an added light is fed by cord, was made to plug in and had its plug cut off, or sits behind cord
that is hidden.

Why: a light listed with a plug is tested with it; wiring it in departs from the listing unless the maker's
instructions allow it. Cord through or inside a wall wears and overheats unseen.

What to do: use a luminaire made for hardwiring, or plug the light into a receptacle that is near. Run a cable of a
fixed wiring method in the wall.

Cannot see: what the maker's instructions say. A conversion kit that the maker supplies is the inspector's question.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import added_lights, is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

TO_DO = ("Choose a luminaire made for hardwiring, or leave the plug on and use a receptacle that is near.",)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added light, and one for each cord used as a cable of the branch circuit."""
    listing = book.value("used-as-listed").source
    cord = book.value("cord-not-fixed-wiring").source
    for load in added_lights(circuit):
        converted, connection = f"load.{load.id}.converted", f"load.{load.id}.connection"
        if load.converted:
            yield Finding(
                check=RULE.name,
                subject=load.id,
                outcome=Outcome.FAIL,
                says=f"{load.id} was made to plug in; with its plug cut off it is no longer what it was listed as.",
                sources=(listing, cord),
                keys=(converted,),
                to_do=TO_DO,
                ask=("Do the maker's instructions for this light allow wiring it in?",),
            )
        elif load.connection == "cord":
            yield Finding(
                check=RULE.name,
                subject=load.id,
                outcome=Outcome.CAUTION,
                says=(
                    f"{load.id} keeps its cord: it plugs into a receptacle, and the cord does not run "
                    "through or inside a wall."
                ),
                sources=(cord,),
                keys=(connection,),
                to_do=TO_DO,
            )
        elif load.connection is None:
            yield Finding(
                check=RULE.name,
                subject=load.id,
                outcome=Outcome.UNDETERMINED,
                says=f"Cannot tell whether {load.id} is made for hardwiring.",
                sources=(listing,),
                needs=(connection,),
                keys=(connection, converted),
                to_do=(
                    "Read the carton and the instructions: a light made for hardwiring has wire leads and no plug.",
                ),
            )
        else:
            yield Finding(
                check=RULE.name,
                subject=load.id,
                outcome=Outcome.PASS,
                says=(
                    f"{load.id} is made for hardwiring."
                    if load.converted is False
                    else f"{load.id} is to be wired in, and nothing says that it was made to plug in."
                ),
                sources=(listing,),
                keys=(connection,),
                assumed=()
                if load.converted is False
                else (f"{load.id}: nobody said whether it was made to plug in; it is taken as made for hardwiring.",),
                assumed_keys=() if load.converted is False else (converted,),
            )
    table = book.table("cable-types")
    for cable in circuit.tree.branch_cables:
        row = table.find(cable.type) if cable.type and is_added(cable) else None
        if row is not None and row.cells.get("branch_circuit") is False:
            yield Finding(
                check=RULE.name,
                subject=cable.id,
                outcome=Outcome.FAIL,
                says=f"Cable {cable.id} is {cable.type}, which is not used for new wiring of a branch circuit.",
                sources=(cord, row.source),
                keys=(f"cable.{cable.id}.type",),
                to_do=("Run a cable of a current fixed wiring method that suits the place.",),
            )


RULE = Rule(
    name="cord-connected",
    title="Cord-connected lights and cord used as wiring",
    family="site",
    uses=("value:used-as-listed", "value:cord-not-fixed-wiring", "cable-types"),
    check=check,
)
