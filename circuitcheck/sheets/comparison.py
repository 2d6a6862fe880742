"""Circuits side by side, as a sheet: verdicts on top, then what differs; or one job on several circuits, ranked."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from circuitcheck.advice.comparing import Comparison
from circuitcheck.advice.placing import Placed
from circuitcheck.findings import SEVERITY, Finding, Outcome, Report
from circuitcheck.note.program_faults import fault_paragraphs
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, STOP_WORD, VERDICT_WORD, check_words, told_value
from circuitcheck.paper import Cell, Column, Outline, Paragraph, Row, Section, Table
from circuitcheck.quantities import beside_limit, in_unit, rounded_down, rounded_up, safe_limit
from circuitcheck.sheets.head import safety_section, sheet_outline
from circuitcheck.text import shown_number

KIND = "comparison"
BANNER = "Arithmetic, not a permission to work"
#: A job is shown at so many boxes; the rest is counted.
MOST_PLACES = 30
#: Digits of the numbers of an answer.
_DIGITS = 4


def comparison_outline(comparison: Comparison, titles: Sequence[str], *, tool: str, made: date) -> Outline:
    """Reports side by side; ``titles``: one a report, for the heads of the columns."""
    reports = comparison.reports
    columns = (Column("What", 1.6), *(Column(title, 1.0) for title in titles))
    verdicts = (
        Row((Cell("Verdict"), *(Cell(_verdict(report), strong=True) for report in reports))),
        Row((Cell("Rulebook"), *(Cell(report.rulebook) for report in reports))),
        *(
            Row((Cell(OUTCOME_WORD[outcome].capitalize()), *(Cell(str(_count(report, outcome))) for report in reports)))
            for outcome in SEVERITY
        ),
    )
    rows = tuple(
        Row((Cell(check_words(line.check), more=(line.subject,)), *map(_cell, line.findings, line.lost)))
        for line in comparison.lines
    )
    blocks = (Table("", columns, rows),) if rows else ()
    return _sheet(
        "Side by side",
        "; ".join(dict.fromkeys(report.title for report in reports)),
        (
            Section("The verdicts", (*fault_paragraphs(*reports), Table("", columns, verdicts))),
            Section("What differs", (*blocks, Paragraph(_rest(comparison))), together=False),
        ),
        tool,
        made,
    )


def placing_outline(
    title: str, places: Sequence[Placed], ruled_out: Sequence[Placed] = (), *, tool: str, made: date
) -> Outline:
    """One job on several circuits, the best first; ``ruled_out``: boxes at which nothing new may start."""
    columns = (
        Column("Circuit, and the box to feed from", 2.4),
        Column("Verdict", 1.4),
        Column("Fail, open, caution", 1.2),
        Column("Left on the breaker", 1.0),
        Column("New cable", 1.0),
    )
    rows = tuple(_place_row(place) for place in places[:MOST_PLACES])
    more = len(places) - MOST_PLACES
    rest = (Paragraph(f"And {more} more boxes, none of them better."),) if more > 0 else ()
    best = (Table("", columns, rows), *rest) if rows else (Paragraph("Nothing new may start at any of these boxes."),)
    faults = fault_paragraphs(*(place.report for place in (*places, *ruled_out)))
    sections = [Section("The best first", (*faults, *best), together=False)]
    if ruled_out:
        not_at = tuple(
            Row((Cell(f'box "{place.box}"', more=(place.file,)), Cell(place.ruled_out))) for place in ruled_out
        )
        table = Table("", (Column("Box", 1.4), Column("Why not", 4.0)), not_at)
        sections.append(Section("Nothing new may start here", (table,), together=False))
    return _sheet("The same lights on several circuits", title, tuple(sections), tool, made)


def _sheet(title: str, subtitle: str, sections: tuple[Section, ...], tool: str, made: date) -> Outline:
    return sheet_outline(
        kind=KIND,
        banner=BANNER,
        title=title,
        subtitle=subtitle,
        foot=tool,
        made=made,
        sections=(*sections, safety_section()),
    )


def _place_row(place: Placed) -> Row:
    counts = ", ".join(str(place.count(outcome)) for outcome in (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION))
    cable = "unknown" if place.new_cable_m is None else f"{rounded_up(in_unit(place.new_cable_m, 'ft'))} ft"
    left = "unknown" if place.load_left_a is None else f"{rounded_down(place.load_left_a)} A"
    return Row(
        (
            Cell(place.title, more=(f'box "{place.box}"', place.file)),
            Cell(_verdict(place.report), strong=True),
            Cell(counts),
            Cell(left),
            Cell(cable),
        )
    )


def _verdict(report: Report) -> str:
    return STOP_WORD if report.stop else VERDICT_WORD[report.verdict]


def _count(report: Report, outcome: Outcome) -> int:
    return sum(finding.outcome is outcome and not finding.to_come for finding in report.findings)


def _cell(finding: Finding | None, lost: bool) -> Cell:
    if finding is None:
        return Cell("missing: fault of the program" if lost else "no such answer")
    word = f"{OUTCOME_MARK[finding.outcome]} {STOP_WORD if finding.stop else OUTCOME_WORD[finding.outcome]}"
    return Cell(word, strong=finding.outcome is not Outcome.PASS, more=_numbers(finding))


def _numbers(finding: Finding) -> tuple[str, ...]:
    unit = {"percent": "%", None: ""}.get(finding.unit, finding.unit or "")
    (word, value), limit = told_value(finding), finding.limit
    numbers: list[str] = []
    if value is not None and limit is not None:
        numbers += beside_limit(value, limit, _DIGITS, at_least=finding.at_least)
        numbers = [f"{word}{numbers[0]}", f"limit {numbers[1]}"]
    elif value is not None:
        numbers.append(f"{word}{shown_number(value, _DIGITS)}")
    elif limit is not None:
        numbers.append(f"limit {safe_limit(limit, _DIGITS, at_least=finding.at_least)}")
    told = [f"{number} {unit}".rstrip() for number in numbers]
    if finding.chosen is not None:
        told.append(finding.chosen)
    return tuple(told)


def _rest(comparison: Comparison) -> str:
    said = f"{comparison.same} answers are the same everywhere."
    if comparison.only_passing:
        said += f" {comparison.only_passing} more stand on one side only, and pass there."
    return said if comparison.lines else f"Nothing differs. {said}"
