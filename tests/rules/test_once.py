"""What is worked out once belongs to one circuit and one rulebook."""

from dataclasses import replace

from circuitcheck.rules.once import once
from tests.rules.build import book, box, cable, circuit, load


def test_a_result_is_kept_for_the_same_circuit_and_book_only():
    calls = []

    @once
    def count(given, rulebook):
        calls.append((given, rulebook))
        return len(calls)

    built = circuit(box("a"), cable("run", "panel", "a"), load("lamp", "a", power_w=60))
    first = book("nec-2023")
    assert [count(built, first), count(built, first)] == [1, 1]
    assert count(built, book("nec-2017")) == 2
    assert count(replace(built, loads=()), first) == 3
    assert count(built, first) == 4
    assert built == circuit(box("a"), cable("run", "panel", "a"), load("lamp", "a", power_w=60))
