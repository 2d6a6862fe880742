"""A finding in words: the sentences of both cases as one, entries by their names, what is assumed."""

from __future__ import annotations

from collections.abc import Sequence

from circuitcheck.case import Amount
from circuitcheck.case.answer import Said
from circuitcheck.case.entry import OpenEntry
from circuitcheck.circuit.keys import SECTIONS

#: How many entries a sentence names.
MOST_NAMED_IN_WORDS = 6
#: What is said of an entry that a rule set aside.
LEFT_OUT = "; its own effect is left out here"
NOT_ALL_TRIED = "So much is unknown that not every way was tried; numbers may be higher or lower."


def in_both(bad: Said, good: Said) -> str:
    """One sentence for both cases: "4.1 to 5.6 A" where they differ; the worst case's where it is another sentence."""
    if bad is good or bad.template != good.template:
        return str(bad)
    words: dict[str, str] = {}
    for name, thing in bad.things.items():
        other = good.things.get(name, thing)
        if isinstance(thing, Amount) and isinstance(other, Amount):
            words[name] = _span(thing, other)
        else:
            words[name] = str(thing) if str(thing) == str(other) else f"{other} or {thing}"
    return bad.template.format_map(words)


def _span(one: Amount, other: Amount) -> str:
    low, high = sorted((one, other))
    first, last = str(low), str(high)
    return last if first == last else f"{low.digits} to {last}"


def name_of(entry: OpenEntry) -> str:
    """An entry in words: cable "feed": length."""
    title = entry.title[0].lower() + entry.title[1:]
    section = SECTIONS[entry.ref.section]
    return f'{section.name.replace("_", "-")} "{entry.ref.id}": {title}' if entry.ref.id else title


def still_open(says: str, needs: Sequence[OpenEntry], *, all_tried: bool) -> str:
    """An open answer with what is still unknown; ``all_tried``: whether its numbers are of every way there is."""
    names = [name_of(entry) for entry in needs]
    told = f"{says.rstrip('.')}; still unknown: {listed(names)}." if names else says
    return told if all_tried else f"{told} {NOT_ALL_TRIED}"


def assumed_sentence(entry: OpenEntry, more: str = "") -> str:
    """What is assumed about an entry, as a sentence."""
    section = entry.ref.section.replace("_", "-")
    whose = f'{section} "{entry.ref.id}"' if entry.ref.id else section
    return f"{whose[0].upper()}{whose[1:]}: {entry.possible.assumed}{more}."


def assumed_sentences(told: Sequence[OpenEntry], left_out: Sequence[OpenEntry]) -> tuple[str, ...]:
    """What is assumed about each of these entries, and about those that a rule set aside."""
    for entry in told:
        if entry.sentence is None:
            entry.sentence = assumed_sentence(entry)
    sentences = [entry.sentence or "" for entry in told]
    sentences += [assumed_sentence(entry, LEFT_OUT) for entry in left_out]
    return tuple(dict.fromkeys(sentences))


def listed(names: Sequence[str]) -> str:
    """Names one after the other, the first few."""
    shown = "; ".join(dict.fromkeys(names[:MOST_NAMED_IN_WORDS]))
    return f"{shown} and more" if len(names) > MOST_NAMED_IN_WORDS else shown
