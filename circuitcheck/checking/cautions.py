"""What to keep in mind about a whole report: values nobody compared yet, common practice, guesses, worst cases."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

from circuitcheck.findings import Finding, Guess, Status
from circuitcheck.outcomes import check_words
from circuitcheck.tables.rulebook import Rulebook

#: How the caution about checks that rest on common practice begins.
ON_PRACTICE = "These checks rest on common practice too, which stands in no code"


def cautions_of(findings: Sequence[Finding], guesses: Iterable[Guess]) -> tuple[str, ...]:
    """One sentence each, the doubtful values first, then guesses, then the worst cases taken for unknown keys."""
    found: list[str] = []
    unchecked = _places(findings)
    if unchecked:
        found.append(f"Used from memory, not yet compared with a source: {unchecked}.")
    practice = _checks_on(findings, Status.COMMON_PRACTICE)
    if practice:
        found.append(f"{ON_PRACTICE}: {practice}.")
    found.extend(f"Guessed: {guess.key}, written {guess.written}; {guess.stands_for}." for guess in guesses)
    found.extend(dict.fromkeys(chain.from_iterable([finding.assumed for finding in findings])))
    return tuple(found)


def left_out(not_judged: Sequence[str], book: Rulebook) -> tuple[str, ...]:
    """The checks that this book has nothing to judge by, as one sentence; none where it has all."""
    if not not_judged:
        return ()
    return (f"Not checked, because {book.title} has no number for it: {', '.join(map(check_words, not_judged))}.",)


def _places(findings: Iterable[Finding]) -> str:
    """Where the values from memory stand, each place once, as one list for a sentence."""
    each_once = {id(source): source for finding in findings for source in finding.sources}.values()
    sources = dict.fromkeys([source for source in each_once if source.status is Status.FROM_MEMORY])
    named = (" ".join(part for part in (source.document, source.edition, source.place) if part) for source in sources)
    return "; ".join(dict.fromkeys(named))


def _checks_on(findings: Iterable[Finding], status: Status) -> str:
    """The checks that use a value of this status, each once."""
    named: dict[str, None] = {}
    for finding in findings:
        if finding.check not in named and any(source.status is status for source in finding.sources):
            named[finding.check] = None
    return ", ".join(map(check_words, named))
