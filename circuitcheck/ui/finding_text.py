"""A finding as a page of lines: the sentence, the numbers, the working, what to do, and where the values stand."""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck.findings import Finding, Source
from circuitcheck.outcomes import answer_words, check_words, heading_word, told_value
from circuitcheck.quantities import beside_limit
from circuitcheck.text import shown_number, shown_text
from circuitcheck.ui.gauges import BAR, Gauge, ends_of
from circuitcheck.ui.spans import Line, role_of, user_span, wrapped_lines

_NOTHING: Line = (("", "plain"),)


def finding_row(finding: Finding) -> Line:
    """A finding on one line: mark and word, check, subject, sentence."""
    return (
        (f"{heading_word(finding)} ", role_of(finding)),
        user_span(f"{answer_words(finding)}: ", "strong"),
        user_span(finding.says, "plain"),
    )


def finding_heading(finding: Finding) -> Line:
    """Mark, word, check and subject."""
    return (
        (heading_word(finding), role_of(finding)),
        ("  ", "plain"),
        user_span(answer_words(finding), "strong"),
    )


def group_row(finding: Finding, count: int, named: str) -> Line:
    """Findings with one cause on one line: mark and word, check, how many parts, and their names."""
    return (
        (f"{heading_word(finding)} ", role_of(finding)),
        user_span(f"{check_words(finding.check)}, {count} findings", "strong"),
        (": " if named else "", "plain"),
        user_span(named, "plain"),
    )


def finding_page(finding: Finding, title: str, width: int) -> list[Line]:
    """Everything a finding has to say, but the entries that decide it."""
    lines: list[Line] = [finding_heading(finding)]
    if title:
        lines += wrapped_lines(title, width, "dim")
    lines += [_NOTHING, *wrapped_lines(shown_text(finding.says), width, "value"), _NOTHING]
    numbers = _numbers(finding, width)
    if numbers:
        lines += [*numbers, _NOTHING]
    lines += _section("What to do", finding.to_do, width)
    lines += _section("Ask the electrician or inspector", finding.ask, width)
    lines += _section("Assumed, since it is not known", finding.assumed, width)
    lines += _parts(finding, width)
    lines += _section("Working", finding.working, width, bullet="")
    lines += _section("Where the values stand", [source_line(source) for source in finding.sources], width)
    return lines


def source_line(source: Source) -> str:
    """Document, edition, place and status; ``circuitcheck tables`` tells what each was compared with."""
    named = " ".join(part for part in (source.document, source.edition) if part)
    where = ", ".join(part for part in (named, source.place) if part)
    return f"{where} ({source.status})"


def _section(title: str, texts: Iterable[str], width: int, bullet: str = "- ") -> list[Line]:
    lines: list[Line] = []
    for text in texts:
        first, *rest = wrapped_lines(shown_text(text), width - 4, "value")
        lines.append((("  " + bullet, "dim"), *first))
        lines += [((" " * (2 + len(bullet)), "plain"), *line) for line in rest]
    return [((title, "strong"),), *lines, _NOTHING] if lines else []


def _numbers(finding: Finding, width: int) -> list[Line]:
    unit = "%" if finding.unit == "percent" else finding.unit or ""
    if finding.value is None or finding.limit is None or not finding.limit:
        if finding.chosen or finding.smallest:
            by = f", decided by {finding.decided_by}" if finding.decided_by else ""
            chosen = f"chosen {finding.chosen}, " if finding.chosen else ""
            return wrapped_lines(f"{chosen}smallest that would do {finding.smallest or 'not known'}{by}", width)
        return []
    low, high = ends_of(finding, finding.value)
    word, best = told_value(finding)
    worst = low if finding.at_least else high
    told, limit = beside_limit(best if word and best is not None else worst, finding.limit, at_least=finding.at_least)
    ends = (told, shown_number(high)) if finding.at_least else (shown_number(low), told)
    span = f"{word}{told}" if word or low == high else " to ".join(ends)
    says = f"{span} {unit}, limit {limit} {unit}"
    gauge = Gauge("", says, "", low / finding.limit, high / finding.limit, finding.outcome, finding)
    return [gauge.line(width)]


def _parts(finding: Finding, width: int) -> list[Line]:
    """What makes up the value, the largest first, each with its own bar."""
    shares = sorted((part for part in finding.parts if part.value > 0), key=lambda part: -part.value)
    if len(shares) < 2:
        return []
    whole = sum(part.value for part in shares)
    name_width = min(max(len(part.name) for part in shares[:12]), width // 2)
    lines: list[Line] = [(("What makes it up", "strong"),)]
    for part in shares[:12]:
        length = max(round(20 * part.value / whole), 1)
        name = shown_text(part.name)[:name_width].ljust(name_width)
        share = f" {shown_number(part.value)}, {shown_number(100 * part.value / whole, 2)} %"
        lines.append((("  ", "plain"), (name, "value"), (" ", "plain"), (BAR.full * length, "value"), (share, "dim")))
    if len(shares) > 12:
        rest = sum(part.value for part in shares[12:])
        lines.append(((f"  and {len(shares) - 12} more: {shown_number(rest)}", "dim"),))
    return [*lines, _NOTHING]
