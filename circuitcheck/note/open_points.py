"""What is open: unknown entries and how to find them out, guesses, worst cases, values from memory, questions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.circuit.guide import entry_guide, key_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Guess, Report, Source, Status, Unknown, merge_sources
from circuitcheck.note.typeset import typeset
from circuitcheck.paper import Cell, Column, Listing, Paragraph, Row, Section, Table, Tone
from circuitcheck.tables.rulebook import Rulebook

UNKNOWN_REST = (Column("of", 2.6), Column("How to find out, the cheapest way", 4.6))
GUESS_COLUMNS = (Column("Guessed", 3), Column("Written", 2), Column("What it stands for", 4))

#: Names or sentences of one kind that are listed; the rest is counted.
MOST = 12


def unknowns_section(report: Report) -> Section | None:
    """What nobody knows yet; None where everything that was asked is known."""
    if not report.unknowns:
        return None
    blocks: list[Paragraph | Table] = []
    for decides, title in ((True, "Not known: decides an open answer"), (False, "Not known: worst case taken")):
        group = [unknown for unknown in report.unknowns if unknown.decides is decides]
        if group:
            blocks.append(Table("", (Column(title, 2.6), *UNKNOWN_REST), tuple(_unknown_rows(group))))
    blocks.append(
        Paragraph(
            "Whatever means opening a box: breaker off and locked or tagged, then every wire tested dead. Nobody needs "
            "to take the cover off the panel for this sheet; what is behind it is for a licensed electrician.",
            Tone.SMALL,
        )
    )
    return Section("Not known, and how to find out", tuple(blocks), together=False)


def _unknown_rows(unknowns: Iterable[Unknown]) -> Iterable[Row]:
    """One row for each kind of entry: the same question about several parts is asked once."""
    groups: dict[tuple[str, str], list[str]] = {}
    for unknown in unknowns:
        found = key_of(unknown.key)
        groups.setdefault(found or ("", unknown.key), []).append(unknown.key)
    for (section, key), paths in groups.items():
        guide = entry_guide(section, key) if section else None
        yield Row(
            (
                Cell(guide.title if guide is not None else key),
                Cell(_parts(section, key, paths)),
                Cell(guide.read[0] if guide is not None and guide.read else ""),
            )
        )


def _parts(section: str, key: str, paths: Sequence[str]) -> str:
    names = [path.removeprefix(f"{section}.").removesuffix(key.rpartition(".")[2]).rstrip(".") for path in paths]
    kind = section.replace("_", "-")
    named = ", ".join(name for name in names[:MOST] if name)
    more = f" and {len(names) - MOST} more" if len(names) > MOST else ""
    return f"{kind} {named}{more}".strip()


def assumptions_section(report: Report, circuit: Circuit) -> Section | None:
    """Guesses, worst cases, common practice and values that nobody compared with a source yet; None where none."""
    blocks: list[Paragraph | Table | Listing] = []
    sources = merge_sources(*(finding.sources for finding in report.findings))
    for status, words in (
        (Status.FROM_MEMORY, "Used from memory, not yet compared with a source"),
        (Status.COMMON_PRACTICE, "Common practice, in no code"),
    ):
        used = _used(sources, report.findings, status)
        if used:
            blocks.append(Paragraph(f"{words}: {used}.", Tone.CAUTION if status is Status.FROM_MEMORY else Tone.PLAIN))
    if report.guesses:
        blocks.append(Table("", GUESS_COLUMNS, tuple(_guess_row(guess) for guess in report.guesses)))
    worst = _told_together(sentence for finding in report.findings for sentence in finding.assumed)
    if worst:
        blocks.append(Paragraph("Worst cases and usual figures taken where the file does not say:"))
        blocks.append(Listing((*(typeset(one) for one in worst[:MOST]), *_and_more(len(worst)))))
    return Section("Guesses and assumptions", tuple(blocks), together=False) if blocks else None


def _told_together(sentences: Iterable[str]) -> list[str]:
    """The sentences, each once; those that say the same of several parts (``feed: …``) as one about all of them."""
    groups: dict[str, dict[str, None]] = {}
    for sentence in sentences:
        part, colon, says = sentence.partition(": ")
        groups.setdefault(says if colon else sentence, {})[part if colon else ""] = None
    told = []
    for says, named in groups.items():
        parts = [part for part in named if part]
        more = f" and {len(parts) - MOST} more" if len(parts) > MOST else ""
        told.append(f"{', '.join(parts[:MOST])}{more}: {says}" if parts else says)
    return told


def _and_more(count: int) -> tuple[str, ...]:
    return (f"and {count - MOST} more of the kind",) if count > MOST else ()


def _used(sources: Iterable[Source], findings: Sequence[Finding], status: Status) -> str:
    """Places of this status, each with the checks that rest on it."""
    named: dict[str, None] = {}
    for source in sources:
        if source.status is status:
            checks = dict.fromkeys(finding.check for finding in findings if source in finding.sources)
            where = ", ".join(part for part in (source.document, source.place) if part and part != str(status))
            named[f"{where} (for {', '.join(checks)})" if where else f"for {', '.join(checks)}"] = None
    return "; ".join(named)


def _guess_row(guess: Guess) -> Row:
    return Row((Cell(guess.key), Cell(guess.written), Cell(guess.stands_for)))


def questions_section(report: Report, circuit: Circuit, book: Rulebook) -> Section:
    """What to put to the electrician or the inspector, and which pictures to bring."""
    asked = list(dict.fromkeys(question for finding in report.findings for question in finding.ask))
    usual = [f"Is {book.title} in force here, and with which local changes?"]
    if circuit.site.permit in (None, "not asked") and not any("permit" in question for question in asked):
        usual.append("Does this work need a permit here, and may the person named above do it?")
    return Section(
        "Questions for the electrician or the inspector",
        (
            Listing((*usual, *asked[: 2 * MOST])),
            Paragraph(
                "Pictures that help: the panel's label and the breaker's handle (cover on); print on the sheath of "
                "each cable; each box open, taken dead; each luminaire's label.",
                Tone.SMALL,
            ),
        ),
        together=False,
    )
