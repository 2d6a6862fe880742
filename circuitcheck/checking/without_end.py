"""What a sentence says further on: in cases in which entries without a bound go on from where they stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from circuitcheck.case import Amount, Answer
from circuitcheck.case.answer import Said
from circuitcheck.case.choice import Farthest
from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asked, Asker, worse_value

#: The whole way, half of it, half of that and so on: of 10 kW it is 1.2 W then.
_MOST_STEPS = 14


def further_on(
    asker: Asker, subject: Any, near: Asked, unbounded: Iterable[OpenEntry], sentence: Callable[[Answer], Said | None]
) -> Said | None:
    """The sentence of a case with these entries further on, so that its amounts tell which way they go; None: there is
    none. As far as they may go a rule can say something else (no voltage at all serves the lights): they go less far.
    """
    told = None if near.answer is None else sentence(near.answer)
    if told is None or not any(isinstance(thing, Amount) for thing in told.things.values()):
        return None
    for moved in _ways_on(asker, tuple(unbounded)):
        answer = asker.ask(subject, worst=near.worst, moved=moved).answer
        further = None if answer is None else sentence(answer)
        if further is not None and further.template == told.template:
            return further
    return None


def _ways_on(asker: Asker, unbounded: tuple[OpenEntry, ...]) -> Iterator[Farthest]:
    """All of them at their far ends, then nearer; what is no measure (a count, a word) stays at its far end."""
    ends = {entry: (asker.values(entry)[0], worse_value(asker, entry)) for entry in unbounded}
    if not ends:
        return
    for step in range(_MOST_STEPS):
        share = 0.5**step
        yield Farthest(
            (entry, near + (far - near) * share if isinstance(near, float) and isinstance(far, float) else far)
            for entry, (near, far) in ends.items()
        )
