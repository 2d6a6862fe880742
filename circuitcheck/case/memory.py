"""What several rules need is worked out once.

A rule sees a case as one fully known circuit. The engine decides what each open entry is in it: while ``Reading.at`` is
open with one choice, every read of an entry gets that choice's value and is written down. What is worked out by a
function kept by ``once`` holds for every choice that gives the entries it read the same values.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import wraps
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, TypeVar

from circuitcheck.case.results import Kept, Result

if TYPE_CHECKING:
    from circuitcheck.case.case import Case
    from circuitcheck.case.reading import Reading

P = ParamSpec("P")
Made = TypeVar("Made")

#: So many makings of one function may stand inside one another before all that it rests on is worked out in order.
_DEEP = 25


def once(make: Callable[Concatenate[Case, P], Made]) -> Callable[Concatenate[Case, P], Made]:
    """``make(case, …)``, worked out once for the same subjects and the same values of what it read.

    Subjects are parts of the case, words or numbers. Whoever is handed a result has read what it read, and leaves it as
    it is. Inside, never recurse along the circuit: ask ``in_order`` first.
    """

    @wraps(make)
    def kept(case: Case, *subjects: P.args, **named: P.kwargs) -> Made:
        key = (make, *subjects)
        results: Kept | None = case.worked_out.get(key)
        reading = case.reading
        if results is not None:
            result = results.closed
            if result is not None:
                return result.made  # type: ignore[no-any-return]
            choice = reading.choice
            result = results.last if results.generation == choice.generation else results.found(choice)
            if result is not None:
                reading.read |= result.rests_on
                return result.made  # type: ignore[no-any-return]
        depth = reading.depths.get(make, 0)
        if depth == _DEEP and (case, kept) in reading.orders:
            with _in_order(reading, case, kept, make):
                return kept(case, *subjects, **named)
        before, reading.read = reading.read, 0
        reading.depths[make] = depth + 1
        try:
            made = make(case, *subjects, **named)
            result = Result(made, reading.read, reading.choice)
            before |= reading.read
        finally:
            reading.read = before
            reading.depths[make] = depth
        case.worked_out.setdefault(key, Kept()).keep(result)
        return made

    return kept  # type: ignore[return-value] # wraps keeps the first parameter's name, which the type does not tell


def in_order(case: Case, make: Callable[..., Any], subjects: Callable[[], Iterable[Any]]) -> None:
    """From here on ``make`` (kept by ``once``) never goes deep: before it would, it is worked out for each subject.

    subjects: gives them in an order in which each rests on those before it. What is read by it counts only for whoever
    asks for one of them. Where most of what it rests on is kept already, no subject is looked at for nothing.
    """
    case.reading.orders.setdefault((case, make), subjects)


@contextmanager
def _in_order(reading: Reading, case: Case, kept: Callable[..., Any], make: Callable[..., Any]) -> Iterator[None]:
    """Work a function out for all its subjects in their order; inside, it is never worked out in order again."""
    reading.depths[make] = _DEEP + 1
    try:
        with reading.apart():
            for subject in reading.orders[case, kept]():
                kept(case, subject)
        yield
    finally:
        reading.depths[make] = _DEEP


@contextmanager
def aside(case: Case) -> Iterator[None]:
    """What is read inside counts as read, but nobody is asked for what has no bound: it is left out, and said so."""
    reading = case.reading
    before, reading.read = reading.read, 0
    try:
        yield
        before |= reading.read & ~reading.asks
    finally:
        reading.read = before
