"""Which rules a change of numbers concerns: what all others said of the circuit before stands.

Whoever types a length has the whole circuit checked with each key. A rule says of every entry that can be open which
way it is worse, so a rule that does not name the entry does not read it. Numbers alone are told apart so: what is
there, where it hangs and of what kind it is may concern every rule.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from circuitcheck.case import AnyRule, Case, CaseRule
from circuitcheck.case.parts import Part
from circuitcheck.case.waiting import entry_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.rules import ALL_RULES


def numbers_changed(before: Case, now: Case) -> frozenset[str] | None:
    """The kinds of entry (``cable.length``) of which a number became another one; None where more is different.

    What follows from a number for another entry counts as a change of that entry.
    """
    if before.book is not now.book:
        return None
    planned = [(case.replaced, case.moved, case.opened, [gone.least_a for gone in case.gone]) for case in (before, now)]
    if planned[0] != planned[1]:
        return None
    kinds: set[str] = set()
    for section in SECTIONS.values():
        held, present = _parts(before, section), _parts(now, section)
        if len(held) != len(present):
            return None
        for old, new in zip(held, present, strict=True):
            for kind, key in _different(section.name, old, new):
                if key.form is not Form.PHYSICAL or not _readers(kind):
                    return None
                kinds.add(kind)
    return frozenset(kinds)


def _parts(case: Case, section: Section) -> tuple[Part, ...]:
    """The parts of a section, and those of it that were there before the work."""
    parts = getattr(case, section.attribute)
    gone = tuple(each.load for each in case.gone if each.load.section == section.name)
    return (*parts, *gone) if section.many else (parts,)


def _different(section: str, old: Part, new: Part) -> Iterator[tuple[str, Key]]:
    """Each entry of a part that is another one in one of two cases: its value, or what it can be.

    Of what was open before and nobody looked at, no rule hangs on. What was looked at is looked at in the new case too,
    so that it is known of the next one by which rules may stand.
    """
    known, opened = vars(old), vars(old).get("_open", {})
    for attribute, kind, key in _entries(section):
        if attribute in known:
            if entry_of(new, attribute) is not None or _another(known[attribute], vars(new)[attribute]):
                yield kind, key
        elif (entry := opened.get(attribute)) is not None:
            other = entry_of(new, attribute)
            if other is None or (other.possible, other.asked) != (entry.possible, entry.asked):
                yield kind, key


def _another(value: Any, other: Any) -> bool:
    return value is not other and bool(value != other)


def concerned(rule: AnyRule, kinds: frozenset[str]) -> bool:
    """Whether a rule may answer otherwise with other numbers of these kinds.

    Rules of evidence look at entries as they are written, and sizes are asked of other circuits: both always may.
    """
    return not isinstance(rule, CaseRule) or any(rule.name in _readers(kind) for kind in kinds)


@cache
def _readers(kind: str) -> frozenset[str]:
    """The rules that name a kind of entry, or the same entry where it stands apart (``listed load.power``)."""
    return frozenset(
        rule.name
        for rule in ALL_RULES
        if isinstance(rule, CaseRule)
        for named in (*rule.worse, *rule.points, *rule.turns, *rule.doubts)
        if named.rpartition(" ")[2] == kind
    )


@cache
def _entries(section: str) -> tuple[tuple[str, str, Key], ...]:
    """Attribute, kind and key of every entry of a section."""
    return tuple((key.attribute, f"{section}.{key.name}", key) for key in SECTIONS[section].keys.values())
