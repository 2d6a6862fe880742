"""A strip fed at both ends may have a cable to each end; nothing else has two feeds."""

import pytest

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import CircuitFileError
from circuitcheck.tables.rulebook import vocabulary

FILE = """format = 1
[job]
title = "A lit shelf"
rulebook = "nec-2020"
[supply]
voltage = "120 V"
breaker = "15 A"
[[box]]
id = "attic"
[[cable]]
id = "feed"
from = "panel"
to = "attic"
[[driver]]
id = "driver"
box = "attic"
[[low_voltage_load]]
id = "strip"
{fed_from}
[[cable]]
id = "one"
from = "driver"
to = "strip"
[[cable]]
id = "two"
from = "{start}"
to = "strip"
{more}
"""


def read(fed_from='fed_from = "both ends"', start="driver", more=""):
    return read_circuit(FILE.format(fed_from=fed_from, start=start, more=more), "some.circuit.toml", vocabulary())


def test_two_cables_to_a_strip_fed_at_both_ends():
    assert [cable.id for cable in read().tree.low_voltage_cables] == ["one", "two"]


@pytest.mark.parametrize(
    "given",
    [
        {"fed_from": 'fed_from = "one end"'},
        {"fed_from": ""},
        {"start": "attic"},
        {"more": '[[cable]]\nid = "three"\nfrom = "driver"\nto = "strip"'},
    ],
)
def test_any_other_second_feed_is_refused(given):
    with pytest.raises(CircuitFileError) as caught:
        read(**given)
    assert any("both feed" in problem.says for problem in caught.value.problems)
