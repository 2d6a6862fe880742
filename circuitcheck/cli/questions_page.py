"""What to find out first, as lines of a page: three lines near the top, and the whole list by where one goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from circuitcheck.checking import worst_first
from circuitcheck.circuit.guide import entry_guide, entry_ref, key_of, visits
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.cli.colors import Color
from circuitcheck.cli.lines import PageStyle, ruled, wrapped
from circuitcheck.findings import Finding, Outcome, Report, Unknown, Verdict
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, check_words

#: More open answers than this are told in one block; --working shows each.
MOST_OPEN = 5
#: So many questions stand near the top, and so many visits where much is open.
FIRST = 3
#: Kinds of entries that a visit names, and parts that a line names; the rest is counted.
_MOST_TITLES, _MOST_PARTS = 6, 3


def is_advised(report: Report) -> bool:
    """Whether somebody asked what each entry can do."""
    return any(unknown.alone is not None for unknown in report.unknowns)


def is_folded(report: Report, style: PageStyle) -> bool:
    """Whether so much is open that the answers are told in one block."""
    return not style.working and len(_open(report)) > MOST_OPEN


def first_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """What to find out first, in up to three lines; or that nothing that is found out changes the answer."""
    if report.verdict is Verdict.DOES_NOT_FIT or report.stop:
        yield from wrapped("Nothing you can find out changes this answer: what fails below fails in every case.", style)
        return
    deciding = [unknown for unknown in report.unknowns if unknown.decides]
    if not deciding or not is_advised(report):
        return
    yield from wrapped("Find out first:", style)
    for place, alike in enumerate(_alike(deciding)[:FIRST], 1):
        yield from wrapped(f"{_entries_name(alike)}: {what_it_does(alike[0])}", style, bullet=f"  {place}. ")
    if report.least_questions:
        yield from wrapped(_least_says(report, style), style)


def folded_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """Every open answer in one block: of each check how many."""
    yield ""
    yield from _counted_lines(_open(report), Outcome.UNDETERMINED, "answers", style)


def folded_cautions(report: Report, style: PageStyle) -> Iterator[str]:
    """Every caution in one block: of each check how many."""
    cautions = [each for each in report.findings if each.outcome is Outcome.CAUTION and not each.to_come]
    if cautions:
        yield ""
        yield from _counted_lines(cautions, Outcome.CAUTION, "cautions", style)


def _counted_lines(findings: Sequence[Finding], outcome: Outcome, what: str, style: PageStyle) -> Iterator[str]:
    by_check: dict[str, set[str]] = {}
    for finding in worst_first(findings):
        by_check.setdefault(finding.check, set()).add(finding.subject)
    told = ", ".join(
        f"{check_words(check)}{f' ({len(subjects)} parts)' if len(subjects) > 1 else ''}"
        for check, subjects in by_check.items()
    )
    heading = f"{OUTCOME_MARK[outcome]} {OUTCOME_WORD[outcome]}  "
    color = Color.UNDETERMINED if outcome is Outcome.UNDETERMINED else Color.CAUTION
    yield from wrapped(f"{len(findings)} {what} (--working shows each)", style, bullet=heading, color=color)
    yield from wrapped(f"{told}.", style, indent="    ")


def by_visit_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """Every entry that decides, by where one goes for it, the easiest visit first.

    Where much is open three visits are told, those that settle most.
    """
    deciding = [unknown for unknown in report.unknowns if unknown.decides]
    settled = {each.visit: each.settles for each in report.visits}
    folded = is_folded(report, style)
    names = [name for name in visits() if any(unknown.visit == name for unknown in deciding)]
    if folded:
        yield from _visits_in_short(report, deciding, settled, style)
        return
    for name in names:
        count = settled.get(name)
        many = f"; settles {count} of {len(_open(report))} open answers" if count else ""
        yield ""
        yield from ruled(f"{visits()[name].says}{many}", style)
        yield from _entry_lines(_alike([unknown for unknown in deciding if unknown.visit == name]), style)


def _visits_in_short(
    report: Report, deciding: Sequence[Unknown], settled: Mapping[str, int], style: PageStyle
) -> Iterator[str]:
    """Three visits with what to read there, those that settle most first; of the others how much there is to read.

    Where something fails whatever is found out, nobody is sent anywhere.
    """
    if report.verdict is Verdict.DOES_NOT_FIT:
        return
    at: dict[str, list[Unknown]] = {name: [] for name in visits()}
    for unknown in deciding:
        at.setdefault(unknown.visit, []).append(unknown)
    order = sorted((name for name in at if at[name]), key=lambda name: -settled.get(name, 0))
    yield ""
    yield from ruled("Where to go, what settles most first (--working says how, and what each can do)", style)
    for place, name in enumerate(order[:FIRST], 1):
        count = settled.get(name)
        many = f" This can settle {count} of {len(_open(report))} open answers." if count else ""
        yield from wrapped(f"{_visit_says(name)}: {_to_read(at[name])}.{many}", style, bullet=f"{place}. ")
    rest = [f"{_visit_says(name)[0].lower()}{_visit_says(name)[1:]} ({len(at[name])})" for name in order[FIRST:]]
    if rest:
        yield from wrapped(f"Then: {'; '.join(rest)}.", style, indent="  ")


def _visit_says(name: str) -> str:
    return visits()[name].says if name in visits() else "Elsewhere"


def _to_read(unknowns: Sequence[Unknown]) -> str:
    """What to find out at one visit, by kind of entry: ``length (cable "feed", cable "run")``."""
    parts: dict[str, list[str]] = {}
    for unknown in unknowns:
        part, title = _part_and_title(unknown.key)
        parts.setdefault(title, []).append(part)
    told = [f"{title} ({_some(names)})" if any(names) else title for title, names in parts.items()]
    more = sum(map(len, list(parts.values())[_MOST_TITLES:]))
    return "; ".join(told[:_MOST_TITLES]) + (f"; and {more} more" if more else "")


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - _MOST_PARTS} more" if len(names) > _MOST_PARTS else ""
    return f"{', '.join(names[:_MOST_PARTS])}{more}"


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
    part, title = _part_and_title(path)
    return f"{part}: {title}" if part else title


def _part_and_title(path: str) -> tuple[str, str]:
    """The part of an entry, as ``cable "feed"``, empty where there is one only, and what the entry is called."""
    found = key_of(path)
    if found is None:
        return "", path
    section, key = found
    title = entry_guide(section, key).title
    title = f"{title[0].lower()}{title[1:]}"
    if not SECTIONS[section].many:
        return "", title
    return f'{section.replace("_", "-")} "{entry_ref(path).id}"', title


def _entries_name(alike: Sequence[Unknown]) -> str:
    """The same entry of several parts: ``cable "run 1", cable "run 2": length``."""
    parts = [_part_and_title(unknown.key)[0] for unknown in alike]
    if len(parts) == 1:
        return entry_name(alike[0].key)
    return f"{_some(parts)}: {_part_and_title(alike[0].key)[1]}"


def _alike(unknowns: Sequence[Unknown]) -> list[list[Unknown]]:
    """The entries in their order, those of the same kind with the same effect together."""
    groups: dict[tuple[object, ...], list[Unknown]] = {}
    for unknown in unknowns:
        same = (key_of(unknown.key) or unknown.key, unknown.visit, _effect(unknown))
        groups.setdefault(same, []).append(unknown)
    return list(groups.values())


def _effect(unknown: Unknown) -> str | None:
    """What is told of an entry; None where nobody asked what it can do."""
    return what_it_does(unknown) if unknown.alone is not None else None


def _entry_says(alike: Sequence[Unknown]) -> str:
    effect = _effect(alike[0])
    return f"{_entries_name(alike)}: {effect}" if effect is not None else f"{_entries_name(alike)}."


def _least_says(report: Report, style: PageStyle) -> str:
    count, many = len(report.least_questions), len(_open(report))
    answers = "the open answer" if many == 1 else f"all {many} open answers"
    says = f"This entry settles {answers}, if it turns out well" if count == 1 else (
        f"{count} entries settle {answers}, if they turn out well")  # fmt: skip
    return f"{says}." if is_folded(report, style) else f"{says}: {_names(report.least_questions)}."


def _entry_lines(here: Sequence[Sequence[Unknown]], style: PageStyle) -> Iterator[str]:
    told: set[str] = set()
    for alike in here:
        yield from wrapped(_entry_says(alike), style, indent="  ", bullet="* ")
        if style.brief:
            continue
        keys = ", ".join(unknown.written or unknown.key for unknown in alike)
        how = alike[0].how_to_find if alike[0].how_to_find not in told else "As above."
        told.add(alike[0].how_to_find)
        yield from wrapped(f"{keys}: {how}", style, indent="      ")


def _open(report: Report) -> list[Finding]:
    return [finding for finding in report.findings if finding.outcome is Outcome.UNDETERMINED]


def _names(keys: Iterable[str]) -> str:
    return "; ".join(entry_name(key) for key in keys)
