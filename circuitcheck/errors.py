"""What can be wrong with a file, a table or a command, as data; the sentence is made at the edge.

Not knowing is never an exception: it is the outcome ``undetermined`` of a finding.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

#: Two words are near when at least this share of their letters agrees, and clearly so by this much more than the next.
_ALIKE = 0.7
_CLEARLY = 0.1

_NUMBER = re.compile(r"[0-9]+")


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong with a circuit file.

    ``line`` is counted from 1 and is None where it is not known; it is never guessed.
    ``given`` and ``allowed`` are text as shown to people; ``nearest`` is the known word closest to what was given.
    ``source`` is the line as written; ``column``, counted from 1, and ``width`` say where in it the trouble is.
    """

    file: str
    line: int | None
    key: str
    says: str
    given: str = ""
    allowed: str = ""
    nearest: str | None = None
    source: str = ""
    column: int | None = None
    width: int = 1


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


class NotInBookError(TableError):
    """A rulebook has no such table or value. ``absent``: it says so itself (``lacks``), so that it is no slip."""

    def __init__(self, edition: str, what: str, *, absent: bool) -> None:
        """Keep whether the book says so. ``what``: ``table 'ampacity'``."""
        self.absent = absent
        todo = "" if absent else ": type it in, or name it in its lacks (tables/rulebooks.toml)"
        super().__init__(f"{edition} has no {what}{todo}")


def nearest(word: str, known: Iterable[str], meaning: Mapping[str, str] | None = None) -> str | None:
    """The one known word that ``word`` is a slip of; None where nothing is near, or two words about as near.

    ``meaning``: what each known word stands for; two of one meaning are no rivals. A word with other numbers in it is
    never meant: another size, depth, edition or light is no slip of the pen.
    """
    wanted = word.casefold()
    numbers = _NUMBER.findall(wanted)
    matcher = difflib.SequenceMatcher(b=wanted)
    near: list[tuple[float, str]] = []
    for candidate in known:
        folded = candidate.casefold()
        if _NUMBER.findall(folded) != numbers:
            continue
        if _without_gaps(folded) == _without_gaps(wanted):
            return candidate
        matcher.set_seq1(folded)
        if matcher.real_quick_ratio() < _ALIKE or matcher.quick_ratio() < _ALIKE:
            continue
        ratio = matcher.ratio()
        if ratio >= _ALIKE:
            near.append((ratio, candidate))
    if not near:
        return None
    near.sort(reverse=True)
    best, found = near[0]
    means = meaning or {}
    rivals = (other for ratio, other in near[1:] if best - ratio < _CLEARLY)
    return None if any(means.get(other, other) != means.get(found, found) for other in rivals) else found


def _without_gaps(word: str) -> str:
    return re.sub(r"[\s_-]", "", word)
