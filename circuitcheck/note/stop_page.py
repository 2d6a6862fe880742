"""A sheet that stops: why, whom to call, what that person should look at. It asks nobody to do anything to the wiring.

Note, plan and survey share it, so that none of them can hold a step, a reading or a part to buy beside a STOP.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.circuit.keys.job import ASBESTOS_SIGN
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.note.known import circuit_rows, surveyed_row, word
from circuitcheck.paper import Blank, Cell, Facts, Listing, Paragraph, Section, Tone
from circuitcheck.tables.rulebook import Rulebook

BANNER = "Stop: nothing to be done yet"

#: The entry of the file that lists the signs that were seen.
SIGNS = "site.signs"

#: Reasons of one check that are told in full; the rest is counted, so that the sheet keeps to one page.
MOST_REASONS = 4

#: Questions to the electrician that are listed.
MOST_QUESTIONS = 4

#: What a trained person should look at for each sign that was seen. Trade practice: it decides nothing here.
LOOK_AT = {
    ASBESTOS_SIGN: "Loose pebble-like insulation: what it is, by a test, before anyone goes near it.",
    "knob and tube": "Knob and tube: how far it runs, what was spliced to it, and whether it is still live.",
    "brittle insulation": "Brittle insulation: whether the conductors can be handled at all, at every box of the "
    "circuit.",
    "cloth insulation": "Cloth insulation: whether it still holds at fixtures and splices, where heat ages it most.",
}
LOOK_AT_ANY = "at the splices and terminals of this circuit, for heat, looseness and damage."

LEAVE = (
    "Leave boxes closed and wires where they are. If a cover is off and goes back without force, put it back.",
    "Where there is heat, smell, buzzing or scorching: breaker off, and leave it off. Do not touch a panel or a "
    "breaker that is warm or smells.",
    "Smoke: get everybody out of the house, and call the fire department from outside.",
)
CLOSING = (
    "Nobody without training opens anything for this sheet. Whoever is called turns off the breaker, locks or tags it "
    "and tests that it is dead; local code, the permit office and a licensed electrician decide."
)


def stopping(report: Report) -> tuple[Finding, ...]:
    """The findings that end the job before any arithmetic."""
    return tuple(finding for finding in report.findings if finding.stop)


def stop_sections(report: Report, circuit: Circuit, book: Rulebook) -> tuple[Section, ...]:
    """The whole sheet of a circuit that stops, for note and plan alike."""
    look = (*look_at(circuit, stopping(report)), *_questions(stopping(report)))
    return (
        Section("The answer", (*answer_blocks(report, circuit), _facts(circuit, book))),
        Section("Why it stops", (Listing(reasons(stopping(report))), Paragraph(_waiting(report)))),
        Section("What to do now", (Listing((*LEAVE, *whom_to_call(circuit)), numbered=True),)),
        Section("What the person you call should look at", (Listing(look, boxes=True),)),
        Section(
            "Who was called, and what they found",
            (Blank(("", "")), Blank(("Name", "License or office", "Date"), abreast=True), Paragraph(CLOSING)),
        ),
    )


def answer_blocks(report: Report, circuit: Circuit) -> tuple[Paragraph, ...]:
    """STOP with the reason, in the box of the verdict."""
    stops = stopping(report)
    signs = circuit.site.signs if any(SIGNS in finding.keys for finding in stops) else None
    reason = f"{', '.join(signs)} seen." if signs else stops[0].says
    return (
        Paragraph(f"STOP: {reason} Call a licensed electrician before anything else.", Tone.ANSWER),
        Paragraph("STOP comes first, whatever the arithmetic says. This sheet permits nothing.", Tone.CAUTION),
    )


def reasons(stops: Sequence[Finding]) -> tuple[str, ...]:
    """A sentence for each reason; of many alike the first ones, and how many there are besides."""
    by_check: dict[str, list[str]] = {}
    for finding in stops:
        by_check.setdefault(finding.check, []).append(finding.says)
    told: list[str] = []
    for says in by_check.values():
        told += says[:MOST_REASONS]
        if len(says) > MOST_REASONS:
            told.append(f"The same kind of reason {len(says) - MOST_REASONS} times more.")
    return tuple(told)


def whom_to_call(circuit: Circuit) -> Iterator[str]:
    """Who has to be called, in order."""
    if ASBESTOS_SIGN in (circuit.site.signs or ()):
        yield (
            "Keep away from the loose pebbles, and call people trained for asbestos first. A common dust mask "
            "does not help."
        )
    yield "Call a licensed electrician, and show this sheet and the circuit file."
    yield "When it is settled, change the circuit file and make the sheets again."


def look_at(circuit: Circuit, stops: Sequence[Finding]) -> Iterator[str]:
    """What a trained person should look at: the signs that were seen, and each part that stops."""
    for sign in circuit.site.signs or ():
        yield LOOK_AT.get(sign, f"{sign.capitalize()}: {LOOK_AT_ANY}")
    parts = list(dict.fromkeys(finding.subject for finding in stops if finding.subject != "circuit"))
    if parts:
        named = ", ".join(f"“{part}”" for part in parts[:MOST_REASONS])
        more = f" and {len(parts) - MOST_REASONS} more" if len(parts) > MOST_REASONS else ""
        yield f"{named}{more}: what it is, and whether anything may be joined to it."


def _questions(stops: Sequence[Finding]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(question for finding in stops for question in finding.ask))[:MOST_QUESTIONS]


def _waiting(report: Report) -> str:
    """What is left out, and how much of the arithmetic waits."""
    waiting = [
        finding
        for finding in report.findings
        if not finding.stop and finding.outcome in (Outcome.FAIL, Outcome.UNDETERMINED)
    ]
    also = (
        f" Also, {len(waiting)} other answer{'s' if len(waiting) > 1 else ''} of the arithmetic would stand in the "
        "way; circuitcheck check lists them."
        if waiting
        else ""
    )
    return (
        "Left out on purpose: the arithmetic, which conductors join which, and any list of steps or parts. They would "
        f"invite work on wiring that somebody trained has to see first.{also}"
    )


def _facts(circuit: Circuit, book: Rulebook) -> Facts:
    """Where it is and which circuit, for whoever is called."""
    return Facts(
        (
            *circuit_rows(circuit),
            ("House wired (year)", word(circuit.site, "wired", circuit.site.wired)),
            ("Code edition used", Cell(book.title)),
            surveyed_row(circuit),
            ("Permit?", word(circuit.site, "permit", circuit.site.permit)),
        )
    )
