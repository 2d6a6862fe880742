"""Which rules a change of a few entries concerns: what all others said of the circuit before stands.

Whoever types a length has the whole circuit checked with each key. A rule says of every entry that can be open which
way it is worse, so a rule that does not name such an entry does not read it. Of entries that are never open (which
parts there are, where they hang) and of those that are presumed nobody knows who reads them: they concern every rule.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from circuitcheck.case import AnyRule, Case, CaseRule
from circuitcheck.case.parts import Part
from circuitcheck.case.waiting import entry_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.possible import declared
from circuitcheck.possible.table import AS_INFERRED
from circuitcheck.rules import ALL_RULES


def entries_changed(before: Case, now: Case) -> frozenset[str] | None:
    """The kinds of entry (``cable.length``) of which one became another; None where these do not tell who reads them.

    What follows from an entry for another one counts as a change of that one.
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
            for kind, is_named in _different(section.name, old, new):
                if not is_named:
                    return None
                kinds.add(kind)
    return frozenset(kinds)


def _parts(case: Case, section: Section) -> tuple[Part, ...]:
    """The parts of a section, and those of it that were there before the work."""
    parts = getattr(case, section.attribute)
    gone = tuple(each.load for each in case.gone if each.load.section == section.name)
    return (*parts, *gone) if section.many else (parts,)


def _different(section: str, old: Part, new: Part) -> Iterator[tuple[str, bool]]:
    """Each entry of a part that is another one in one of two cases: its value, or what it can be; its kind.

    Of what was open before and nobody looked at, no rule hangs on. What was looked at is looked at in the new case too,
    so that it is known of the next one by which rules may stand.
    """
    known, opened = vars(old), vars(old).get("_open", {})
    for attribute, kind, is_named in _entries(section):
        if attribute in known:
            if entry_of(new, attribute) is not None or _another(known[attribute], vars(new)[attribute]):
                yield kind, is_named
        elif (entry := opened.get(attribute)) is not None:
            other = entry_of(new, attribute)
            if other is None or (other.possible, other.asked) != (entry.possible, entry.asked):
                yield kind, is_named


def _another(value: Any, other: Any) -> bool:
    return value is not other and bool(value != other)


def is_named_by_readers(kind: str, key: Key) -> bool:
    """Whether every rule of cases that reads an entry of this kind names it: numbers, and what is open when left out.

    Free text is read by none. Words of which one is presumed, or the only one, are read without a name.
    """
    if key.form in (Form.PHYSICAL, Form.TEXT):
        return True
    row = declared().get(kind)
    if row is None or row.presumed or key.form not in (Form.WORD, Form.YES_NO, Form.WHOLE):
        return False
    if isinstance(row.may_be, str):
        return row.may_be != AS_INFERRED
    return isinstance(row.may_be, Mapping) or (row.may_be is not None and len(row.may_be) > 1)


def concerned(rule: AnyRule, kinds: frozenset[str]) -> bool:
    """Whether a rule may answer otherwise with other entries of these kinds.

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
def _entries(section: str) -> tuple[tuple[str, str, bool], ...]:
    """Attribute and kind of every entry of a section, and whether whoever reads it names it."""
    kinds = ((key, f"{section}.{key.name}") for key in SECTIONS[section].keys.values())
    return tuple((key.attribute, kind, is_named_by_readers(kind, key)) for key, kind in kinds)
