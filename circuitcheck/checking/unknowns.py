"""What a report had to do without, what settles most first."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from itertools import chain

from circuitcheck.circuit.guide import entry_ref, how_to_find, visit_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.short.written_key import written_key
from circuitcheck.findings import Finding, Outcome, Unknown
from circuitcheck.refs import Ref


def unknowns_of(findings: Iterable[Finding], circuit: Circuit) -> tuple[Unknown, ...]:
    """Every key that some finding had to do without, what settles most first.

    The keys that open answers name stand before those that decide none, and among them those that the most answers
    name. Of as many those stand first that are named with the fewest others (an answer that names one key is settled by
    it alone), then as they are named. ``advice`` asks again, and knows what each can do.
    """
    planned = _planned(circuit)
    held = tuple(findings)
    deciding = most_named_first(finding for finding in held if finding.outcome is Outcome.UNDETERMINED)
    named = dict.fromkeys(
        chain(deciding, chain.from_iterable([keys for each in held for keys in (each.needs, each.assumed_keys)]))
    )
    renamed = bool(circuit.written_in) or circuit.before is not None
    told = (_unknown(key, decides=key in deciding, planned=_part(key) in planned) for key in named)
    return tuple(_as_written(unknown, circuit) for unknown in told) if renamed else tuple(told)


@lru_cache(maxsize=65536)
def _unknown(key: str, *, decides: bool, planned: bool) -> Unknown:
    """An unknown entry, called as in the long form. ``planned``: its part is still to come."""
    return Unknown(
        key=key,
        decides=decides,
        how_to_find=how_to_find(key, planned=planned),
        written=key,
        visit=visit_of(key, planned=planned),
    )


@lru_cache(maxsize=65536)
def _part(key: str) -> Ref:
    return entry_ref(key).part


def _as_written(unknown: Unknown, circuit: Circuit) -> Unknown:
    written = written_key(unknown.key, circuit)
    return unknown if written == unknown.key else replace(unknown, written=written)


def most_named_first(findings: Iterable[Finding]) -> dict[str, int]:
    """The keys to find out for some findings and how many of these name each; sorted as ``unknowns_of`` says."""
    answers: Counter[str] = Counter()
    shares: defaultdict[str, float] = defaultdict(float)
    for finding in findings:
        answers.update(finding.needs)
        for key in finding.needs:
            shares[key] += 1 / len(finding.needs)
    return {key: answers[key] for key in sorted(answers, key=lambda key: (-answers[key], -round(shares[key], 9)))}


def _planned(circuit: Circuit) -> set[Ref]:
    """The parts that are still to come."""
    return {
        Ref(section.name, part.id)
        for section in SECTIONS.values()
        if section.many
        for part in getattr(circuit, section.attribute)
        if part.origin == "added"
    }
