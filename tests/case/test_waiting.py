"""What is open in a part is looked at when it is first asked for, once, whoever else asks meanwhile."""

from contextlib import contextmanager

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.case.waiting import entry_of, open_entries, twin_of
from tests.rules.build import book, box, cable, circuit, guess, load


@pytest.fixture
def lamp():
    lamps = load("lamp", "b", power_w=None, quantity=3)
    return case_of(circuit(box("b"), cable("run", "panel", "b"), lamps), book()).loads[0]


def overtaken(part, attribute, first):
    """Let somebody else ask between the first look and the lock, as another thread may."""
    reading = part.__dict__["_source"].reading
    lock = reading.lock

    @contextmanager
    def late():
        reading.lock = lock
        first.append(entry_of(part, attribute))
        with lock:
            yield

    reading.lock = late()


def test_of_an_entry_that_two_ask_for_at_once_there_is_one(lamp):
    first = []
    overtaken(lamp, "power_w", first)
    assert entry_of(lamp, "power_w") is first[0] is entry_of(lamp, "power_w") is not None


def test_what_is_settled_is_no_entry_and_is_not_looked_up_again(lamp):
    assert entry_of(lamp, "quantity") is None
    assert lamp.quantity == 3


def test_every_entry_is_open_or_settled(lamp):
    opened = open_entries(lamp)
    assert "power_w" in opened
    assert "quantity" not in opened
    assert all(entry_of(lamp, name) is entry for name, entry in opened.items())


def test_a_twin_knows_the_same_and_has_the_same_open(lamp):
    twin = twin_of(lamp)
    assert twin is not lamp
    assert (twin.id, twin.box, twin.quantity, twin.section) == ("lamp", "b", 3, "load")
    assert open_entries(twin) == open_entries(lamp)


def test_a_guess_is_open_however_narrow_and_a_number_is_settled():
    lamps = load("guessed", "b", power_w=guess(60)), load("read", "b", power_w=60)
    guessed, read = case_of(circuit(box("b"), cable("run", "panel", "b"), *lamps), book()).loads
    entry = entry_of(guessed, "power_w")
    assert entry is not None
    assert {min(entry.possible.options), max(entry.possible.options)} == {45.0, 75.0}
    assert entry_of(read, "power_w") is None
    assert read.power_w == 60.0
