"""Resistance and reactance of conductors by hand.

NFPA 70, Chapter 9, Table 8 at 75 degC, ohm per 1000 ft: 14 AWG copper 3.07 solid and 3.14 stranded, aluminum 5.06 and
5.17; 4 AWG copper 0.308 stranded only. Table 9, ohm per 1000 ft: 14 AWG 0.058 in plastic and 0.073 in steel. IEC 60228:
2.5 mm^2 copper at most 7.41 ohm per km at 20 degC.
"""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.impedance import (
    Wire,
    cable_impedance,
    cable_resistance,
    conductor_impedance,
    in_steel,
    metal_is_worse,
    ohm_before_panel,
    resistance_share,
    steel_is_worse,
    strands_are_worse,
    thin_is_worse,
)
from tests.rules.build import FOOT, book, box, cable, circuit, supply

BOOK = book()
CASE = case_of(circuit(box("b"), cable("run", "panel", "b", length_m=100 * FOOT, conductor_temperature_c=75)), BOOK)
RUN = CASE.cables[0]
KILOFOOT = 1000 * FOOT


def ohm(size="14 AWG", material="copper", stranding="solid", kind="NM-B", celsius=75):
    found = conductor_impedance(CASE, Wire(size, material, stranding, celsius), kind)
    return None if found is None else found.ohm_per_m * KILOFOOT


@pytest.mark.parametrize(
    ("given", "resistance"),
    [
        ({}, 3.07),
        ({"stranding": "stranded"}, 3.14),
        ({"material": "aluminum"}, 5.06),
        ({"material": "aluminum", "stranding": "stranded"}, 5.17),
        ({"size": "4 AWG"}, 0.308),  # solid stands nowhere: the stranded one counts
        ({"size": "4 AWG", "stranding": "stranded"}, 0.308),
        ({"celsius": 20}, 3.07 * (1 - 0.00323 * 55)),
        ({"material": "aluminum", "celsius": 20}, 5.06 * (1 - 0.00330 * 55)),
        ({"size": "2.5 mm^2"}, 7.41 * 0.3048 / (1 - 0.00323 * 55)),
    ],
)
def test_resistance(given, resistance):
    assert ohm(**given).real == pytest.approx(resistance, rel=1e-3)


def test_what_no_table_holds():
    assert ohm(size="2.5 mm^2", material="aluminum") is None
    assert ohm(size="21 AWG") is None


@pytest.mark.parametrize(
    ("given", "reactance"),
    [
        ({}, 0.058),
        ({"kind": "MC"}, 0.073),
        ({"kind": "AC"}, 0.073),
        ({"size": "18 AWG"}, 0.058),  # thinner than the table: its first row
        ({"size": "2.5 mm^2"}, 0.058),  # as 14 AWG
        ({"size": "4 mm^2"}, 0.054),  # as 12 AWG
        ({"size": "0.75 mm^2"}, 0.058),  # nothing stands in for it
        ({"size": "12 AWG", "kind": "MC"}, 0.068),
        ({"size": "500 kcmil", "stranding": "stranded"}, 0.039),
    ],
)
def test_reactance(given, reactance):
    assert ohm(**given).imag == pytest.approx(reactance, rel=1e-3)


def test_both_conductors_of_a_cable():
    assert cable_impedance(CASE, RUN).ohm == pytest.approx(0.2 * (3.07 + 0.058j), rel=1e-3)
    assert cable_resistance(CASE, RUN).ohm == pytest.approx(0.614, rel=1e-3)
    assert cable_impedance(CASE, RUN).sources


def test_a_source_for_another_temperature_only_where_there_is_one():
    plain = conductor_impedance(CASE, Wire("14 AWG", "copper", "solid", 75), "NM-B").sources
    cool = conductor_impedance(CASE, Wire("14 AWG", "copper", "solid", 20), "NM-B").sources
    assert len(cool) == len(plain) + 1


def test_aluminum_resists_more_than_copper_and_clad_between():
    share = resistance_share(BOOK, "14 AWG", "aluminum")[0]
    assert share == pytest.approx(5.17 / 3.14)
    assert 1 < resistance_share(BOOK, "14 AWG", "copper-clad aluminum")[0] < share + 0.05
    assert resistance_share(BOOK, "14 AWG", "copper")[0] == 1
    assert resistance_share(BOOK, "21 AWG", "copper") is None
    assert resistance_share(BOOK, "2.5 mm^2", "aluminum") is None


def test_which_way_is_worse():
    sizes = ("14 AWG", "12 AWG", "10 AWG")
    assert sorted(sizes, key=lambda size: thin_is_worse(size, RUN, CASE)) == ["10 AWG", "12 AWG", "14 AWG"]
    assert thin_is_worse("a size of no table", RUN, CASE) == 0.0
    metals = ("aluminum", "copper", "copper-clad aluminum")
    assert sorted(metals, key=lambda metal: metal_is_worse(metal, RUN, CASE)) == [
        "copper", "copper-clad aluminum", "aluminum",
    ]  # fmt: skip
    assert (strands_are_worse("stranded", RUN, CASE), strands_are_worse("solid", RUN, CASE)) == (True, False)
    kinds = ("NM-B", "UF-B", "MC", "AC")
    assert [steel_is_worse(kind, RUN, CASE) for kind in kinds] == [False, False, True, True]
    assert [in_steel(BOOK, kind) for kind in kinds] == [False, False, True, True]


@pytest.mark.parametrize(("given", "resists"), [(None, 0), (0.2, 0.2)])
def test_before_the_panel_nothing_counts_that_nobody_knows(given, resists):
    case = case_of(circuit(supply(impedance_ohm=given), box("b"), cable("run", "panel", "b")), BOOK)
    assert ohm_before_panel(case) == resists
