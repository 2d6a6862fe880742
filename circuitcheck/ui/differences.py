"""Two answers side by side: what goes, what comes, and what stays, for a fix, a planned change or a what-if."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from circuitcheck.advice.comparing import compared
from circuitcheck.findings import SEVERITY, Fault, Finding, Outcome, Report, Verdict
from circuitcheck.outcomes import VERDICT_WORD, answer_words, heading_word, told_value
from circuitcheck.text import shown_number, shown_text
from circuitcheck.ui.spans import Line, role_of, user_span, wrapped_lines

_BAD = (Outcome.FAIL, Outcome.UNDETERMINED)
_ROLE = {Verdict.FITS: "pass", Verdict.DOES_NOT_FIT: "fail", Verdict.UNDETERMINED: "unknown"}

#: Findings that are named of each kind.
_MOST = 12


@dataclass(frozen=True, slots=True)
class Difference:
    """What one report has and the other has not.

    gone: findings of the first that are better or no more in the second. come: findings of the second that are worse
    than in the first. stays: what fails or is open in both. numbers: an answer before and after, with another value.
    faults: what is missing from the second through a fault of the program; such an answer neither went nor came.
    """

    before: Verdict
    after: Verdict
    gone: tuple[Finding, ...]
    come: tuple[Finding, ...]
    stays: tuple[Finding, ...]
    numbers: tuple[tuple[Finding, Finding], ...]
    faults: tuple[Fault, ...] = ()

    @property
    def none(self) -> bool:
        """Whether nothing is different."""
        return not (self.gone or self.come or self.numbers or self.faults) and self.before is self.after


def difference(before: Report, after: Report) -> Difference:
    """What is different between two reports of the same file."""
    gone, come, numbers = [], [], []
    for line in compared((before, after)).lines:
        if any(line.lost):
            continue
        first, second = line.findings
        worse = _rank(first) - _rank(second)
        if worse > 0 and second is not None:
            come.append(second)
        elif worse < 0 and first is not None:
            gone.append(first)
        elif first is not None and second is not None and first.value is not None and second.value is not None:
            numbers.append((first, second))
    new = {(finding.check, finding.subject) for finding in come}
    bad = (finding for finding in after.findings if finding.outcome in _BAD)
    stays = (finding for finding in bad if (finding.check, finding.subject) not in new)
    changed = tuple(gone), tuple(come), tuple(stays), tuple(numbers)
    return Difference(before.verdict, after.verdict, *changed, after.faults)


def _rank(finding: Finding | None) -> int:
    """How bad it is; less is worse. What is not there is no worse than what passes."""
    return SEVERITY[finding.outcome if finding is not None else Outcome.PASS]


def finding_name(finding: Finding) -> str:
    """``box fill, box "attic"``: what a finding is about, in words."""
    return shown_text(answer_words(finding))


def number_shown(finding: Finding) -> str:
    """Its value, of one without bound the best that it can be; empty where it has none."""
    word, value = told_value(finding)
    return f"{word}{shown_number(value)}" if value is not None else ""


def unit_shown(finding: Finding) -> str:
    """The unit of its value as it is written in a text."""
    return "%" if finding.unit == "percent" else (finding.unit or "").replace("^3", "³")


def verdict_change(difference: Difference) -> Line:
    """The answer before and after on one line."""
    before, after = VERDICT_WORD[difference.before], VERDICT_WORD[difference.after]
    if before == after:
        return ("Answer: ", "plain"), (f"{after}, as before", _ROLE[difference.after])
    return (
        ("Answer: ", "plain"),
        (before, _ROLE[difference.before]),
        (" → ", "plain"),
        (after, _ROLE[difference.after]),
    )


def short_difference(difference: Difference) -> Line:
    """What goes and what comes, on one line."""
    spans: list[tuple[str, str]] = [*verdict_change(difference)]
    spans += [(f"  fault of the program in check {fault.check}", "fail") for fault in difference.faults]
    for word, findings, role in (("gone", difference.gone, "pass"), ("new", difference.come, "fail")):
        if findings:
            named = "; ".join(finding_name(finding) for finding in findings[:3])
            more = f" and {len(findings) - 3} more" if len(findings) > 3 else ""
            spans += [(f"  {word}: ", role), (f"{named}{more}", "plain")]
    return tuple(spans)


def difference_lines(difference: Difference, width: int) -> Iterator[Line]:
    """The answer before and after, then what goes, comes, changes its number, and stays."""
    yield verdict_change(difference)
    for fault in difference.faults:
        yield from wrapped_lines(user_span(fault.line)[0], width, "fail")
    yield from _titled("Goes", difference.gone, width)
    yield from _titled("New", difference.come, width, says=True)
    if difference.numbers:
        yield ("", "plain"), ("Other numbers", "strong")
        for pair in difference.numbers[:_MOST]:
            numbers = f"{' → '.join(map(number_shown, pair))} {unit_shown(pair[1])}".rstrip()
            yield from wrapped_lines(f"{finding_name(pair[1])}: {numbers}", width, "value", "  ")
    yield from _titled("Stays", difference.stays, width)


def _titled(title: str, findings: Iterable[Finding], width: int, *, says: bool = False) -> Iterator[Line]:
    named = list(findings)
    if not named:
        return
    yield (((title, "strong")),)
    for finding in named[:_MOST]:
        word = f"{heading_word(finding)}  "
        text = f"{finding_name(finding)}{': ' + finding.says if says else ''}"
        first, *rest = wrapped_lines(user_span(text)[0], width - 2 - len(word), "value")
        yield ("  ", "plain"), (word, role_of(finding)), *first
        yield from ((("  " + " " * len(word), "plain"), *line) for line in rest)
    if len(named) > _MOST:
        yield ((f"  and {len(named) - _MOST} more", "dim"),)
