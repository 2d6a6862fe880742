"""What to keep in mind about a whole report: values nobody compared yet, common practice, guesses, worst cases."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitcheck.findings import Finding, Guess, Source, Status


def cautions_of(findings: Sequence[Finding], guesses: Iterable[Guess]) -> tuple[str, ...]:
    """One sentence each, the doubtful values first, then guesses, then the worst cases taken for unknown keys."""
    sources = tuple(dict.fromkeys(source for finding in findings for source in finding.sources))
    found: list[str] = []
    unchecked = _places(sources, Status.FROM_MEMORY)
    if unchecked:
        found.append(f"Used from memory, not yet compared with a source: {unchecked}.")
    practice = _places(sources, Status.COMMON_PRACTICE)
    if practice:
        found.append(f"Common practice, in no code: {practice}.")
    found.extend(f"Guessed: {guess.key}, written {guess.written}; {guess.stands_for}." for guess in guesses)
    found.extend(dict.fromkeys(sentence for finding in findings for sentence in finding.assumed))
    return tuple(found)


def _places(sources: Iterable[Source], status: Status) -> str:
    """Where the sources of this status stand, each place once, as one list for a sentence."""
    named = (
        " ".join(part for part in (source.document, source.edition, source.place) if part)
        for source in sources
        if source.status is status
    )
    return "; ".join(dict.fromkeys(named))
