"""What to keep in mind about a whole report: values nobody compared yet, common practice, guesses, worst cases."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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
    found.extend(dict.fromkeys(sentence for finding in findings for sentence in finding.assumed))
    return tuple(found)


def left_out(not_judged: Sequence[str], book: Rulebook) -> tuple[str, ...]:
    """The checks that this book has nothing to judge by, as one sentence; none where it has all."""
    if not not_judged:
        return ()
    return (f"Not checked, because {book.title} has no number for it: {', '.join(map(check_words, not_judged))}.",)


def _places(findings: Iterable[Finding]) -> str:
    """Where the values from memory stand, each place once, as one list for a sentence."""
    sources = dict.fromkeys(
        source for finding in findings for source in finding.sources if source.status is Status.FROM_MEMORY
    )
    named = (" ".join(part for part in (source.document, source.edition, source.place) if part) for source in sources)
    return "; ".join(dict.fromkeys(named))


def _checks_on(findings: Iterable[Finding], status: Status) -> str:
    """The checks that use a value of this status, each once."""
    named = (finding.check for finding in findings if any(source.status is status for source in finding.sources))
    return ", ".join(map(check_words, dict.fromkeys(named)))
