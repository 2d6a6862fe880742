"""What to find out first, as lines of a page: three lines near the top, and the whole list by where one goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from circuitcheck.circuit.guide import entry_guide, key_of, visits
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.cli.colors import Color
from circuitcheck.cli.lines import PageStyle, ruled, wrapped
from circuitcheck.findings import Finding, Outcome, Report, Unknown, Verdict
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD

#: More open answers than this are told in one block; --working shows each.
MOST_OPEN = 5
#: So many questions stand near the top, and so many visits in full where much is open.
FIRST = 3


def is_advised(report: Report) -> bool:
    """Whether somebody asked what each entry can do."""
    return any(unknown.alone is not None for unknown in report.unknowns)


def is_folded(report: Report, style: PageStyle) -> bool:
    """Whether so much is open that the answers are told in one block."""
    return not style.working and is_advised(report) and len(_open(report)) > MOST_OPEN


def first_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """What to find out first, in up to three lines; or that nothing that is found out changes the answer."""
    if report.verdict is Verdict.DOES_NOT_FIT or report.stop:
        yield from wrapped("Nothing you can find out changes this answer: what fails below fails in every case.", style)
        return
    deciding = [unknown for unknown in report.unknowns if unknown.decides]
    if not deciding or not is_advised(report):
        return
    yield from wrapped("Find out first:", style)
    for place, unknown in enumerate(deciding[:FIRST], 1):
        yield from wrapped(f"{entry_name(unknown.key)}: {what_it_does(unknown)}", style, bullet=f"  {place}. ")
    if report.least_questions:
        yield from wrapped(_least_says(report, style), style)


def folded_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """Every open answer in one block."""
    by_check: dict[str, list[str]] = {}
    for finding in _open(report):
        by_check.setdefault(finding.check, []).append(finding.subject)
    told = "; ".join(f"{check}: {', '.join(dict.fromkeys(subjects))}" for check, subjects in by_check.items())
    heading = f"{OUTCOME_MARK[Outcome.UNDETERMINED]} {OUTCOME_WORD[Outcome.UNDETERMINED]}  "
    yield ""
    yield from wrapped(f"{len(_open(report))} answers (--working shows each)", style, bullet=heading,
                       color=Color.UNDETERMINED)  # fmt: skip
    yield from wrapped(told, style, indent="    ")


def by_visit_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """Every entry that decides, by where one goes for it, the easiest visit first."""
    deciding = [unknown for unknown in report.unknowns if unknown.decides]
    settled = {each.visit: each.settles for each in report.visits}
    folded = is_folded(report, style)
    names = [name for name in visits() if any(unknown.visit == name for unknown in deciding)]
    if folded:
        names.sort(key=lambda name: -settled.get(name, 0))
    for place, name in enumerate(names):
        here = [unknown for unknown in deciding if unknown.visit == name]
        count = settled.get(name)
        many = f"; settles {count} of {len(_open(report))} open answers" if count else ""
        if folded and place >= FIRST:
            if place == FIRST:
                yield ""
            yield from wrapped(f"{visits()[name].says}: {_names(each.key for each in here)}.", style)
            continue
        yield ""
        yield from ruled(f"{visits()[name].says}{many}", style)
        yield from _entry_lines(here, style, folded=folded)


def what_it_does(unknown: Unknown) -> str:
    """What finding an entry out can do, as a sentence."""
    count = len(unknown.checks)
    parts = []
    if unknown.settles is not None:
        parts.append(f"{unknown.settles} settles {'an open answer' if count == 1 else f'up to {count} open answers'}")
    if unknown.ends is not None:
        parts.append(f"{unknown.ends} ends the job")
    return ("; ".join(parts) or "it decides together with others") + "."


def entry_name(path: str) -> str:
    """An entry in words: ``cable "feed": length``."""
    found = key_of(path)
    if found is None:
        return path
    section, key = found
    title = entry_guide(section, key).title
    if not SECTIONS[section].many:
        return f"{title[0].lower()}{title[1:]}"
    return f'{section.replace("_", "-")} "{path[len(section) + 1 : -len(key) - 1]}": {title[0].lower()}{title[1:]}'


def _least_says(report: Report, style: PageStyle) -> str:
    count, many = len(report.least_questions), len(_open(report))
    answers = "the open answer" if many == 1 else f"all {many} open answers"
    says = f"This entry settles {answers}, if it turns out well" if count == 1 else (
        f"{count} entries settle {answers}, if they turn out well")  # fmt: skip
    return f"{says}." if is_folded(report, style) else f"{says}: {_names(report.least_questions)}."


def _entry_lines(unknowns: Sequence[Unknown], style: PageStyle, *, folded: bool) -> Iterator[str]:
    told: set[str] = set()
    for unknown in unknowns:
        does = f": {what_it_does(unknown)}" if unknown.alone is not None else "."
        yield from wrapped(f"{entry_name(unknown.key)}{does}", style, indent="  ", bullet="* ")
        if folded or style.brief:
            continue
        key = unknown.written or unknown.key
        how = unknown.how_to_find if unknown.how_to_find not in told else "As above."
        told.add(unknown.how_to_find)
        yield from wrapped(f"{key}: {how}", style, indent="      ")


def _open(report: Report) -> list[Finding]:
    return [finding for finding in report.findings if finding.outcome is Outcome.UNDETERMINED]


def _names(keys: Iterable[str]) -> str:
    return "; ".join(entry_name(key) for key in keys)
