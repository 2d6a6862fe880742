"""What the file marks as guessed, and which answers hold only while a guess does.

A guessed physical value is a range already, so the rules see it. A guessed word, yes/no or count is tried again as
unknown (a count: as one more), all guesses at once, so that the price is one more run of the rules however many there
are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import MISSING, Field, fields, replace
from functools import cache
from typing import Any

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Guess, Outcome
from circuitcheck.quantities import How, Interval

#: Section of the file -> attribute of Circuit, in file order; the first three stand once, the others are lists.
_ONCE = ("job", "supply", "site")
_LISTS = {
    "box": "boxes",
    "cable": "cables",
    "load": "loads",
    "driver": "drivers",
    "low_voltage_load": "low_voltage_loads",
    "control": "controls",
    "framing": "framing",
}

#: Unit suffixes of the model's attribute names, longest first; the file's keys go without.
_SUFFIXES = ("_w_per_m", "_ohm_per_m", "_ohm", "_m3", "_va", "_kg", "_id", "_a", "_c", "_m", "_v", "_w")


def guesses_in(circuit: Circuit) -> tuple[Guess, ...]:
    """Every value that the file marks as guessed, in file order."""
    found: list[Guess] = []
    for prefix, part in _parts(circuit):
        for name, key in _file_keys(type(part)).items():
            value = getattr(part, name)
            found.extend(
                Guess(key=f"{prefix}.{key}", written=_quoted(one.text), stands_for=_range_of(one))
                for one in (value if isinstance(value, tuple) else (value,))
                if isinstance(one, Interval) and one.how is How.GUESS
            )
        for key in _guessed_keys(part):
            name = _attribute_names(type(part))[key]
            found.append(Guess(key=f"{prefix}.{key}", written=_written(getattr(part, name)), stands_for="not sure"))
    return tuple(found)


def without_guesses(circuit: Circuit) -> tuple[Circuit, tuple[str, ...]]:
    """The circuit with every guessed word and yes/no made unknown and every guessed count one more, and those keys."""
    keys: list[str] = []
    changed: dict[str, Any] = {}
    for section in _ONCE:
        part = getattr(circuit, section)
        doubted = _doubted(part)
        if doubted:
            keys.extend(f"{section}.{key}" for key in doubted)
            changed[section] = _replaced(part, doubted)
    for section, attribute in _LISTS.items():
        parts = getattr(circuit, attribute)
        doubts = [_doubted(part) for part in parts]
        if any(doubts):
            keys.extend(
                f"{section}.{part.id}.{key}" for part, doubted in zip(parts, doubts, strict=True) for key in doubted
            )
            changed[attribute] = tuple(
                _replaced(part, doubted) if doubted else part for part, doubted in zip(parts, doubts, strict=True)
            )
    return (replace(circuit, **changed), tuple(keys)) if changed else (circuit, ())


def weaken(findings: Sequence[Finding], doubted: Sequence[Finding], keys: Sequence[str]) -> list[Finding]:
    """The findings, those undetermined that hold only while a guess does.

    ``doubted`` is what the rules say with the guessed ``keys`` unknown.
    """
    others: dict[tuple[str, str], list[Finding]] = {}
    for finding in doubted:
        others.setdefault((finding.check, finding.subject), []).append(finding)
    mine: dict[tuple[str, str], int] = {}
    weakened: list[Finding] = []
    for finding in findings:
        name = (finding.check, finding.subject)
        place = mine[name] = mine.get(name, -1) + 1
        rivals = others.get(name, [])
        rival = rivals[min(place, len(rivals) - 1)] if rivals else None
        weakened.append(_weakened(finding, rival, keys) if rival and _breaks(finding, rival) else finding)
    for name, rivals in others.items():
        if name not in mine:
            weakened.extend(_undecided(rival, rival, keys) for rival in rivals if _is_bad(rival.outcome))
    return weakened


def _is_bad(outcome: Outcome) -> bool:
    return outcome in (Outcome.FAIL, Outcome.UNDETERMINED)


def _breaks(finding: Finding, rival: Finding) -> bool:
    """Whether the answer changes with the guess: good turns bad, or a failure is no longer certain."""
    if finding.outcome is Outcome.FAIL:
        return rival.outcome is not Outcome.FAIL
    return finding.outcome is not Outcome.UNDETERMINED and _is_bad(rival.outcome)


def _weakened(finding: Finding, rival: Finding, keys: Sequence[str]) -> Finding:
    return _undecided(rival if rival.outcome is Outcome.UNDETERMINED else finding, rival, keys)


def _undecided(base: Finding, rival: Finding, keys: Sequence[str]) -> Finding:
    """``base`` as an open answer that needs the guessed keys which bear on it."""
    deciding = _deciding(base, rival, keys)
    says = f"{base.says.rstrip('.')}; this hangs on a guess ({', '.join(deciding)})."
    return replace(
        base,
        outcome=Outcome.UNDETERMINED,
        says=says,
        needs=tuple(dict.fromkeys((*base.needs, *deciding))),
        keys=base.keys or deciding,
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


def _doubted(part: Any) -> dict[str, Any]:
    """Guessed key -> the value to try instead. Lists and required keys have none and stay as they are."""
    tried: dict[str, Any] = {}
    for key in _guessed_keys(part):
        name = _attribute_names(type(part))[key]
        value, default = getattr(part, name), _fields(type(part))[name].default
        if default is None:
            tried[key] = None
        elif isinstance(value, int) and default is not MISSING:
            tried[key] = value + 1
    return tried


def _replaced(part: Any, doubted: dict[str, Any]) -> Any:
    names = _attribute_names(type(part))
    how = {key: word for key, word in part.known_by.items() if key not in doubted}
    return replace(part, known_by=how, **{names[key]: value for key, value in doubted.items()})


def _guessed_keys(part: Any) -> Iterator[str]:
    """Keys that ``known_by`` calls guessed and that hold no physical value (those carry the word themselves)."""
    if part.known_by:
        names = _attribute_names(type(part))
        for key, word in part.known_by.items():
            if word == How.GUESS and key in names and not isinstance(getattr(part, names[key]), Interval):
                yield key


def _parts(circuit: Circuit) -> Iterator[tuple[str, Any]]:
    for section in _ONCE:
        yield section, getattr(circuit, section)
    for section, attribute in _LISTS.items():
        for part in getattr(circuit, attribute):
            yield f"{section}.{part.id}", part


@cache
def _fields(kind: type) -> dict[str, Field[Any]]:
    return {field.name: field for field in fields(kind)}


@cache
def _file_keys(kind: type) -> dict[str, str]:
    """Attribute -> key as the file spells it: the attribute without its unit."""
    return {
        name: next((name.removesuffix(end) for end in _SUFFIXES if name.endswith(end)), name) for name in _fields(kind)
    }


@cache
def _attribute_names(kind: type) -> dict[str, str]:
    return {key: name for name, key in _file_keys(kind).items()}


def _quoted(text: str) -> str:
    return f'"{text}"'


def _written(value: object) -> str:
    """A word, yes/no, count or list as the file writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, tuple):
        return f"a list of {len(value)}"
    return "unknown" if value is None else str(value)


def _range_of(interval: Interval) -> str:
    return f"taken as a range in every check ({interval.low:.4g} to {interval.high:.4g} in SI)"
