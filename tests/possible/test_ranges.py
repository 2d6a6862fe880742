"""What a range of the file can be: of a breaker, the ratings that are made.

NFPA 70, 240.6(A): 15, 20, 25, 30, 35 A and so on; 10 A as a fuse, and from 2023 on as a breaker too.
"""

import pytest

from circuitcheck.possible.ranges import options_in_range
from tests.rules.build import between, book, exact, guess


@pytest.mark.parametrize(
    ("value", "ratings"),
    [
        (between(15.0, 20.0), (15.0, 20.0)),
        (between(15.0, 30.0), (15.0, 20.0, 25.0, 30.0)),
        (between(16.0, 24.0), (20.0,)),
        # None is made in between: then its ends are all that is known.
        (between(21.0, 24.0), (21.0, 24.0)),
        # About 20 A may be the rating below and the one above, however narrow a guess is.
        (guess(20.0), (15.0, 20.0, 25.0)),
        (guess(15.0), (10.0, 15.0, 20.0)),
        (guess(10.0), (10.0, 15.0)),
        # About 17 A is neither: 15 or 20 A.
        (guess(17.0), (15.0, 20.0)),
    ],
)
def test_a_breaker_has_one_of_the_ratings_that_are_made(value, ratings):
    possible = options_in_range("supply.breaker", value, book())
    assert possible.options == ratings
    assert bool(possible.assumed) == (len(ratings) > 1), "there is something to verify where it may be several"


def test_any_other_range_goes_from_end_to_end():
    assert options_in_range("cable.length", between(3.0, 20.0), book()) == ((3.0, 20.0), "", (), True, None, "", False)
    guessed = options_in_range("cable.length", guess(20.0), book())
    assert (guessed.options, bool(guessed.assumed)) == ((15.0, 25.0), True)


@pytest.mark.parametrize("kind", ["supply.breaker", "cable.length"])
def test_one_value_is_no_range(kind):
    assert options_in_range(kind, exact(15.0), book()) is None
