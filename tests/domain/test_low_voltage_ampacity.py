"""What the conductors of a low-voltage cable may carry, by hand.

NFPA 70, Table 402.5: 18 AWG 6 A, 16 AWG 8 A. Table 310.15(B)(1): at 46 to 50 degC 0.58 for 60 degC insulation and 0.75
for 75. Table 310.15(C)(1): 4 to 6 conductors 0.80. Chapter 9, Table 8, stranded: 16 AWG 4.99 ohm per 1000 ft in copper.
"""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.domain.low_voltage_ampacity import factor_columns, has_figure, is_thin, low_voltage_ampacity
from tests.rules.build import EDITIONS, book, box, cable, circuit, driver, low_voltage_load, supply

BOOK = book()


def carries(size="18 AWG", **given):
    plain = {"type": "class 2 cable", "ambient_c": 30, "current_carrying": 2, "insulation_temperature_c": 60}
    built = circuit(
        supply(terminals_c=60), box("b"), cable("f", "panel", "b"), driver("d", "b"), low_voltage_load("l", power_w=9),
        cable("lead", "d", "l", size=size, stranding="stranded", **(plain | given)),
    )  # fmt: skip
    case = case_of(built, BOOK)
    return low_voltage_ampacity(case, case.tree.cable["lead"])


@pytest.mark.parametrize(
    ("size", "given", "amperes"),
    [
        ("18 AWG", {}, 6),
        ("16 AWG", {}, 8),
        ("16 AWG", {"ambient_c": 50}, 8 * 0.58),
        ("16 AWG", {"ambient_c": 50, "insulation_temperature_c": 75}, 8 * 0.75),
        ("16 AWG", {"current_carrying": 4}, 8 * 0.8),
        ("18 AWG", {"ambient_c": 50, "current_carrying": 6}, 6 * 0.58 * 0.8),
        ("18 AWG", {"ambient_c": 60}, 0),  # 60 degC insulation stands no such air
        ("14 AWG", {}, 15),  # as house wiring: Table 310.16 at 60 degC
        ("14 AWG", {"ambient_c": 50}, 15 * 0.58),
    ],
)
def test_by_hand(size, given, amperes):
    found = carries(size, **given)
    assert found.amperes == pytest.approx(amperes)
    assert found.sources


def test_the_working_has_every_step():
    lines = [str(line) for line in carries("16 AWG", ambient_c=50, current_carrying=4).working]
    assert lines[0] == "16 AWG as fixture wire: 8 A"
    assert lines[1].startswith("x 0.58 for air at 122 degF (50 degC)")
    assert lines[2].startswith("x 0.80 for 4 current-carrying conductors together")
    assert lines[-1] == "= 3.71 A"
    hot = [str(line) for line in carries("16 AWG", ambient_c=60).working]
    assert hot[1] == "air at 140 degF (60 degC): not allowed for this insulation, so 0 A"
    assert hot[-1] == "= 0 A"


def test_what_the_factors_stand_on_is_cited():
    places = {source.place for source in carries().sources}
    for name, band in (("ambient-correction", 30), ("conductor-count-adjustment", 2)):
        assert BOOK.table(name).band(band).source.place in places
    assert BOOK.table("fixture-wire-ampacity").find("18 AWG").source.place in places


def test_another_metal_carries_what_heats_it_as_much():
    # 16 AWG aluminum resists 1.64 times as much as copper (Chapter 9, Table 8: 8.21 and 4.99): 8 / sqrt(1.64) = 6.2 A
    found = carries("16 AWG", material="aluminum")
    assert found.amperes == pytest.approx(8 / (8.21 / 4.99) ** 0.5, rel=0.01)
    assert any("for aluminum: as much heat" in str(line) for line in found.working)


def test_a_size_that_no_table_holds():
    assert carries("21 AWG") is None


@pytest.mark.parametrize("material", ["copper", "copper-clad aluminum", "aluminum"])
def test_which_sizes_have_a_figure(material):
    """402.5 begins with 18 AWG, and no table has the resistance of metric aluminum, by which thin wire counts."""
    without = {"0.5 mm^2", "0.75 mm^2"} | ({"1 mm^2", "1.5 mm^2"} if material == "aluminum" else set())
    sizes = [row.key[0] for name in ("metric-conductors", "conductors") for row in BOOK.table(name).rows]
    assert {size for size in sizes if not has_figure(BOOK, size, material)} == without
    assert {size for size in sizes if carries(size, material=material) is None} == without
    assert all(carries(size, material=material, ambient_c=60).amperes == 0 for size in without)


def test_thin_is_what_house_wiring_does_not_have():
    sizes = ("18 AWG", "16 AWG", "14 AWG", "12 AWG", "a size of no table")
    for edition in EDITIONS:
        assert [is_thin(book(edition), size) for size in sizes] == [True, True, False, False, True]
    assert factor_columns(BOOK) == (60, 75, 90)


def test_no_such_air_or_insulation():
    assert carries(ambient_c=200).amperes == 0
    assert carries(insulation_temperature_c=59).amperes == 0


def test_a_size_of_house_wiring_alone():
    # 1/0 AWG is no fixture wire: Table 310.16, 125 A at 60 degC
    assert carries("1/0 AWG").amperes == 125
