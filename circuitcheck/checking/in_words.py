"""A finding in words: the sentences of both cases as one, entries by their names, what is assumed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from string import Formatter
from typing import TypeAlias

from circuitcheck.case import Amount
from circuitcheck.case.answer import Said
from circuitcheck.case.entry import OpenEntry
from circuitcheck.circuit.keys import SECTIONS

#: How many entries a sentence names.
MOST_NAMED_IN_WORDS = 6
#: What is said of an entry that a rule set aside.
LEFT_OUT = "; its own effect is left out here"
AT_LEAST, AT_MOST = "at least ", "at most "
NOT_ALL_TRIED = "So much is unknown that not every way was tried; numbers may be higher or lower."


#: The lines of a working as templates and what stands for their names.
Lines: TypeAlias = Sequence[tuple[str, Mapping[str, Amount | str]]]


def in_both(bad: Said, good: Said, further: Said | None = None) -> str:
    """One sentence for both cases: "4.1 to 5.6 A" where they differ; the worst case's where it is another sentence.

    further: the sentence of a case in which something without a bound goes on. An amount that goes on with it is told
    as "at least 4.1 A", or "at most 5.6 A".
    """
    if bad.template != good.template:
        good = bad
    on = further.things if further is not None and further.template == bad.template else {}
    if bad is good and not on:
        return str(bad)
    return _filled(bad.template, _InBoth(bad, good, on))


class _InBoth(dict[str, str]):
    """What stands for the names of a sentence in both cases, made as the sentence asks for it: it rarely has all."""

    def __init__(self, bad: Said, good: Said, on: Mapping[str, Amount | str]) -> None:
        super().__init__()
        self._bad, self._good, self._on = bad.things, good.things, on

    def __missing__(self, name: str) -> str:
        thing = self._bad[name]
        other = self._good.get(name, thing)
        if isinstance(thing, Amount) and isinstance(other, Amount):
            return _without_end(thing, other, self._on.get(name)) or _span(thing, other)
        return str(thing) if str(thing) == str(other) else f"{other} or {thing}"


def lines_of_both(bad: Lines, good: Lines) -> list[str]:
    """The working of both cases as one where they have the same lines, else one after the other."""
    if [template for template, _ in bad] == [template for template, _ in good]:
        return [
            in_both(Said(template, things), Said(template, others))
            for (template, things), (_, others) in zip(bad, good, strict=True)
        ]
    return [
        *(f"at worst: {template.format_map(things)}" for template, things in bad),
        *(f"at best: {template.format_map(things)}" for template, things in good),
    ]


def _span(one: Amount, other: Amount) -> str:
    low, high = sorted((one, other))
    first, last = str(low), str(high)
    return last if first == last else f"{low.digits} to {last}"


def _without_end(one: Amount, other: Amount, further: object) -> str:
    """The end of a span that stays where something goes on; empty where the amount stays within the span."""
    low, high = sorted((one, other))
    if not isinstance(further, Amount) or further.digits in (low.digits, high.digits):
        return ""
    if further.number > high.number:
        return f"{AT_LEAST}{low}"
    return f"{AT_MOST}{high}" if further.number < low.number else ""


def _filled(template: str, words: Mapping[str, str]) -> str:
    """A template with its words; "at least" is said once, and begins a sentence with a capital letter."""
    text = ""
    for literal, name, _, _ in Formatter().parse(template):
        text += literal
        word = "" if name is None else words[name]
        for bound in (AT_LEAST, AT_MOST):
            if word.startswith(bound):
                if text.endswith((AT_LEAST, AT_MOST, "only ")):
                    word = word.removeprefix(bound)
                elif not text or text.endswith(". "):
                    word = word[0].upper() + word[1:]
        text += word
    return text


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
