"""What the file gives stays as it is written, but for the few entries of which an inference says more."""

import pytest

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.possible.entry import UNSETTLED
from circuitcheck.possible.inferences import ALSO_OF_GIVEN, INFERENCES
from circuitcheck.possible.table import declared
from circuitcheck.tables.rulebook import load_rulebook
from tests.generating.circuits import circuit_of, draw_document


def test_those_that_say_more_are_inferences():
    assert set(INFERENCES) >= ALSO_OF_GIVEN
    assert {row.infer for row in declared().values() if row.infer} >= ALSO_OF_GIVEN


@pytest.mark.parametrize("seed", range(12))
def test_no_other_inference_says_anything_of_an_entry_that_is_given(seed):
    """``case.making`` does not ask them then."""
    given = 0
    circuit = circuit_of(draw_document(f"given {seed}"))
    book = load_rulebook(circuit.job.rulebook)
    for name, section in SECTIONS.items():
        held = getattr(circuit, section.attribute)
        for part in held if section.many else (held,):
            for key in section.keys.values():
                row = declared().get(f"{name}.{key.name}")
                if row is None or row.infer in ("", *ALSO_OF_GIVEN) or getattr(part, key.attribute) is None:
                    continue
                given += 1
                answer = INFERENCES[row.infer](part, circuit, book)
                assert answer is None or answer is UNSETTLED, (name, key.name)
    assert given > 20
