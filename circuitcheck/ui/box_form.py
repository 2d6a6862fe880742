"""Counting one box from a small form: its entries, what they stand for, and the answer as lines."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from typing import Any

from circuitcheck.advice.box_words import NONE, BoxWords, contents_of
from circuitcheck.advice.one_box import CountFaultError, OneBox, one_box
from circuitcheck.advice.one_box_words import room_says, smallest_says, worksheet
from circuitcheck.circuit.guide import entry_ref
from circuitcheck.circuit.keys import SECTIONS, Key
from circuitcheck.circuit.keys.key import physical, word, yes_no
from circuitcheck.circuit.keys.key import text as text_key
from circuitcheck.errors import CommandError
from circuitcheck.outcomes import heading_word
from circuitcheck.safety import SHORT
from circuitcheck.tables.rulebook import load_rulebook, newest_edition, vocabulary
from circuitcheck.text import shown_text
from circuitcheck.ui.entry import Typed, read_typed, value_text
from circuitcheck.ui.shown_part import Draft, ShownEntry, ShownPart
from circuitcheck.ui.spans import Line, role_of, user_span, wrapped_lines

_VOLUME = SECTIONS["box"].keys["volume"].kind
assert _VOLUME is not None  # noqa: S101 - a volume has a kind

#: The entries of the form by the flag that stands for each.
KEYS: Mapping[str, Key] = {
    key.name: key
    for key in (
        text_key("cable", "Cables in it"),
        text_key("device", "Switches, receptacles"),
        text_key("leads", "Leads of the light"),
        word("size", "Metal box, trade size", vocabulary="box.trade_size"),
        physical("volume", _VOLUME, "Volume marked in it"),
        yes_no("clamps", "Clamps inside"),
        yes_no("ground", "Cables have a ground"),
        text_key("lead_ground", "Ground lead of the light"),
        yes_no("canopy", "Light has a domed canopy"),
        text_key("fitting", "Stud or hickey"),
        text_key("extension", "Volume marked on a ring"),
        SECTIONS["job"].keys["rulebook"],
    )
}
EXAMPLES: Mapping[str, str] = {
    "cable": "for example 14/2 14/2 14/3, or 3 x 12/2",
    "device": "for example switch, 2 x receptacle; or none",
    "leads": "for example 2 x 18 AWG; none where no light is on it",
    "lead_ground": "for example 18 AWG; or none",
    "fitting": "stud or hickey",
    "extension": "for example 4 in^3",
}
EDITION = newest_edition()
_LISTS = ("cable", "device", "leads", "fitting", "extension")
_CABLES = re.compile(r"\d+/\d+")
_FLAG = re.compile(r"^--[a-z-]+:? ?")

#: The last name of a key that is still unknown -> the entry that says it.
_ENTRY = {
    "internal_clamps": "clamps",
    "fixture_wires": "leads",
    "fixture_ground": "lead_ground",
    "canopy": "canopy",
    "volume": "volume",
    "trade_size": "size",
    "ground": "ground",
    "size": "cable",
}


def read_entry(name: str, written: str) -> Typed:
    """What typed text stands for under an entry of the form."""
    key = KEYS[name]
    if name not in EXAMPLES:
        return read_typed(key, written, vocabulary())
    try:
        contents_of(box_words({name: written}))
    except CommandError as wrong:
        says = _FLAG.sub("", str(wrong))
        return Typed(problem=f"{says[:1].upper()}{says[1:]}.")
    return Typed(written)


def box_words(entries: Mapping[str, Any]) -> BoxWords:
    """The entries of the form as the words of the command line."""
    known = {field.name for field in fields(BoxWords)}
    given: dict[str, Any] = {name: value for name, value in entries.items() if name in known}
    for name in _LISTS:
        if name in given:
            given[name] = _listed(str(given[name]))
    for name in ("device", "fitting", "extension"):
        if given.get(name) == [NONE]:
            given[name] = []
    return replace(BoxWords(), **given)


def _listed(written: str) -> list[str]:
    pieces = [piece.strip() for piece in re.split(r"[,;]", written) if piece.strip()]
    words = written.split()
    return words if len(pieces) == 1 and all(_CABLES.fullmatch(each) for each in words) else pieces


def counted(entries: Mapping[str, Any]) -> OneBox | None:
    """The box counted; None while nothing is said to be in it."""
    if not any(name in entries for name in ("cable", "device", "leads")):
        return None
    return one_box(contents_of(box_words(entries)), load_rulebook(str(entries.get("rulebook", EDITION))))


def shown_box(entries: Mapping[str, Any], drafts: Mapping[str, Draft]) -> ShownPart:
    """The form."""
    shown = []
    for key in KEYS.values():
        draft = drafts.get(key.name)
        says = (draft.text, draft.says) if draft else ("", "")
        example = EXAMPLES.get(key.name, "")
        shown.append(
            ShownEntry(key, value_text(entries.get(key.name)), "", draft=says[0], says=says[1], example=example)
        )
    return ShownPart(1, "", "What is in the box", tuple(shown))


def box_lines(entries: Mapping[str, Any], width: int) -> Iterator[Line]:
    """The answer: what it needs and has, the worksheet, the room left, the smallest box that would do."""
    try:
        answer = counted(entries)
    except CountFaultError as lost:
        yield from wrapped_lines(user_span(f"{lost}. The box is not counted.")[0], width, "fail")
        return
    if answer is None:
        yield from wrapped_lines("Enter the cables that come into the box, each once: 14/2 14/2 14/3.", width, "dim")
        return
    finding = answer.finding
    head = f"{heading_word(finding)}  "
    first, *rest = wrapped_lines(user_span(finding.says)[0], width - len(head), "value")
    yield (head, role_of(finding)), *first
    yield from ((("  ", "plain"), *line) for line in rest)
    for sentence in (*room_says(answer), smallest_says(answer)):
        yield from wrapped_lines(sentence, width, "strong")
    asked = dict.fromkeys(_ENTRY.get(entry_ref(key).key, "") for key in finding.needs)
    for name in asked:
        if name:
            yield from wrapped_lines(f"Say, since it decides: {KEYS[name].title.lower()}.", width, "unknown")
    yield (("", "plain"),)
    yield (("Worksheet", "strong"),)
    for row in worksheet(answer):
        yield ((shown_text(row), "value"),)
    yield (("", "plain"),)
    for assumed in finding.assumed:
        yield from wrapped_lines(f"Assumed: {user_span(assumed)[0]}", width, "dim")
    yield (("", "plain"),)
    for sentence in SHORT:
        yield from wrapped_lines(sentence, width, "caution")
