"""The finding about a subject of which a rule read nothing open: one case, as it is."""

from __future__ import annotations

from typing import Any

from circuitcheck.case import Answer, Rows
from circuitcheck.checking.asking import Asker
from circuitcheck.checking.lines import Lines
from circuitcheck.findings import Finding, Outcome, merge_sources
from circuitcheck.refs import SINGLE_SECTIONS


def settled_finding(asker: Asker, subject: Any, answer: Answer) -> Finding:
    """What a rule says in the one case that there is: nothing is merged, asked for or assumed."""
    outcome, keys = answer.outcome, tuple(map(str, answer.keys))
    value, part = answer.value, answer.part.ref
    return Finding(
        check=asker.rule.name,
        subject="circuit" if part.section in SINGLE_SECTIONS else part.id,
        outcome=outcome,
        says=str(answer.says),
        value=value,
        limit=answer.limit,
        at_least=answer.at_least,
        unit=answer.unit,
        low=value,
        high=value,
        working=Lines(lambda: [template.format_map(things) for template, things in asker.told(subject)]),
        sources=merge_sources(answer.sources),
        # nothing open settles it, and the tables hold nothing for it
        needs=keys if outcome is Outcome.UNDETERMINED and not answer.ask else (),
        keys=tuple(dict.fromkeys(keys)),
        parts=answer.rows.made() if isinstance(answer.rows, Rows) else answer.rows,
        to_do=answer.to_do.get(outcome, ()),
        ask=answer.ask,
        stop=answer.stop,
        cause=answer.cause if outcome is Outcome.FAIL else "",
    )
