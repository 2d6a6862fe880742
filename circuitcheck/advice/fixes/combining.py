"""Steps put together: one for each finding, from cheap to dear, each thing done once."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from circuitcheck.advice.fixes.step import Step
from circuitcheck.refs import Ref

#: Combinations that are looked at, whether they are checked or not.
_MOST_COMBINED = 2000


def combined(ways: Sequence[Sequence[Step]]) -> Iterator[tuple[Step, ...]]:
    """One step for each finding, from cheap to dear; a step that serves several stands once."""
    if not ways:
        return
    start = (0,) * len(ways)
    waiting = [(_cost(ways, start), start)]
    seen, told = {start}, set[frozenset[str]]()
    while waiting and len(seen) < _MOST_COMBINED:
        _, places = heapq.heappop(waiting)
        steps = _together(ways[index][place] for index, place in enumerate(places))
        if frozenset(steps) not in told and not _contradict(steps.values()):
            told.add(frozenset(steps))
            yield tuple(steps.values())
        for index in range(len(places)):
            following = (*places[:index], places[index] + 1, *places[index + 1 :])
            if following[index] < len(ways[index]) and following not in seen:
                seen.add(following)
                heapq.heappush(waiting, (_cost(ways, following), following))


def _together(steps: Iterable[Step]) -> dict[str, Step]:
    """Each step once; of a family the strongest."""
    kept: dict[str, Step] = {}
    for step in steps:
        name = step.family or step.key
        if name not in kept or kept[name].strength < step.strength:
            kept[name] = step
    steps_kept: dict[str, Step] = {}
    for step in sorted(kept.values(), key=lambda each: -len(each.entries)):
        if not any(_is_within(step, larger) for larger in steps_kept.values()):
            steps_kept[step.key] = step
    return steps_kept


def _is_within(step: Step, larger: Step) -> bool:
    """Whether another step sets all that a step does, to the same values."""
    entries = larger.entries
    return bool(step.entries) and all(entries.get(entry, step) == value for entry, value in step.entries.items())


def _contradict(steps: Iterable[Step]) -> bool:
    """Whether two steps set the same entry to different values."""
    held: dict[tuple[Ref, str], Any] = {}
    return any(held.setdefault(entry, value) != value for step in steps for entry, value in step.entries.items())


def _cost(ways: Sequence[Sequence[Step]], places: Sequence[int]) -> tuple[int, float]:
    steps = _together(ways[index][place] for index, place in enumerate(places))
    return len(steps), sum(step.costs for step in steps.values())
