"""Python looks for garbage between two keys, where there is much."""

import gc
import weakref

import pytest

from circuitcheck.ui.collecting import collect_all, collect_some


class Circle:
    """Something that only Python's collector lets go of."""

    def __init__(self) -> None:
        self.itself = self


@pytest.fixture
def by_hand():
    gc.collect()
    gc.disable()
    yield
    gc.enable()


def left_behind(count: int) -> weakref.ref[Circle]:
    circles = [Circle() for _ in range(count)]
    return weakref.ref(circles[0])


def test_much_is_collected_and_little_is_left_for_later(by_hand: None) -> None:
    little = left_behind(10)
    collect_some()
    assert little() is not None
    much = left_behind(20_000)
    collect_some()
    assert little() is None
    assert much() is None


def test_what_outlived_a_look_is_collected_a_few_looks_later(by_hand: None) -> None:
    kept = Circle()
    gone = weakref.ref(kept)
    for _ in range(2):
        left_behind(20_000)
        collect_some()
    del kept
    assert gone() is not None
    for _ in range(4):
        left_behind(20_000)
        collect_some()
    assert gone() is None


def test_all_is_collected(by_hand: None) -> None:
    gone = left_behind(1)
    collect_all()
    assert gone() is None
