"""What a rule doubts although the file settles it so far, such as what a cable is presumed to carry."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asked, Asker


def doubted(asker: Asker, subject: Any, worst: Asked, movable: Iterable[OpenEntry]) -> tuple[OpenEntry, ...]:
    """What the rule doubts, where that changes what is said and no more: it is asked for and stays a caution.

    movable: of what was read in either case, what can be one thing or another.
    """
    doubts, answer = asker.rule.doubts, worst.answer
    if not doubts or answer is None:
        return ()
    at_best = {entry: asker.values(entry)[0] for entry in movable if entry.kind in doubts}
    if not at_best:
        return ()
    settled = asker.ask(subject, worst=True, moved=at_best).answer
    same = settled is not None and settled.says.template == answer.says.template
    return () if same else tuple(at_best)
