"""Who may do it: owner, occupant, kind of building and permit, as questions for the permit office.

What it asks: who owns the dwelling and lives there, how many dwellings the building has, who will do the work, and
whether the permit office was asked.

Why: many places let only somebody who owns and lives in a one-family house wire it. An owner's permit usually ends
there: rentals and shared buildings are often left out. Rough wiring usually stays open until it is seen.

What to do: ask the permit office before anything is bought. The finding lists the questions.

Cannot see: the law of the place. It never decides; it repeats what the file says that the permit office said. A guess
settles nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from circuitcheck.case import EvidenceRule
from circuitcheck.circuit.added_work import has_added_work
from circuitcheck.circuit.model import Circuit, Site
from circuitcheck.findings import Finding, Outcome
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

OPEN = "What has to stay open until it has been inspected?"
ELECTRICIAN = "licensed electrician"
OWNER = "owner"
NOT_OWNER = {"tenant": "tenant", "someone else": "person who is neither owner nor electrician"}
KEYS = ("permit", "work_by", "owner_occupied", "dwelling_units")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding about the circuit: a question, unless the permit office has answered it for whoever does the work."""
    if not has_added_work(circuit):
        return
    site = _without_guesses(circuit.site)
    answered = site.permit in ("granted", "not needed")
    own_house = site.owner_occupied is True and site.dwelling_units == 1
    settled = answered and (site.work_by == ELECTRICIAN or (site.work_by == OWNER and own_house))
    not_theirs = site.owner_occupied is False or (site.dwelling_units or 1) > 1
    if settled:
        who = "A licensed electrician does" if site.work_by == ELECTRICIAN else "The owner, who lives there, does"
        says = f"{who} the work, and the permit is {site.permit}, as the file says."
    elif site.work_by == OWNER and not_theirs:
        says = "An owner's permit usually covers only the owner's own one-family home: ask the permit office."
    elif site.work_by in NOT_OWNER:
        says = f"A {NOT_OWNER[site.work_by]} may usually not do this work: ask the permit office first."
    else:
        says = "Ask the permit office who may do this work and whether it needs a permit; the file does not settle it."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=Outcome.PASS if settled else Outcome.CAUTION,
        says=says,
        working=(
            f"owner lives there: {_word(site.owner_occupied)}",
            f"dwellings in the building: {site.dwelling_units or 'unknown'}",
            f"work by: {site.work_by or 'unknown'}",
            f"permit: {site.permit or 'unknown'}",
        ),
        sources=(book.value("owner-exemption").source,),
        keys=tuple(f"site.{key}" for key in KEYS),
        ask=_questions(site) if not settled else () if site.work_by == ELECTRICIAN else (OPEN,),
        to_do=("Leave the new work open until the inspector has seen it.",)
        if settled
        else ("Ask the permit office before buying or opening anything.",),
    )


def _without_guesses(site: Site) -> Site:
    """The place with what is only guessed left out: a guess settles nothing."""
    return replace(site, **{key: None for key in KEYS if site.known_by.get(key) == How.GUESS})  # type: ignore[arg-type]


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


RULE = EvidenceRule(
    name="who-may",
    title="Who may do the work, and the permit",
    rank=240,
    check=check,
)
