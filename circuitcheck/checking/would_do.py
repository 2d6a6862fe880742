"""Which value of an entry would do: change it in the circuit, and ask the rules that it concerns again."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Any

from circuitcheck.case import AnyRule, CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking.asking_all import findings_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.checking.scope import Scope
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook


def changed(circuit: Circuit, entry: Ref, value: Any) -> Circuit:
    """The circuit with another value of one entry, as a fact. Raises: KeyError for a part or key that is not there."""
    section = SECTIONS[entry.section]
    key = section.keys[entry.key]
    held = getattr(circuit, section.attribute)
    if not section.many:
        return replace(circuit, **{section.attribute: _with(held, key.name, key.attribute, value)})
    if all(part.id != entry.id for part in held):
        raise KeyError(str(entry))
    parts = tuple(_with(part, key.name, key.attribute, value) if part.id == entry.id else part for part in held)
    sections: dict[str, Any] = {section.attribute: parts}
    return replace(circuit, **sections)


def answers_about(
    circuit: Circuit, book: Rulebook, rules: Iterable[AnyRule], about: frozenset[str], *, named: bool = True
) -> tuple[Finding, ...]:
    """What ``rules`` say about the parts with the ids ``about``, and about the circuit where that is among them.

    ``named`` False: nobody reads which entries an open answer depends on.
    """
    asked = [_about(rule, about) if isinstance(rule, CaseRule) else rule for rule in rules]
    return tuple(
        finding for finding in findings_of(circuit, book, asked, scope=Scope(named, about)) if finding.subject in about
    )


def all_do(
    circuit: Circuit,
    book: Rulebook,
    rules: Iterable[CaseRule[Any]],
    about: frozenset[str],
    does: Callable[[Finding], bool],
) -> bool:
    """Whether everything that ``rules`` say about these parts does; asks no further than to what does not."""
    case = case_of(circuit, book)
    return all(
        does(finding)
        for rule in rules
        for finding in findings_of_rule(_about(rule, about), case, named=False)
        if finding.subject in about
    )


def _about(rule: CaseRule[Any], about: frozenset[str]) -> CaseRule[Any]:
    return replace(
        rule,
        subjects=lambda case: (subject for subject in rule.subjects(case) if _is_asked(subject, about)),
    )


def _is_asked(subject: Any, about: frozenset[str]) -> bool:
    """Whether a finding about it may be asked for; what stands once in a file, and a pair of parts, has no id."""
    name = getattr(subject, "id", "")
    return not name or name in about


def _with(part: Any, key: str, attribute: str, value: Any) -> Any:
    how = {name: word for name, word in part.known_by.items() if name != key}
    return replace(part, known_by=how, **{attribute: value})
