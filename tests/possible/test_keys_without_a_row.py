"""Every key of the file stands in ``tables/possible``, or here with the reason why it is never open."""

import pytest

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import CircuitFileError, TableError
from circuitcheck.possible import table
from circuitcheck.possible.table import declared
from circuitcheck.tables.rulebook import vocabulary

NAMED = "what joins parts and what a person calls them: no rule judges a name"
JOINED = "where a part hangs: without it there is no circuit to judge"
REASONS = {
    "job.title": "what the sheet is called: no rule reads it",
    "job.rulebook": "which book judges is a choice and no fact of the house",
    "supply.voltage": "every number rests on it; a range or a guess says how far it is known",
    "supply.breaker": "every limit rests on it; a range or a guess says how far it is known",
    **{f"{name}.id": NAMED for name, section in SECTIONS.items() if "id" in section.keys},
    **dict.fromkeys(("cable.from", "cable.to", "load.box", "driver.box", "control.box"), JOINED),
}
KEYS = {f"{name}.{key.name}": key for name, section in SECTIONS.items() for key in section.keys.values()}
LEAST = """format = 1
[job]
title = "Least"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
"""


def test_every_key_has_a_row_or_a_reason():
    assert KEYS.keys() - declared().keys() == REASONS.keys()


def test_a_row_says_what_the_entry_may_be_or_why_it_may_be_absent():
    for name, row in declared().items():
        assert row.may_be is not None or row.absent, name


def test_a_row_of_no_key_is_a_fault_of_the_table(tmp_path, monkeypatch):
    folder = tmp_path / "possible"
    folder.mkdir()
    (folder / "job.toml").write_text('[color]\nabsent = "nobody asks"\n')
    monkeypatch.setattr(table, "tables_folder", lambda: tmp_path)
    with pytest.raises(TableError, match="'color' is no key of job"):
        declared.__wrapped__()


@pytest.mark.parametrize("name", REASONS)
def test_what_has_no_row_has_to_be_written(name):
    # What is joined and named is read in tests/circuit; what stands once is left out here.
    key = KEYS[name]
    assert key.required
    section = name.partition(".")[0]
    if SECTIONS[section].many:
        assert key.form in (Form.ID, Form.REFERENCE)
        return
    without = "\n".join(line for line in LEAST.splitlines() if not line.startswith(f"{key.name} ="))
    read_circuit(LEAST, "least", vocabulary())
    with pytest.raises(CircuitFileError) as caught:
        read_circuit(without, "least", vocabulary())
    assert any(key.name in str(problem) for problem in caught.value.problems)
