"""Saying of a value that it is a guess can only open an answer: it never makes one better or worse."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.checking import check
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Outcome, Report, Verdict
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

EXAMPLES = Path(__file__).parents[2] / "examples"
CIRCUITS = {name: read_file(EXAMPLES / f"{name}.circuit.toml", vocabulary()) for name in ("bedroom", "hallway", "den")}


def guessable(circuit: Circuit) -> list[tuple[str, int, str]]:
    """Section, place in it and key of everything that the file says and that is no physical value, id or reference."""
    return [
        (section.name, place, key.name)
        for section in SECTIONS.values()
        if section.many
        for place, part in enumerate(getattr(circuit, section.attribute))
        for key in section.keys.values()
        if key.kind is None and not key.required and getattr(part, key.attribute) not in (None, ())
    ]


def with_guesses(circuit: Circuit, chosen: list[tuple[str, int, str]]) -> Circuit:
    for section_name, place, key in chosen:
        attribute = SECTIONS[section_name].attribute
        parts = list(getattr(circuit, attribute))
        parts[place] = replace(parts[place], known_by={**parts[place].known_by, key: "guess"})
        circuit = replace(circuit, **{attribute: tuple(parts)})
    return circuit


@cache
def as_said(name: str) -> Report:
    """What the example says without further guesses."""
    return check(CIRCUITS[name], load_rulebook(CIRCUITS[name].job.rulebook))


@pytest.mark.parametrize("name", CIRCUITS)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_a_guess_only_opens_answers(name: str, data: st.DataObject) -> None:
    circuit, before = CIRCUITS[name], as_said(name)
    book = load_rulebook(circuit.job.rulebook)
    chosen = data.draw(st.lists(st.sampled_from(guessable(circuit)), max_size=6, unique=True))
    after = check(with_guesses(circuit, chosen), book)
    # The limit shown may be another one: that of the worst of what is possible now.
    sure: dict[tuple[str, str], set[Outcome]] = {}
    for finding in before.findings:
        sure.setdefault((finding.check, finding.subject), set()).add(finding.outcome)
    for finding in after.findings:
        outcomes = sure.get((finding.check, finding.subject), set())
        # where the guess alone is right, or wrong, a caution may follow; a pass or a failure never does
        assert finding.outcome in {*outcomes, Outcome.UNDETERMINED, Outcome.CAUTION}
        if finding.outcome is Outcome.UNDETERMINED and Outcome.UNDETERMINED not in outcomes:
            assert finding.needs
    assert after.verdict in (before.verdict, Verdict.UNDETERMINED)
    listed = {guess.key for guess in after.guesses}
    for section_name, place, key in chosen:
        part = getattr(circuit, SECTIONS[section_name].attribute)[place]
        assert f"{section_name}.{part.id}.{key}" in listed
