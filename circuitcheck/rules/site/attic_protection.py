"""Cable in an attic: guard strips, by the kind of access.

What it asks: how the attic is entered, how added cable runs there, whether it is near the hatch, and whether guard
strips protect it.

Why: people step and store things where they can get in. Cable over the tops of joists is crushed there first.

What to do: run along the side of the framing, or protect cable that crosses the tops with guard strips at least as
high as the cable.

Cannot see: whether a pull-down ladder counts as permanent: the trade is divided, so it asks. Cable across the faces
of rafters counts too within 7 ft of the floor; the file does not tell it from cable over joists.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

PERMANENT = ("permanent stairs", "permanent ladder")
DISPUTED = "pull-down ladder"


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added branch cable in an attic."""
    near = book.value("attic-hatch-distance")
    for cable in circuit.tree.branch_cables:
        if is_added(cable) and cable.place == "attic" and cable.run != "in raceway":
            yield _answer(cable, circuit.site.attic_access, in_unit(near.number, "ft"), near.source)


def _answer(cable: Cable, access: str | None, near_ft: float, source: Source) -> Finding:
    strips, run = f"cable.{cable.id}.guard_strips", f"cable.{cable.id}.run"
    ask: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    exposed = access in PERMANENT or cable.near_hatch is True
    bare = cable.guard_strips is False and cable.run == "across framing"
    if cable.run in ("along framing", "through framing"):
        outcome, says = (
            Outcome.PASS,
            f"Cable {cable.id} runs {cable.run} in the attic, where no guard strips are asked for.",
        )
    elif cable.guard_strips:
        outcome, says = Outcome.PASS, f"Guard strips protect cable {cable.id} in the attic."
    elif access == "none":
        outcome, says = Outcome.PASS, f"Nobody can get into the attic where cable {cable.id} runs."
    elif access == DISPUTED and cable.near_hatch is False:
        outcome = Outcome.CAUTION
        ask = ("Does a pull-down ladder count as permanent access, so that the whole attic needs guard strips?",)
        says = f"Cable {cable.id} has no guard strips; whether a pull-down ladder asks for them everywhere is disputed."
    elif exposed and bare:
        outcome = Outcome.FAIL
        says = f"Cable {cable.id} crosses the attic framing without guard strips where people climb in."
    elif access == "hatch" and cable.near_hatch is False:
        outcome = Outcome.PASS
        says = f"Cable {cable.id} stays more than {near_ft:g} ft from the hatch, where no guard strips are asked for."
    elif bare and access is None:
        outcome, needs = Outcome.UNDETERMINED, ("site.attic_access",)
        says = (
            f"Cable {cable.id} crosses the attic framing bare; whether it may depends on how one gets into the attic."
        )
    else:
        outcome = Outcome.CAUTION
        says = (
            f"Run cable {cable.id} along the framing, or give it guard strips where it crosses: everywhere "
            "with permanent stairs "
            f"or ladder, else within {near_ft:g} ft of the hatch."
        )
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=says,
        working=(
            f"access: {access or 'unknown'}; run: {cable.run or 'unknown'}; near the hatch: "
            + {None: "unknown", True: "yes", False: "no"}[cable.near_hatch],
        ),
        sources=(source,),
        needs=needs,
        keys=(run, strips, "site.attic_access"),
        to_do=()
        if outcome is Outcome.PASS
        else ("Plan the route along the framing, or guard strips as high as the cable.",),
        ask=ask,
    )


RULE = Rule(
    name="attic-protection",
    title="Cable in an attic, by the kind of access",
    family="site",
    uses=("value:attic-hatch-distance",),
    check=check,
)
