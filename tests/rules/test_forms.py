"""What every rule of cases keeps to, whoever wrote it: it takes and returns known things; names are no text.

What it may import and ask for: ``test_what_a_rule_sees.py``.
"""

import inspect
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

from circuitcheck.case import Answer, Case, CaseRule, EvidenceRule, SizeRule, parts
from circuitcheck.case.making import case_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_file
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook, load_rulebook, vocabulary
from making import make_parts

ROOT = Path(__file__).parents[2]
CASE_RULES = [rule for rule in ALL_RULES if isinstance(rule, CaseRule)]
#: Types and fields that know of an end, an unknown, a guess.
UNKNOWING = ("Interval", "How", "Finding", "Unknown", "Guess", "Possible", "OpenEntry")
#: Where annotations name parts by a string.
NAMES = {**vars(parts), "Luminaire": parts.Load | parts.LowVoltageLoad}
BY_NAME = {"ids": lambda rule: rule.name}


def test_rules_about_entries_have_a_folder_of_their_own_and_all_others_are_of_cases():
    for rule in ALL_RULES:
        assert isinstance(rule, CaseRule | SizeRule | EvidenceRule)
        in_it = rule.module.startswith("circuitcheck.rules.evidence.")
        assert in_it == isinstance(rule, EvidenceRule), f"{rule.name} stands in {rule.module}"


def test_each_rule_has_a_place_of_its_own_in_a_report():
    ranks = [rule.rank for rule in ALL_RULES]
    assert len(set(ranks)) == len(ranks)
    assert all(rank % 5 == 0 for rank in ranks)


@pytest.mark.parametrize("rule", CASE_RULES, **BY_NAME)
def test_nothing_that_it_is_handed_or_returns_holds_an_unknown(rule):
    """By their types: a subject is a part of a case or made of such; an answer has no ends, needs or assumptions."""
    taken = list(get_type_hints(rule.answer, localns=NAMES).values())
    seen = set()
    while taken:
        kind = taken.pop()
        assert kind not in (Any, object), f"{rule.name} takes or returns anything"
        if isinstance(kind, type) and kind.__module__.startswith("circuitcheck.") and kind not in seen:
            seen.add(kind)
            assert kind.__name__ not in UNKNOWING, f"{rule.name} takes or returns {kind.__name__}"
            if not issubclass(kind, Case | Rulebook):
                taken.extend(get_type_hints(kind, localns=NAMES).values())
        taken.extend(get_args(kind))
    names = set(Answer._fields)
    assert names.isdisjoint({"low", "high", "needs", "assumed", "assumed_keys", "guesses"})


@pytest.mark.parametrize("rule", CASE_RULES, **BY_NAME)
def test_it_answers_with_an_answer_about_known_things(rule):
    returned = inspect.signature(rule.answer).return_annotation
    assert returned in ("Answer", "Answer | None"), f"{rule.name} returns {returned}"


def test_the_known_parts_are_made_from_the_keys_and_what_is_possible():
    assert make_parts.FILE.read_text("utf-8").split() == make_parts.text().split(), "run: python making/make_parts.py"


def renamed(circuit: Circuit, name) -> Circuit:
    """The circuit with every id changed, and every place that names it."""
    ids = [
        part.id
        for field in ("boxes", "cables", "loads", "drivers", "low_voltage_loads", "controls", "framing")
        for part in getattr(circuit, field)
    ]
    new = {old: name(old) for old in ids}
    links = ("id", "box", "from_id", "to_id", "switched_by", "with_id", "paralleled_with", "cable")

    def changed(part):
        given = {link: new.get(getattr(part, link), getattr(part, link)) for link in links if hasattr(part, link)}
        return replace(part, **given)

    return replace(
        circuit,
        **{
            field: tuple(map(changed, getattr(circuit, field)))
            for field in ("boxes", "cables", "loads", "drivers", "low_voltage_loads", "controls", "framing")
        },
    )


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.circuit.toml")), ids=lambda path: path.name)
def test_braces_in_a_name_are_text(path):
    """Names are filled in, never part of a template."""
    circuit = renamed(read_file(path, vocabulary()), lambda old: f"{{{old}}}{{0}}")
    book = load_rulebook(circuit.job.rulebook)
    case = case_of(circuit, book)
    for rule in CASE_RULES:
        for finding in findings_of_rule(rule, case):
            assert finding.says
            assert all(finding.working)
