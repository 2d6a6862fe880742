"""What the table of cable types says of a kind.

NFPA 70, 334.80 and 334.112: conductors of NM-B stand 90 degC. 340.80: UF-B goes by 60 degC. 250.118(8): the armor of
AC is an equipment ground; that of BX without a bonding strip is none. 400.12(1): no flexible cord as fixed wiring.
"""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from circuitcheck.domain.cable_kinds import (
    has_grounded_armor,
    insulation_c,
    insulation_of_kind_c,
    is_for_branch_circuits,
    is_for_low_voltage,
    is_nonmetallic,
    kind_of_cable,
)
from circuitcheck.errors import TableError
from circuitcheck.tables.rulebook import load_rulebook

BOOK = load_rulebook("nec-2020")


@pytest.mark.parametrize(
    ("kind", "nonmetallic", "branch", "low_voltage", "ground", "celsius"),
    [
        ("NM-B", True, True, False, False, 90),
        ("UF-B", True, True, False, False, 60),
        ("AC", False, True, False, True, 90),
        ("BX", False, False, False, False, 60),
        ("class 2 cable", True, False, True, False, 60),
        ("flexible cord", True, False, False, False, 60),
    ],
)
def test_of_a_kind(kind, nonmetallic, branch, low_voltage, ground, celsius):
    assert is_nonmetallic(BOOK, kind) is nonmetallic
    assert is_for_branch_circuits(BOOK, kind) is branch
    assert is_for_low_voltage(BOOK, kind) is low_voltage
    assert has_grounded_armor(BOOK, kind) is ground
    assert insulation_of_kind_c(BOOK, kind) == celsius
    assert kind_of_cable(BOOK, kind).key == (kind,)


def test_what_is_marked_on_the_conductors_counts_before_the_kind():
    def cable(marked):
        return SimpleNamespace(type="NM", insulation_temperature_c=marked)

    assert [insulation_c(BOOK, cable(marked)) for marked in (None, 75.0, 0.0)] == [60, 75, 0]


def test_a_kind_of_no_table_is_a_fault():
    with pytest.raises(TableError, match="no row string"):
        kind_of_cable(BOOK, "string")
