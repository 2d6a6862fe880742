"""The report as plain text for people: worst first, readable at 80 columns, colored where there is a terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from circuitcheck.checking import worst_first
from circuitcheck.checking.causes import protection_that_fails
from circuitcheck.checking.cautions import ON_PRACTICE
from circuitcheck.cli.colors import VERDICT_COLOR, color_of, painted
from circuitcheck.cli.finding_page import open_lines, passes_in_full, passes_in_short
from circuitcheck.cli.lines import PageStyle, ruled, wrapped
from circuitcheck.cli.questions_page import by_visit_lines, first_lines, folded_cautions, folded_lines, is_folded
from circuitcheck.cli.room_page import room_lines
from circuitcheck.findings import SEVERITY, Outcome, Report
from circuitcheck.outcomes import OUTCOME_WORD, VERDICT_WORD, answer_words, check_words, heading_word
from circuitcheck.safety import SHORT
from circuitcheck.text import shown_text

_COUNTED = {
    Outcome.FAIL: "fail",
    Outcome.UNDETERMINED: "cannot tell yet",
    Outcome.CAUTION: "with a caution",
    Outcome.PASS: "pass",
}


def report_page(report: Report, style: PageStyle) -> str:
    """The whole report but the safety text, which stands once at the end of the output."""
    lines = [*_head(report, style), *first_lines(report, style)]
    folded = is_folded(report, style)
    shown = [each for each in worst_first(report.findings) if not each.to_come]
    if folded:
        lines += open_lines((each for each in shown if each.outcome is Outcome.FAIL), style)
        lines += folded_lines(report, style)
        lines += by_visit_lines(report, style)
        lines += folded_cautions(report, style)
        lines += _folded_rest(report, style)
        lines += room_lines(report, style)
    else:
        lines += open_lines(shown, style)
        lines += (passes_in_full if style.working else passes_in_short)(report.findings, style)
        lines += _to_come_lines(report, style)
        lines += _unknown_lines(report, style)
        lines += room_lines(report, style)
        lines += _caution_lines(report, style)
    if style.working:
        lines += ["", *_in_short(report, style)]
    return "\n".join(lines) + "\n"


def summary_page(reports: Sequence[Report], style: PageStyle) -> str:
    """One line a file, worst first: for whoever checks many circuits at once."""
    counts = [Counter(finding.outcome for finding in report.findings) for report in reports]
    ranked = sorted(zip(reports, counts, strict=True), key=lambda pair: [-pair[1][outcome] for outcome in SEVERITY])
    lines = ["", *ruled("All files, worst first", style)]
    for report, count in ranked:
        shown = ", ".join(f"{count[outcome]} {OUTCOME_WORD[outcome].lower()}" for outcome in SEVERITY if count[outcome])
        verdict = VERDICT_WORD[report.verdict]
        color = VERDICT_COLOR[report.verdict]
        lines += wrapped(f": {report.file} ({shown})", style, indent="  ", bullet=verdict, color=color)
    return "\n".join(lines) + "\n"


def safety_page(style: PageStyle) -> str:
    """The short safety text that every output for people ends with."""
    lines = ["", *ruled("Before you open anything", style)]
    for sentence in SHORT:
        lines += wrapped(sentence, style, indent="  ", bullet="* ")
    return "\n".join(lines) + "\n"


def _head(report: Report, style: PageStyle) -> Iterator[str]:
    yield from ruled(report.title, style)
    yield from wrapped(f"{report.file}, rulebook {report.rulebook}", style)
    yield ""
    verdict = VERDICT_WORD[report.verdict]
    first, *more = wrapped(f"{verdict}. Checks: {_counts(report)}.", style)
    yield first.replace(verdict, painted(verdict, VERDICT_COLOR[report.verdict]), 1) if style.color else first
    yield from more
    missing = [check_words(check) for check in protection_that_fails(report.findings)]
    if missing:
        yield from wrapped(f"Nothing fails but {' and '.join(missing)}.", style)
    for fault in report.faults:
        yield from wrapped(f"{shown_text(fault.line)}. Its answer is missing; the others stand.", style)
    if report.stop:
        yield from wrapped("Stop here first; the arithmetic below comes second.", style)


def _counts(report: Report) -> str:
    counts = Counter(finding.outcome for finding in report.findings if not finding.to_come)
    return ", ".join(f"{counts[outcome]} {word}" for outcome, word in _COUNTED.items() if counts[outcome]) or "none"


def _to_come_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """What the new work still has to keep: a checklist, which counts for nothing beside the verdict."""
    sentences = dict.fromkeys(finding.says for finding in report.findings if finding.to_come)
    if sentences:
        yield ""
        yield from ruled("Checklist for the new work", style)
        for sentence in sentences:
            yield from wrapped(sentence, style, indent="  ", bullet="* ")


def _folded_rest(report: Report, style: PageStyle) -> Iterator[str]:
    """What else there is, counted; slips and guesses are told, since they can make every number wrong."""
    to_come = len({finding.says for finding in report.findings if finding.to_come})
    besides = sum(not unknown.decides for unknown in report.unknowns)
    told = [
        f"{to_come} points of a checklist for the new work" if to_come else "",
        f"{besides} more unknowns, for which the worst or the usual case was taken" if besides else "",
    ]
    if any(told):
        yield ""
        yield from wrapped(f"Besides (--working shows them): {', and '.join(filter(None, told))}.", style)
    for caution in _own_cautions(report):
        if not caution.startswith(ON_PRACTICE):
            yield from wrapped(caution, style, indent="  ", bullet="* ")


def _in_short(report: Report, style: PageStyle) -> Iterator[str]:
    """The answer once more, after a long page: the verdict and what does not pass."""
    yield from ruled(f"In short: {VERDICT_WORD[report.verdict]}", style)
    yield from wrapped(f"Checks: {_counts(report)}.", style)
    for finding in worst_first(report.findings):
        if finding.outcome is not Outcome.PASS:
            heading = f"{heading_word(finding)}  "
            yield from wrapped(
                f"{answer_words(finding)}: {finding.says}", style, bullet=heading, color=color_of(finding)
            )


def _unknown_lines(report: Report, style: PageStyle) -> Iterator[str]:
    for decides, title in (
        (True, "To find out: these decide the answer"),
        (False, "Unknown: worst case or the usual case assumed"),
    ):
        if decides:
            yield from by_visit_lines(report, style)
            continue
        by_way: dict[str, list[str]] = {}
        for unknown in report.unknowns:
            if unknown.decides is decides:
                by_way.setdefault("" if style.brief else unknown.how_to_find, []).append(unknown.written or unknown.key)
        if by_way:
            yield ""
            yield from ruled(title, style)
        for way, keys in by_way.items():
            yield from wrapped(", ".join(keys) + (f": {way}" if way else ""), style, indent="  ", bullet="* ")


def _caution_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """What to keep in mind, without the worst cases, which stand with their findings."""
    cautions = _own_cautions(report)
    if cautions:
        yield ""
        yield from ruled("Keep in mind", style)
        for caution in cautions:
            yield from wrapped(caution, style, indent="  ", bullet="* ")


def _own_cautions(report: Report) -> list[str]:
    told = {sentence for finding in report.findings for sentence in finding.assumed}
    return [caution for caution in report.cautions if caution not in told]
