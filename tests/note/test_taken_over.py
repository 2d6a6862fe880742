"""What a part has from another one (``like``) is told on the note as such, and never what was found out on it."""

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.note.taken_over import taken_over
from circuitcheck.tables.rulebook import vocabulary

FILE = """
format = 1
[job]
title = "Two lights"
rulebook = "nec-2020"
[supply]
voltage = "120 V"
breaker = "15 A"
[[box]]
id = "attic"
origin = "existing"
[[cable]]
id = "feed"
from = "panel"
to = "attic"
origin = "existing"
[[light]]
id = "wall 1"
from = "attic"
power = "9 W"
cable = "14/2 NM-B with ground"
length = "12 ft"
volume = "18 in^3"
{}
"""
SECOND = """
[[light]]
id = "wall {}"
from = "wall 1"
like = "wall 1"
"""


def lines(*more):
    text = FILE.format("".join(SECOND.format(number) for number in more))
    return taken_over(read_circuit(text, "a.circuit.toml", vocabulary()))


def test_nothing_is_told_where_every_part_says_its_own():
    assert lines() == ()


def test_what_alike_parts_have_from_one_is_one_line():
    (told,) = lines(2, 3)
    assert told.startswith("“wall 2”, “wall 3” as “wall 1”: ")
    assert "rated power" in told
    assert "conductor size" in told
    assert "length" not in told
    assert "volume" not in told
