"""The pages as lines of text: the circuit, a part, the findings."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.keys.key import Form
from circuitcheck.findings import Outcome
from circuitcheck.outcomes import OUTCOME_WORD, STOP_WORD, answer_words, check_words
from circuitcheck.text import shown_text
from circuitcheck.ui.drawing import DrawnPart
from circuitcheck.ui.entry import HOW_WORD
from circuitcheck.ui.examining import Checked, problem_text
from circuitcheck.ui.finding_text import source_line
from circuitcheck.ui.gauges import Gauge
from circuitcheck.ui.rows import grouped_findings
from circuitcheck.ui.shown_part import ShownEntry, ShownPart
from circuitcheck.ui.spans import line_text

#: Entries that are empty, not unknown, when left out.
_LISTS = frozenset({Form.TABLES, Form.WORD_LIST, Form.PHYSICAL_LIST})


def answer_page(checked: Checked) -> Iterator[str]:
    """The answer, and the four gauges as sentences."""
    (word, _), *rest = checked.verdict_line()
    yield f"{word.partition(' ')[2]}: {line_text(tuple(rest)).strip()}."
    for gauge in checked.gauges:
        yield gauge_sentence(gauge)


def gauge_sentence(gauge: Gauge) -> str:
    """Name, numbers and word."""
    word = f", {OUTCOME_WORD[gauge.outcome].lower()}" if gauge.outcome not in (None, Outcome.PASS) else ""
    return f"{gauge.name}: {gauge.says}{word}."


def circuit_page(checked: Checked) -> Iterator[str]:
    """The parts, numbered, as the circuit runs; deeper ones are indented by two blanks a side run."""
    number = 0
    for drawn in checked.drawing:
        if not drawn.part:
            yield shown_text(drawn.name)
            continue
        number += 1
        yield f"{number}. {_part_line(drawn)}"


def _part_line(drawn: DrawnPart) -> str:
    depth = max(len(drawn.rail) // 2 - 1, 0)
    side = f"side run {depth}, " if depth else ""
    added = ", added" if drawn.added else ""
    worst = f" [{OUTCOME_WORD[drawn.worst].lower()}]" if drawn.worst not in (None, Outcome.PASS) else ""
    details = f": {drawn.details}" if drawn.details else ""
    name = drawn.name.removeprefix("→ ")
    return shown_text(f"{side}{name}{added}{details}{worst}")


def part_page(part: ShownPart) -> Iterator[str]:
    """The entries of a part, numbered."""
    for number, entry in enumerate(part.entries, start=1):
        yield f"{number}. {entry_sentence(entry)}"


def entry_sentence(entry: ShownEntry) -> str:
    """Title, value, how it is known, and what is wrong with it."""
    need = {
        "given up": "unknown, and cannot be found out",
        "decides": "unknown, and it decides an answer",
        "worst case": "unknown, worst case assumed",
    }
    value = (
        entry.text
        or entry.inherited
        or need.get(entry.need, "nothing entered" if entry.key.form in _LISTS else "unknown")
    )
    how = f" ({HOW_WORD[entry.how]})" if HOW_WORD.get(entry.how) else ""
    wrong = f" To be put right: {entry.problem}" if entry.problem else ""
    there = f" There now: {entry.there}." if entry.there and entry.text else ""
    planned = f" Planned: {entry.planned}." if entry.planned else ""
    return shown_text(f"{entry.key.title}: {value}{how}.{there}{planned}{wrong}")


def findings_page(checked: Checked, *, passes: bool = False) -> Iterator[str]:
    """The findings, numbered, worst first, those with one cause together; problems of the file when it has any.

    What passes is counted, or told too.
    """
    for number, problem in enumerate(checked.problems, start=1):
        yield f"{number}. put right, {problem.key}: {problem_text(problem)}"
    if checked.fault:
        yield f"A fault of the program: {checked.fault}"
    number_of = {id(finding): number for number, finding in enumerate(checked.findings, start=1)}
    groups, passing = grouped_findings(checked.findings)
    for group in (*groups, *(passing if passes else ())):
        first = group[0]
        word = STOP_WORD if first.stop else OUTCOME_WORD[first.outcome]
        subjects = ", ".join(dict.fromkeys(finding.subject for finding in group if finding.subject != "circuit"))
        more = "" if len(group) == 1 else f" (and alike {', '.join(str(number_of[id(one)]) for one in group[1:])})"
        yield shown_text(
            f"{number_of[id(first)]}. {word.lower()}, {check_words(first.check)} {subjects}".rstrip()
            + f": {first.says}{more}"
        )
    count = sum(map(len, passing))
    if count and not passes:
        yield f"{count} checks found nothing wrong. Type passes for them."


def finding_page(checked: Checked, place: int) -> Iterator[str]:
    """One finding with everything it has to say."""
    finding = checked.findings[place]
    word = STOP_WORD if finding.stop else OUTCOME_WORD[finding.outcome]
    yield f"Finding {place + 1}, {word.lower()}: {answer_words(finding)}."
    yield finding.says
    for title, texts in (
        ("What to do", finding.to_do),
        ("Ask the electrician or inspector", finding.ask),
        ("Assumed", finding.assumed),
        ("Working", finding.working),
        ("Source", tuple(source_line(source) for source in finding.sources)),
        ("Find out", finding.needs),
    ):
        for text in texts:
            yield f"{title}: {text}"
