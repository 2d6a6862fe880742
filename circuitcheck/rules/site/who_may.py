"""Who may do it: owner, occupant, kind of building and permit, as questions for the permit office.

What it asks: who owns the dwelling and lives there, how many dwellings the building has, who will do the work, and
whether the permit office was asked.

Why: many places let only somebody who owns and lives in a single-family house wire it. Rentals and shared buildings
are often left out. Rough wiring usually stays open until it is seen.

What to do: ask the permit office before anything is bought. The finding lists the questions.

Cannot see: the law of the place. It never decides; it repeats what the file says that the permit office said.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit, Site
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import has_added_work
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

OPEN = "What has to stay open until it has been inspected?"
ELECTRICIAN = "licensed electrician"
NOT_OWNER = {"tenant": "tenant", "someone else": "person who is neither owner nor electrician"}


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding about the circuit: a question, unless the permit office has answered it for whoever does the work."""
    if not has_added_work(circuit):
        return
    source = book.value("owner-exemption").source
    site = circuit.site
    answered = site.permit in ("granted", "not needed")
    own_house = site.work_by == "owner" and site.owner_occupied is True and site.dwelling_units == 1
    settled = answered and (site.work_by == ELECTRICIAN or own_house)
    words = (
        f"owner lives there: {_word(site.owner_occupied)}",
        f"dwellings in the building: {site.dwelling_units or 'unknown'}",
        f"work by: {site.work_by or 'unknown'}",
        f"permit: {site.permit or 'unknown'}",
    )
    if settled:
        who = "A licensed electrician does" if site.work_by == ELECTRICIAN else "The owner, who lives there, does"
        says = f"{who} the work, and the permit is {site.permit}, as the file says."
    else:
        says = "Ask the permit office who may do this work and whether it needs a permit; the file does not settle it."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.PASS if settled else Outcome.CAUTION,
        says=says,
        working=words,
        sources=(source,),
        keys=("site.permit", "site.work_by", "site.owner_occupied", "site.dwelling_units"),
        ask=_questions(site) if not settled else () if site.work_by == ELECTRICIAN else (OPEN,),
        to_do=("Leave the new work open until the inspector has seen it.",)
        if settled
        else ("Ask the permit office before buying or opening anything.",),
    )


def _questions(site: Site) -> tuple[str, ...]:
    """What to ask the permit office."""
    ask = [
        "Does this work need a permit, and who may do it here?",
        OPEN,
    ]
    if site.owner_occupied is not True:
        ask.append("May anybody but a licensed electrician wire a dwelling that the owner does not live in?")
    if site.work_by in NOT_OWNER:
        ask.append(f"May a {NOT_OWNER[site.work_by]} do this work at all, and does the owner have to sign for it?")
    if site.dwelling_units is None or site.dwelling_units > 1:
        ask.append("Does the owner's permission reach a building with more than one dwelling?")
    return tuple(ask)


def _word(answer: bool | None) -> str:
    return "unknown" if answer is None else "yes" if answer else "no"


RULE = Rule(
    name="who-may",
    title="Who may do the work, and the permit",
    family="site",
    uses=("value:owner-exemption",),
    check=check,
)
