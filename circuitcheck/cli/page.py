"""The report as plain text for people: worst first, readable at 80 columns, without colour."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from circuitcheck.checking import worst_first
from circuitcheck.findings import Finding, Outcome, Report, Source
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, VERDICT_WORD, heading_word
from circuitcheck.safety import SHORT
from circuitcheck.text import shown_number, shown_text


@dataclass(frozen=True, slots=True)
class PageStyle:
    """How much to show.

    ``working``: every finding in full, and the answer once more at the end; else what passes stands in short lines.
    ``brief``: the sentences only.
    """

    width: int = 80
    working: bool = False
    brief: bool = False


def report_page(report: Report, style: PageStyle) -> str:
    """The whole report but the safety text, which stands once at the end of the output."""
    lines = [*_head(report, style)]
    for finding in worst_first(report.findings):
        if style.working or finding.outcome is not Outcome.PASS:
            lines += ["", *finding_lines(finding, style)]
    if not style.working:
        lines += _passes(report, style)
    lines += _unknown_lines(report, style)
    lines += _caution_lines(report, style)
    if style.working:
        lines += ["", *_in_short(report, style)]
    return "\n".join(lines) + "\n"


def summary_page(reports: Sequence[Report], style: PageStyle) -> str:
    """One line a file, worst first: for whoever checks many circuits at once."""
    order = {Outcome.FAIL: 0, Outcome.UNDETERMINED: 1, Outcome.CAUTION: 2, Outcome.PASS: 3}
    counts = [Counter(finding.outcome for finding in report.findings) for report in reports]
    ranked = sorted(zip(reports, counts, strict=True), key=lambda pair: [-pair[1][outcome] for outcome in order])
    lines = ["", *_ruled("All files, worst first", style)]
    for report, count in ranked:
        shown = ", ".join(f"{count[outcome]} {OUTCOME_WORD[outcome].lower()}" for outcome in order if count[outcome])
        lines += _wrapped(f"{VERDICT_WORD[report.verdict]}: {shown_text(report.file)} ({shown})", style, indent="  ")
    return "\n".join(lines) + "\n"


def safety_page(style: PageStyle) -> str:
    """The short safety text that every output for people ends with."""
    lines = ["", *_ruled("Before you open anything", style)]
    for sentence in SHORT:
        lines += _wrapped(sentence, style, indent="  ", bullet="* ")
    return "\n".join(lines) + "\n"


def finding_lines(finding: Finding, style: PageStyle) -> Iterator[str]:
    """One finding: answer and subject, the sentence, then the numbers, working, sources and what to do."""
    yield f"{heading_word(finding)}  {finding.check}: {shown_text(finding.subject)}"
    yield from _wrapped(finding.says, style, indent="    ")
    if style.brief:
        return
    numbers = _numbers(finding)
    if numbers:
        yield from _wrapped(numbers, style, indent="    ")
    yield from _wrapped_all("assumed: ", finding.assumed, style)
    if finding.working:
        yield "    working:"
        for step in finding.working:
            yield from _wrapped(step, style, indent="      ")
    yield from _wrapped_all("source: ", dict.fromkeys(map(source_text, finding.sources)), style)
    yield from _wrapped_all("needs: ", finding.needs, style)
    yield from _wrapped_all("to do: ", finding.to_do, style)
    yield from _wrapped_all("ask: ", finding.ask, style)


def source_text(source: Source) -> str:
    """Document, edition, place and status in a line."""
    where = ", ".join(
        part for part in (" ".join(part for part in (source.document, source.edition) if part), source.place) if part
    )
    return f"{where} ({source.status})" if source.document != source.status else f"{where}, in no code"


def _passes(report: Report, style: PageStyle) -> Iterator[str]:
    """What passes: one line a check with its subjects and their numbers."""
    by_check: dict[str, list[Finding]] = {}
    for finding in report.findings:
        if finding.outcome is Outcome.PASS:
            by_check.setdefault(finding.check, []).append(finding)
    if not by_check:
        return
    yield ""
    yield from _ruled("These pass (--working shows each in full)", style)
    for check, findings in by_check.items():
        shown = "; ".join(_pass_text(finding) for finding in findings)
        yield from _wrapped(f"{check}: {shown}", style, bullet=f"{OUTCOME_MARK[Outcome.PASS]} ")


def _pass_text(finding: Finding) -> str:
    unit = _unit(finding)
    if finding.value is None:
        return shown_text(f"{finding.subject} ({finding.chosen})" if finding.chosen else finding.subject)
    limit = f" (limit {shown_number(finding.limit)})" if finding.limit is not None else ""
    return f"{shown_text(finding.subject)}: {_measure(finding.value, unit)}{limit}"


def _in_short(report: Report, style: PageStyle) -> Iterator[str]:
    """The answer once more, after a long page: the verdict and what does not pass."""
    yield from _ruled(f"In short: {VERDICT_WORD[report.verdict]}", style)
    for finding in worst_first(report.findings):
        if finding.outcome is not Outcome.PASS:
            yield from _wrapped(f"{finding.check}: {finding.says}", style, bullet=f"{heading_word(finding)}  ")


def _head(report: Report, style: PageStyle) -> Iterator[str]:
    yield from _ruled(shown_text(report.title), style)
    yield from _wrapped(f"{shown_text(report.file)}, rulebook {report.rulebook}", style)
    yield ""
    counts = Counter(finding.outcome for finding in report.findings)
    parts = [
        f"{counts[outcome]} {words}"
        for outcome, words in (
            (Outcome.FAIL, "do not hold"),
            (Outcome.UNDETERMINED, "cannot be told"),
            (Outcome.CAUTION, "with a caution"),
            (Outcome.PASS, "pass"),
        )
        if counts[outcome]
    ]
    yield from _wrapped(f"{VERDICT_WORD[report.verdict]}. Checks: {', '.join(parts)}.", style)
    if report.stop:
        yield from _wrapped("Stop here first; the arithmetic below comes second.", style)


def _numbers(finding: Finding) -> str:
    unit = _unit(finding)
    if finding.value is None:
        if finding.chosen or finding.smallest:
            return _sizes(finding)
        return f"limit {_measure(finding.limit, unit)}" if finding.limit is not None else ""
    parts = [f"value {_measure(finding.value, unit)}"]
    if finding.limit is not None:
        parts.append(f"limit {_measure(finding.limit, unit)}")
    if finding.low is not None and finding.high is not None and finding.low != finding.high:
        parts.append(f"between {_measure(finding.low, unit)} and {_measure(finding.high, unit)}")
    return ", ".join(parts)


def _sizes(finding: Finding) -> str:
    parts = [
        f"{word} {value}"
        for word, value in (
            ("chosen", finding.chosen),
            ("smallest", finding.smallest),
            ("decided by", finding.decided_by),
        )
        if value
    ]
    return ", ".join(parts)


def _unit(finding: Finding) -> str:
    return "%" if finding.unit == "percent" else finding.unit or ""


def _measure(value: float, unit: str) -> str:
    return f"{shown_number(value)}{'' if unit == '%' else ' '}{unit}".rstrip()


def _unknown_lines(report: Report, style: PageStyle) -> Iterator[str]:
    for decides, title in (
        (True, "To find out: these decide an open answer"),
        (False, "Not known: the worst case was taken"),
    ):
        unknowns = [unknown for unknown in report.unknowns if unknown.decides is decides]
        if not unknowns:
            continue
        yield ""
        yield from _ruled(title, style)
        by_way: dict[str, list[str]] = {}
        for unknown in unknowns:
            by_way.setdefault("" if style.brief else unknown.how_to_find, []).append(unknown.key)
        for way, keys in by_way.items():
            yield from _wrapped(", ".join(keys) + (f": {way}" if way else ""), style, indent="  ", bullet="* ")


def _caution_lines(report: Report, style: PageStyle) -> Iterator[str]:
    told = {sentence for finding in report.findings for sentence in finding.assumed}
    cautions = [caution for caution in report.cautions if caution not in told]
    if cautions:
        yield ""
        yield from _ruled("Keep in mind", style)
        for caution in cautions:
            yield from _wrapped(caution, style, indent="  ", bullet="* ")


def _ruled(title: str, style: PageStyle) -> Iterator[str]:
    yield from _wrapped(title, style)
    yield "-" * min(style.width, max(8, len(title)))


def _wrapped_all(label: str, texts: Iterable[str], style: PageStyle) -> Iterator[str]:
    for text in texts:
        yield from _wrapped(text, style, indent="    ", bullet=label)


def _wrapped(text: str, style: PageStyle, *, indent: str = "", bullet: str = "") -> list[str]:
    return textwrap.wrap(
        shown_text(text),
        style.width,
        initial_indent=indent + bullet,
        subsequent_indent=indent + (" " * len(bullet) if len(bullet) <= 2 else "  "),
        break_on_hyphens=False,
    )
