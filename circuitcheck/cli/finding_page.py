"""Findings as lines of text: one in full, or those that pass gathered by check, so that a long report can be read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from circuitcheck.checking.causes import leads
from circuitcheck.cli.colors import Color, color_of
from circuitcheck.cli.lines import PageStyle, ruled, wrapped, wrapped_all
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.outcomes import OUTCOME_MARK, about, answer_words, check_words, heading_word, told_value
from circuitcheck.quantities import beside_limit, safe_limit
from circuitcheck.text import shown_number

#: Subjects that the heading of alike findings names; their sentences name them all.
_MOST_NAMED = 20


def finding_lines(finding: Finding, style: PageStyle) -> Iterator[str]:
    """One finding: answer and subject, the sentence, then the numbers, working, sources and what to do."""
    heading = f"{heading_word(finding)}  "
    yield from wrapped(answer_words(finding), style, bullet=heading, color=color_of(finding))
    yield from wrapped(finding.says, style, indent="    ")
    if style.brief:
        return
    yield from wrapped(_numbers(finding), style, indent="    ")
    yield from wrapped_all("assumed: ", finding.assumed, style)
    yield from _working_lines(finding.working, style)
    yield from _source_lines(finding.sources, style)
    yield from wrapped_all("needs: ", finding.needs, style)
    yield from wrapped_all("to do: ", finding.to_do, style)
    yield from wrapped_all("ask: ", finding.ask, style)


def open_lines(findings: Iterable[Finding], style: PageStyle) -> Iterator[str]:
    """What does not pass, in the order given; parts with the same answer of one check and one remedy stand together.

    What several checks see of one cause is told once, unless the working of each is asked for.
    """
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        if finding.outcome is not Outcome.PASS:
            same: tuple[object, ...] = (finding.check, finding.outcome, finding.stop, finding.to_do, finding.ask)
            if finding.cause and not style.working:
                same = (finding.cause,)
            groups.setdefault(same, []).append(finding)
    for group in groups.values():
        told = [finding for finding in group if leads(finding)] if group[0].cause and not style.working else group
        yield ""
        yield from finding_lines(told[0], style) if len(told) == 1 else _alike_lines(told, style)
        if told is not group:
            yield from _also_lines((finding for finding in group if not leads(finding)), style)


def _also_lines(findings: Iterable[Finding], style: PageStyle) -> Iterator[str]:
    """What other checks see of a cause that was told: a line each."""
    for finding in findings:
        yield from wrapped(f"{finding.says} ({check_words(finding.check)})", style, indent="    ", bullet="also: ")


def passes_in_short(findings: Iterable[Finding], style: PageStyle) -> Iterator[str]:
    """What passes: one entry a check with its subjects and their numbers."""
    by_check = _passing(findings)
    if not by_check:
        return
    yield ""
    yield from ruled("These pass (--working shows each with its working and sources)", style)
    for check, passing in by_check.items():
        alike: dict[str, list[Finding]] = {}
        for finding in passing:
            alike.setdefault(_short_numbers(finding), []).append(finding)
        first, *others = (f"{about(same)}{numbers}" for numbers, same in alike.items())
        shown = "; ".join((first, *(other.removeprefix(", ") for other in others)))
        yield from wrapped(
            f"{check_words(check)}{shown}", style, bullet=f"{OUTCOME_MARK[Outcome.PASS]} ", color=Color.PASS
        )


def passes_in_full(findings: Iterable[Finding], style: PageStyle) -> Iterator[str]:
    """What passes with numbers and working of each subject; subjects that say the same stand together.

    The sources of a check stand once, under all of its subjects.
    """
    for check, passing in _passing(findings).items():
        yield ""
        yield from wrapped(check_words(check), style, bullet=f"{heading_word(passing[0])}  ", color=Color.PASS)
        alike: dict[tuple[object, ...], list[Finding]] = {}
        for finding in passing:
            same = (finding.value, finding.limit, finding.low, finding.chosen, tuple(finding.working))
            alike.setdefault((*same, None if _has_numbers(finding) else finding.says), []).append(finding)
        for group in alike.values():
            yield from _group_lines(group, style)
        yield from _source_lines((source for finding in passing for source in finding.sources), style)


def source_text(source: Source) -> str:
    """Document, edition, place and status in a line."""
    named = " ".join(part for part in (source.document, source.edition) if part)
    where = ", ".join(part for part in (named, source.place) if part)
    return f"{where} ({source.status})" if source.document != source.status else f"{where}, in no code"


def _alike_lines(group: list[Finding], style: PageStyle) -> Iterator[str]:
    """Findings of one answer and one remedy: each sentence, numbers and working where they differ, the rest once."""
    first = group[0]
    each = list({finding.subject: finding for finding in group}.values())
    more = f" and {len(each) - _MOST_NAMED} more" if len(each) > _MOST_NAMED else ""
    named = f"{check_words(first.check)}{about(each[:_MOST_NAMED])}{more}"
    yield from wrapped(named, style, bullet=f"{heading_word(first)}  ", color=color_of(first))
    by_numbers: dict[tuple[str, tuple[str, ...]], list[Finding]] = {}
    for finding in group:
        by_numbers.setdefault((_numbers(finding), tuple(finding.working)), []).append(finding)
    for (numbers, working), same in by_numbers.items():
        for finding in same:
            yield from wrapped(finding.says, style, indent="    ")
        if not style.brief:
            yield from wrapped(numbers, style, indent="    ")
            yield from _working_lines(working, style)
    if not style.brief:
        yield from wrapped_all("assumed: ", _each_once(finding.assumed for finding in group), style)
        yield from _source_lines((source for finding in group for source in finding.sources), style)
        yield from wrapped_all("needs: ", _each_once(finding.needs for finding in group), style)
        yield from wrapped_all("to do: ", first.to_do, style)
        yield from wrapped_all("ask: ", first.ask, style)


def _each_once(texts: Iterable[tuple[str, ...]]) -> Iterable[str]:
    return dict.fromkeys(text for some in texts for text in some)


def _working_lines(working: Sequence[str], style: PageStyle) -> Iterator[str]:
    if working:
        yield "    working:"
        yield from wrapped_all("", working, style, indent="      ")


def _group_lines(group: list[Finding], style: PageStyle) -> Iterator[str]:
    first = group[0]
    said = (
        f"{about(group).removeprefix(', ')}: {_numbers(first)}".removeprefix(": ")
        if _has_numbers(first)
        else first.says
    )
    yield from wrapped(said, style, indent="    ")
    if first.working:
        yield from wrapped("; ".join(first.working), style, indent="      ")
    yield from wrapped_all("assumed: ", _each_once(one.assumed for one in group), style, indent="      ")


def _source_lines(sources: Iterable[Source], style: PageStyle) -> Iterator[str]:
    return wrapped_all("source: ", dict.fromkeys(map(source_text, sources)), style)


def _passing(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    by_check: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.outcome is Outcome.PASS:
            by_check.setdefault(finding.check, []).append(finding)
    return by_check


def _short_numbers(finding: Finding) -> str:
    if finding.value is None:
        return f": {finding.chosen}" if finding.chosen else ""
    if finding.limit is None:
        return f": {_measure(finding.value, _unit(finding))}"
    value, limit = beside_limit(finding.value, finding.limit, at_least=finding.at_least)
    return f": {_with_unit(value, _unit(finding))} (limit {limit})"


def _has_numbers(finding: Finding) -> bool:
    return finding.value is not None or finding.chosen is not None


def _numbers(finding: Finding) -> str:
    """The finding's own numbers, empty where it has none."""
    unit = _unit(finding)
    word, told = told_value(finding)
    if told is None:
        sizes = (
            ("chosen", finding.chosen),
            ("smallest", finding.smallest),
            ("decided by", check_words(finding.decided_by or "")),
        )
        parts = [f"{word} {value}" for word, value in sizes if value]
    elif finding.limit is not None:
        value, limit = beside_limit(told, finding.limit, at_least=finding.at_least)
        parts = [f"value {word}{_with_unit(value, unit)}", f"limit {_with_unit(limit, unit)}"]
    else:
        parts = [f"value {word}{_measure(told, unit)}"]
    if told is None and finding.limit is not None:
        parts.append(f"limit {_with_unit(safe_limit(finding.limit, at_least=finding.at_least), unit)}")
    if finding.low is not None and finding.high is not None and finding.low != finding.high:
        parts.append(f"between {_measure(finding.low, unit)} and {_measure(finding.high, unit)}")
    return ", ".join(parts)


def _unit(finding: Finding) -> str:
    return "%" if finding.unit == "percent" else finding.unit or ""


def _measure(value: float, unit: str) -> str:
    return _with_unit(shown_number(value), unit)


def _with_unit(number: str, unit: str) -> str:
    return f"{number}{'' if unit == '%' else ' '}{unit}".rstrip()
