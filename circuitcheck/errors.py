"""What can be wrong with a file, a table or a command, as data; the sentence is made at the edge.

Not knowing is never an exception: it is the outcome ``undetermined`` of a finding.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong with a circuit file.

    ``line`` is counted from 1 and is None where it is not known; it is never guessed.
    ``given`` and ``allowed`` are text as shown to people; ``nearest`` is the known word closest to what was given.
    """

    file: str
    line: int | None
    key: str
    says: str
    given: str = ""
    allowed: str = ""
    nearest: str | None = None


#: So many problems of one file are told; whoever has thousands has another trouble than any single one of them.
MOST_TOLD = 50


def told_problems(problems: Sequence[Problem]) -> tuple[Sequence[Problem], str]:
    """The problems to tell, and a sentence about how many more there are, or nothing."""
    more = len(problems) - MOST_TOLD
    if more <= 0:
        return problems, ""
    return problems[
        :MOST_TOLD
    ], f"{more:,} more problem{'s' if more > 1 else ''} in this file ({len(problems):,} in all)"


class CircuitcheckError(Exception):
    """Base of every error that reaches a user as a sentence and exit status 2."""


class CircuitFileError(CircuitcheckError):
    """A circuit file that cannot be used. Carries every problem that was found, in file order."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        """Keep the problems for whoever shows them."""
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__(f"{len(self.problems)} problem(s) in the circuit file")


class CommandError(CircuitcheckError):
    """A command that cannot be carried out as asked (no such file, folder not writable, wrong ending …)."""


class TableError(Exception):
    """A shipped table that is wrong. Never the user's fault: the command line turns it into exit status 4."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word closest to ``word``, or None where nothing is close."""
    candidates = list(known)
    folded = {candidate.casefold(): candidate for candidate in candidates}
    found = difflib.get_close_matches(word.casefold(), list(folded), n=1, cutoff=0.6)
    return folded[found[0]] if found else None
