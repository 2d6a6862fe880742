"""Who may do it: owner, occupant, kind of building and permit, as questions for the permit office.

What it asks: who owns the dwelling and lives there, how many dwellings the building has, who will do the work, and
whether the permit office was asked.

Why: many places let only somebody who owns and lives in a single-family house wire it. Rentals and shared buildings
are often left out. Rough wiring usually stays open until it is seen.

What to do: ask the permit office before anything is bought. The finding lists the questions.

Cannot see: the law of the place. It never decides.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.parts import has_added_work
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

ELECTRICIAN = "licensed electrician"
NOT_OWNER = {"tenant": "tenant", "someone else": "person who is neither owner nor electrician"}


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding about the circuit: always a question, unless an electrician does the work under a permit."""
    if not has_added_work(circuit):
        return
    source = book.value("owner-exemption").source
    site = circuit.site
    settled = site.work_by == ELECTRICIAN and site.permit in ("granted", "not needed")
    ask = [
        "Does this work need a permit, and who may do it here?",
        "What has to stay open until it has been inspected?",
    ]
    if site.owner_occupied is not True:
        ask.append("May anybody but a licensed electrician wire a dwelling that the owner does not live in?")
    if site.work_by in NOT_OWNER:
        ask.append(f"May a {NOT_OWNER[site.work_by]} do this work at all, and does the owner have to sign for it?")
    if site.dwelling_units is None or site.dwelling_units > 1:
        ask.append("Does the owner's permission reach a building with more than one dwelling?")
    words = (
        f"owner lives there: {_word(site.owner_occupied)}",
        f"dwellings in the building: {site.dwelling_units or 'unknown'}",
        f"work by: {site.work_by or 'unknown'}",
        f"permit: {site.permit or 'unknown'}",
    )
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.PASS if settled else Outcome.CAUTION,
        says="A licensed electrician does the work and the permit question is settled."
        if settled
        else "Ask the permit office who may do this work and whether it needs a permit; the file does not settle it.",
        working=words,
        sources=(source,),
        keys=("site.permit", "site.work_by", "site.owner_occupied", "site.dwelling_units"),
        ask=() if settled else tuple(ask),
        to_do=() if settled else ("Ask the permit office before buying or opening anything.",),
    )


def _word(answer: bool | None) -> str:
    return "unknown" if answer is None else "yes" if answer else "no"


RULE = Rule(
    name="who-may",
    title="Who may do the work, and the permit",
    family="site",
    uses=("value:owner-exemption",),
    check=check,
)
