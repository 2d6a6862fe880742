"""What every sheet begins and ends with."""

from __future__ import annotations

from datetime import date

from circuitcheck.circuit.model import Circuit
from circuitcheck.note.known import circuit_rows, surveyed_row, word
from circuitcheck.paper import Blank, Cell, Facts, Listing, Outline, Section
from circuitcheck.safety import SHORT
from circuitcheck.tables.rulebook import Rulebook

DECIDES = (
    "The local code, the permit office and a licensed electrician decide, not this sheet. It comes from a circuit file "
    "and cannot see the wiring. Before any box is opened: breaker off, locked or tagged, and everything tested dead."
)


def job_facts(circuit: Circuit, book: Rulebook) -> Facts:
    """Where the work is, which circuit it is, and by which edition it was reckoned."""
    return Facts(
        (
            *circuit_rows(circuit),
            ("Who does the work?", word(circuit.site, "work_by", circuit.site.work_by)),
            ("Permit?", word(circuit.site, "permit", circuit.site.permit)),
            ("Code edition used", Cell(book.title)),
            surveyed_row(circuit),
        )
    )


def safety_section() -> Section:
    """The short safety text, at the end of every sheet."""
    return Section("Before you open anything", (Listing(SHORT),))


def signed_section(title: str) -> Section:
    """Room for remarks and for who it was."""
    return Section(title, (Blank(("", "")), Blank(("Name", "License or office", "Date"), abreast=True)))


def sheet_outline(
    *, kind: str, banner: str, title: str, subtitle: str, foot: str, made: date, sections: tuple[Section | None, ...]
) -> Outline:
    """An outline of the sections that there are."""
    return Outline(
        kind=kind,
        banner=banner,
        title=title,
        subtitle=subtitle,
        foot=foot,
        made=(made.year, made.month, made.day),
        sections=tuple(section for section in sections if section is not None),
    )
