"""A fixed vocabulary, so that messages pinned here do not change when a table gains a row."""

import pytest

SIZES = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG", "1/0 AWG", "2.5 mm^2")

VOCABULARY = {
    "job.rulebook": ("nec-2017", "nec-2020", "nec-2023"),
    "box.trade_size": ("4 x 1-1/4 octagon", "4 x 1-1/2 octagon", "4 x 2-1/8 square"),
    "cable.type": ("NM-B", "NM", "UF-B", "AC", "MC", "THHN in raceway", "class 2 cable"),
    "size": SIZES,
}


@pytest.fixture(scope="session")
def vocabulary():
    return VOCABULARY
