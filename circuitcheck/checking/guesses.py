"""What the file marks as guessed, and which answers hold only while a guess does.

A guessed physical value is a range already, so the rules see it. A guessed word, yes/no or count is tried again as
unknown (a count: as one more), all guesses at once, so that the price is one more run of the rules however many there
are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from functools import cache
from typing import Any

from circuitcheck.circuit.keys import SECTIONS, Key, Section
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Guess, Outcome
from circuitcheck.quantities import How, Interval, normalised

_HELD_OPEN = "an answer that depends on it stays open"
#: Lists and required keys have no value to try instead.
_AS_WRITTEN = "it counts as written: verify it before you rely on an answer that depends on it"


#: Counts that are unknown when left out; a guess at one is tried with one more.
_COUNTS = ("bundled_with", "terminal_blocks")


def guesses_in(circuit: Circuit) -> tuple[Guess, ...]:
    """Every value that the file marks as guessed, in file order."""
    found: list[Guess] = []
    for section in SECTIONS.values():
        for part in _parts(circuit, section):
            prefix = _prefix(section, part)
            for key in _physical_keys(section.name):
                value = getattr(part, key.attribute)
                if value is None:
                    continue
                values = value if isinstance(value, tuple) else (value,)
                if any(one.how is How.GUESS for one in values):
                    path = f"{prefix}.{key.name}"
                    found.extend(_physical_guess(path, key, one) for one in values if one.how is How.GUESS)
            tried = _doubted(section, part)
            for key in _guessed_keys(section, part):
                stands_for = _HELD_OPEN if key.name in tried else _AS_WRITTEN
                found.append(Guess(f"{prefix}.{key.name}", _written(getattr(part, key.attribute)), stands_for))
    return tuple(found)


def without_guesses(circuit: Circuit) -> tuple[Circuit, tuple[str, ...]]:
    """The circuit with every guessed word and yes/no made unknown and every guessed count one more, and those keys."""
    keys: list[str] = []
    changed: dict[str, Any] = {}
    for section in SECTIONS.values():
        parts = _parts(circuit, section)
        doubts = [_doubted(section, part) for part in parts]
        if any(doubts):
            pairs = list(zip(parts, doubts, strict=True))
            keys.extend(f"{_prefix(section, part)}.{key}" for part, doubted in pairs for key in doubted)
            tried = tuple(_replaced(section, part, doubted) if doubted else part for part, doubted in pairs)
            changed[section.attribute] = tried if section.many else tried[0]
    return (replace(circuit, **changed), tuple(keys)) if changed else (circuit, ())


def weaken(findings: Sequence[Finding], doubted: Sequence[Finding], keys: Sequence[str]) -> list[Finding]:
    """The findings, those undetermined that hold only while a guess does.

    ``doubted`` is what the rules say with the guessed ``keys`` unknown.
    """
    others: dict[tuple[str, str], list[Finding]] = {}
    for finding in doubted:
        others.setdefault((finding.check, finding.subject), []).append(finding)
    met: dict[tuple[str, str], int] = {}
    weakened: list[Finding] = []
    for finding in findings:
        name = (finding.check, finding.subject)
        place = met[name] = met.get(name, -1) + 1
        rivals = others.get(name, [])
        rival = rivals[min(place, len(rivals) - 1)] if rivals else None
        weakened.append(_undecided(finding, rival, keys) if rival and _breaks(finding, rival) else finding)
    for name, rivals in others.items():
        if name not in met:
            weakened.extend(_undecided(rival, rival, keys) for rival in rivals if _is_bad(rival.outcome))
    return weakened


def _is_bad(outcome: Outcome) -> bool:
    return outcome in (Outcome.FAIL, Outcome.UNDETERMINED)


def _breaks(finding: Finding, rival: Finding) -> bool:
    """Whether the answer changes with the guess: good turns bad, or a failure is no longer certain."""
    if finding.outcome is Outcome.FAIL:
        return rival.outcome is not Outcome.FAIL
    return finding.outcome is not Outcome.UNDETERMINED and _is_bad(rival.outcome)


def _undecided(base: Finding, rival: Finding, keys: Sequence[str]) -> Finding:
    """``base`` as an open answer that needs the guessed keys which bear on it, with the range that the rival knows."""
    deciding = _deciding(base, rival, keys)
    ranged = base if rival.value is None else rival
    return replace(
        base,
        outcome=Outcome.UNDETERMINED,
        says=f"{base.says.rstrip('.')}; but that holds only if a guess does ({', '.join(deciding)}).",
        value=ranged.value,
        low=ranged.low,
        high=ranged.high,
        needs=tuple(dict.fromkeys((*base.needs, *deciding))),
        keys=base.keys or deciding,
        to_do=rival.to_do or base.to_do,
        stop=False,
    )


def _deciding(base: Finding, rival: Finding, keys: Sequence[str]) -> tuple[str, ...]:
    """The guessed keys that this answer hangs on: those a finding names, else those of its subject, else all."""
    named = {*rival.needs, *rival.assumed_keys, *base.needs, *base.assumed_keys}
    return (
        tuple(key for key in keys if key in named)
        or tuple(key for key in keys if key in base.keys or key in rival.keys)
        or tuple(key for key in keys if f".{base.subject}." in key)
        or tuple(keys)
    )


def _doubted(section: Section, part: Any) -> dict[str, Any]:
    """Guessed key -> the value to try instead. Lists and required keys have none and stay as they are."""
    tried: dict[str, Any] = {}
    for key in _guessed_keys(section, part):
        value, default = getattr(part, key.attribute), _default_of(part, key.attribute)
        if isinstance(default, int) or key.name in _COUNTS:
            tried[key.name] = value + 1
        elif default is None and key.form not in (Form.WORD_LIST, Form.TABLES):
            tried[key.name] = None
    return tried


def _replaced(section: Section, part: Any, doubted: dict[str, Any]) -> Any:
    how = {name: word for name, word in part.known_by.items() if name not in doubted}
    return replace(part, known_by=how, **{section.keys[name].attribute: value for name, value in doubted.items()})


def _guessed_keys(section: Section, part: Any) -> Iterator[Key]:
    """Keys that ``known_by`` calls guessed and that hold no physical value (those carry the word themselves)."""
    for name, word in part.known_by.items():
        key = section.keys.get(name)
        if word == How.GUESS and key is not None and key.kind is None:
            yield key


def _parts(circuit: Circuit, section: Section) -> tuple[Any, ...]:
    parts = getattr(circuit, section.attribute)
    return parts if section.many else (parts,)


def _prefix(section: Section, part: Any) -> str:
    return f"{section.name}.{part.id}" if section.many else section.name


def _physical_guess(path: str, key: Key, value: Interval) -> Guess:
    unit = key.kind.unit if key.kind else ""
    return Guess(path, f'"{value.text}"', f"stands for {normalised(value, unit)} in every check")


@cache
def _physical_keys(section: str) -> tuple[Key, ...]:
    return tuple(key for key in SECTIONS[section].keys.values() if key.kind is not None)


def _default_of(part: Any, attribute: str) -> Any:
    return next(field.default for field in fields(part) if field.name == attribute)


def _written(value: object) -> str:
    """A word, yes/no, count or list as the file writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, tuple):
        return f"a list of {len(value)}"
    return "unknown" if value is None else str(value)
