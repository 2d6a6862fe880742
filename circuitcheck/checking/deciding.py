"""Which open entries an open answer depends on: those that, moved alone, turn it, and those that turn it after them.

What settles most stands first.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from types import MappingProxyType
from typing import Any

from circuitcheck.case import EACH, Answer
from circuitcheck.case.entry import OpenEntry
from circuitcheck.checking.asking import Asked, Asker, Moved, other_values, worse_value
from circuitcheck.findings import Outcome

#: How many single moves are tried for one answer; past that every entry that can differ is named.
MOST_MOVES = 80
#: After so many cases of one circuit a rule is asked about no more to find what decides: all that can differ is named.
MOST_TRIES = 2000
#: So much of the way to its far end is a little more of an entry without a bound.
_LITTLE = 1e-3
#: How many entries one answer names at most.
MOST_NAMED = 24


def deciding(
    asker: Asker, subject: Any, worst: Asked, best: Asked, given: Moved = MappingProxyType({})
) -> tuple[OpenEntry, ...]:
    """The entries to find out for an answer that fails at worst and not at best, what settles most first.

    First those that turn it alone, then once more with those at the value that leaves it open, so that nobody climbs up
    a second time for the next question. ``given``: entries without a bound that stand far in both cases. Where no
    entry turns the answer alone, a least set that turns it together is named.
    """
    movable = asker.case.reading.entries_of((worst.rests_on | best.rests_on) & asker.movable)
    if len(movable) > MOST_MOVES or asker.tries > MOST_TRIES:
        return movable[:MOST_NAMED]
    alone = _turning(asker, subject, movable, given, (worst, best))
    if asker.tries > MOST_TRIES:
        return movable[:MOST_NAMED]
    named = (alone if given else settles_most_first(asker, subject, alone)) or _together(asker, subject, movable, given)
    at_best = {**given, **{entry: asker.values(entry)[0] for entry in named}}
    if asker.fails(subject, worst=True, moved=at_best):
        rest = [entry for entry in movable if entry not in at_best]
        then = asker.ask(subject, worst=True, moved=at_best), asker.ask(subject, worst=False, moved=at_best)
        if not then[1].fails:  # else it fails there whatever the rest is
            after = _turning(asker, subject, rest, at_best, then)
            named = [*named, *(after or _together(asker, subject, rest, at_best))]
    else:  # of what then stands at its worst the tables may hold nothing
        then_worst = asker.ask(subject, worst=True, moved=at_best).answer
        if then_worst is not None and then_worst.outcome is Outcome.UNDETERMINED:
            named = [*named, *(entry for entry in movable if entry.ref in then_worst.keys and entry not in at_best)]
    return tuple(named[:MOST_NAMED])


def settles_most_first(
    asker: Asker, subject: Any, entries: Sequence[OpenEntry], *, endless: bool = False
) -> list[OpenEntry]:
    """The entries of an open answer, those first that settle it at the most of their values; else as they stood.

    A value settles the answer where nothing else can turn it any more: of words each counts, of a number or where one
    way is always worse its two ends. Not both can be: where some value of one entry saves the answer, no value of
    another makes it fail whatever else holds. ``endless``: something without a bound decides, so nothing else saves it.
    """
    if len(entries) < 2 or asker.tries > MOST_TRIES:
        return list(entries)

    def share(entry: OpenEntry, *, saved: bool) -> float:
        values = other_values(asker, entry, worst=saved)
        words = [asker.words_like(entry, value) if len(values) > 1 else 1 for value in values]
        settled = [asker.fails(subject, worst=saved, moved={entry: value}) is not saved for value in values]
        return sum(count for count, does in zip(words, settled, strict=True) if does) / max(sum(words), 2)

    saved = not endless and share(entries[0], saved=True) > 0
    return sorted(entries, key=lambda entry: share(entry, saved=saved), reverse=True)


def moving_numbers(
    asker: Asker, worst: Asked, subject: Any, unbounded: Iterable[OpenEntry], wild: Sequence[OpenEntry]
) -> list[OpenEntry]:
    """Entries without a bound that change the value or the limit alone, or once the ``wild`` are a little more.

    At their near end these may not tell: a light that draws nothing loses nothing in a cable however long. Where not
    every way was tried nobody looks for that.
    """
    more: dict[OpenEntry, Any] = {}
    for entry in wild if worst.complete else ():
        near_end, far_end = asker.values(entry)[0], worse_value(asker, entry)
        if isinstance(near_end, float) and isinstance(far_end, float):
            more[entry] = near_end + _LITTLE * (far_end - near_end)
    from_these = [({}, worst.answer), (more, asker.ask(subject, worst=True, moved=more).answer if more else None)]

    def moves(entry: OpenEntry, given: Moved, near: Answer | None) -> bool:
        if near is None:
            return False
        far = asker.ask(subject, worst=True, moved={**given, entry: worse_value(asker, entry)}).answer
        return far is not None and (far.value, far.limit) != (near.value, near.limit)

    return [
        entry
        for entry in unbounded
        if entry not in wild and any(moves(entry, given, near) for given, near in from_these)
    ]


def _turning(
    asker: Asker, subject: Any, entries: Sequence[OpenEntry], moved: Moved, ends: tuple[Asked, Asked]
) -> list[OpenEntry]:
    """Those of the entries that, moved alone, make a failure of none or the other way round; in their order.

    Few do of many. Where some moved together to their best do not save the worst answer, and to their worst do not make
    the best one fail, none of them does alone: so they are parted in halves, but for those of which no way is always
    worse.
    """
    found: set[OpenEntry] = set()
    waiting: list[Sequence[OpenEntry]] = [[entry] for entry in entries if not _has_ends(asker, entry)]
    with_ends = [entry for entry in entries if _has_ends(asker, entry)]
    waiting += [part for part in _halves(with_ends) if part]  # all of them together turn it
    while waiting and asker.tries <= MOST_TRIES:
        part = waiting.pop()
        if len(part) == 1:
            found.update(entry for entry in part if _turns(asker, subject, entry, moved, ends))
        elif _turn_together(asker, subject, part, moved, ends):
            waiting += _halves(part)
    return [entry for entry in entries if entry in found]


def _halves(entries: Sequence[OpenEntry]) -> list[Sequence[OpenEntry]]:
    half = len(entries) // 2
    return [entries[:half], entries[half:]]


def _has_ends(asker: Asker, entry: OpenEntry) -> bool:
    """Whether one value of an entry is its best and one its worst."""
    return asker.direction(entry) is not EACH and entry.kind not in asker.rule.points


def _turn_together(
    asker: Asker, subject: Any, entries: Sequence[OpenEntry], moved: Moved, ends: tuple[Asked, Asked]
) -> bool:
    """Whether entries, all moved to their best or all to their worst, make a failure of none or the other way round."""
    worst, best = ends
    saving = {entry: asker.values(entry)[0] for entry in entries if entry.bit & worst.rests_on}
    if saving and not asker.fails(subject, worst=True, moved={**moved, **saving}):
        return True
    spoiling = {entry: worse_value(asker, entry) for entry in entries if entry.bit & best.rests_on}
    return bool(spoiling) and asker.fails(subject, worst=False, moved={**moved, **spoiling})


def _turns(asker: Asker, subject: Any, entry: OpenEntry, moved: Moved, ends: tuple[Asked, Asked]) -> bool:
    """Whether an entry, moved alone, makes a failure of none or the other way round.

    ``ends``: the worst and the best answer before it is moved; a case that does not read it stays as it is.
    """
    worst, best = ends
    return (
        bool(entry.bit & worst.rests_on)
        and any(
            not asker.fails(subject, worst=True, moved={**moved, entry: value})
            for value in other_values(asker, entry, worst=True)
        )
    ) or (
        bool(entry.bit & best.rests_on)
        and any(
            asker.fails(subject, worst=False, moved={**moved, entry: value})
            for value in other_values(asker, entry, worst=False)
        )
    )


def _together(asker: Asker, subject: Any, movable: Sequence[OpenEntry], moved: Moved) -> list[OpenEntry]:
    """A least set of entries that, moved together from the best to the worst, makes it fail."""

    def first(count: int) -> dict[OpenEntry, Any]:
        return {entry: worse_value(asker, entry) for entry in movable[:count]}

    def fails(count: int) -> bool:
        return asker.fails(subject, worst=False, moved={**moved, **first(count)})

    if not fails(len(movable)):
        return list(movable)
    taken = first(bisect_left(range(len(movable)), x=True, key=fails))
    for entry in list(taken):
        fewer = {other: value for other, value in taken.items() if other is not entry}
        if asker.fails(subject, worst=False, moved={**moved, **fewer}):
            taken = fewer
    return list(taken)


def with_the_wild(
    asker: Asker, subject: Any, ends: tuple[Asked, Asked], wild: Sequence[OpenEntry], beside: Sequence[OpenEntry]
) -> Sequence[OpenEntry]:
    """The entries without a bound that decide, those ``beside`` them, and that which decides once they turn out badly.

    What settles most stands first. ``ends``: the worst and the best case.
    """
    near, good = ends
    unbounded = dict.fromkeys((*near.unbounded, *good.unbounded))
    named = [*wild, *moving_numbers(asker, near, subject, unbounded, wild), *beside]
    far = {entry: worse_value(asker, entry) for entry in wild}
    worst = asker.ask(subject, worst=True, moved=far)
    best = asker.ask(subject, worst=False, moved=far)
    if worst.fails and not best.fails:
        named += deciding(asker, subject, worst, best, far)
    elif near.fails:
        named += deciding(asker, subject, near, good)
    return settles_most_first(asker, subject, tuple(dict.fromkeys(named)), endless=True)
