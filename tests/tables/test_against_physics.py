"""The printed tables against what nature and geometry say: AWG diameters, the copper standard, the heat balance."""

import math

import pytest

from circuitcheck.tables.rulebook import Row, Table, editions, load_rulebook

INCH_M, FOOT_M = 0.0254, 0.3048
COPPER_OHM_M = 1 / 58e6  # IEC 60028: 58 MS/m at 20 degC
COPPER_PER_K = 0.00393  # IEC 60028
ALUMINUM_OHM_M = COPPER_OHM_M / 0.61  # 61 % of the copper standard (ASTM B233 asks for 61.0 to 61.8 %)
ALUMINUM_PER_K = 0.00403  # at 61 %: Industrial Power Engineering and Applications Handbook, page 970
LAY = 1.02  # ASTM B8 and B496: strands run 2 % longer than the conductor


def gauge_number(name: str) -> int:
    gauge = name.removesuffix(" AWG")
    return 1 - int(gauge.removesuffix("/0")) if gauge.endswith("/0") else int(gauge)


def gauge_area_m2(name: str) -> float:
    """ASTM B258: 36 AWG is 0.005 in, 4/0 is 0.46 in, 39 equal steps between."""
    diameter_m = 0.005 * 92 ** ((36 - gauge_number(name)) / 39) * INCH_M
    return math.pi / 4 * diameter_m**2


def gauges() -> list[Row]:
    return [row for row in load_rulebook("nec-2023").table("conductors").rows if row.key[0].endswith("AWG")]


@pytest.mark.parametrize("row", gauges(), ids=lambda row: row.key[0])
def test_areas_agree_with_the_gauge(row: Row) -> None:
    area = row.number("area")
    assert area == pytest.approx(gauge_area_m2(row.key[0]), rel=0.003)


@pytest.mark.parametrize("row", gauges(), ids=lambda row: row.key[0])
def test_resistances_agree_with_geometry_and_conductivity(row: Row) -> None:
    """Within 0.6 %: the table itself is printed to three digits (1.2148 as 1.21)."""
    area = gauge_area_m2(row.key[0])
    copper = COPPER_OHM_M * (1 + COPPER_PER_K * 55) / area
    aluminum = ALUMINUM_OHM_M * (1 + ALUMINUM_PER_K * 55) / area
    expected = {
        "copper_solid": copper,
        "copper_stranded": copper * LAY,
        "aluminum_solid": aluminum,
        "aluminum_stranded": aluminum * LAY,
    }
    for column, value in expected.items():
        cell = row.number(column)
        if cell is not None:
            assert cell == pytest.approx(value, rel=0.006), column


def test_kcmil_sizes_are_their_own_area() -> None:
    rows = [row for row in load_rulebook("nec-2023").table("conductors").rows if row.key[0].endswith("kcmil")]
    assert rows
    for row in rows:
        mils = float(row.key[0].removesuffix(" kcmil")) * 1000
        assert row.number("area") == pytest.approx(mils * math.pi / 4 * (INCH_M / 1000) ** 2, rel=1e-9)


def test_temperature_coefficients_are_those_at_20_degrees_carried_to_75() -> None:
    book = load_rulebook("nec-2023")
    copper = COPPER_PER_K / (1 + COPPER_PER_K * 55)
    aluminum = ALUMINUM_PER_K / (1 + ALUMINUM_PER_K * 55)
    assert book.value("copper-temperature-coefficient").number == pytest.approx(copper, abs=0.000005)
    assert book.value("aluminum-temperature-coefficient").number == pytest.approx(aluminum, abs=0.000005)


def correction_tables() -> list[Table]:
    return [load_rulebook(edition).table("ambient-correction") for edition in editions("nec")]


@pytest.mark.parametrize("rating", [60, 75, 90])
def test_correction_factors_are_the_equation_at_the_top_of_each_band(rating: int) -> None:
    """310.15(B): the square root of (Tc - Ta') over (Tc - Ta), Ta 30 degC, rounded to two decimals."""
    for table in correction_tables():
        for row in table.rows:
            top = row.number("up_to")
            assert top is not None
            factor = row.number(f"factor_{rating}")
            if top >= rating:
                assert factor is None
            else:
                assert factor == pytest.approx(math.sqrt((rating - top) / (rating - 30)), abs=0.0055)


def test_metric_limits_lie_a_few_percent_over_resistivity_by_nominal_area() -> None:
    """physical reading of IEC 60228: the limit allows a metal area 4 to 8 % under the nominal one."""
    for row in load_rulebook("nec-2023").table("metric-conductors").rows:
        nominal_m2 = float(row.key[0].removesuffix(" mm^2")) * 1e-6
        limit = row.number("greatest_resistance")
        assert limit is not None
        assert 1.03 < limit / (COPPER_OHM_M / nominal_m2) < 1.08


def test_the_awg_that_stands_in_for_a_metric_size_is_never_thicker_in_metal() -> None:
    book = load_rulebook("nec-2023")
    names = [row.key[0] for row in gauges()]
    resistance = {name: COPPER_OHM_M / gauge_area_m2(name) for name in names}
    for row in book.table("metric-equivalents").rows:
        metric = book.table("metric-conductors").find(*row.key)
        assert metric is not None
        limit = metric.number("greatest_resistance")
        assert limit is not None
        not_thicker = [name for name in names if resistance[name] >= limit]
        assert row.text("awg") == not_thicker[-1]
        assert resistance[names[names.index(not_thicker[-1]) + 1]] < limit


def test_every_metric_size_from_1_mm2_has_a_stand_in() -> None:
    book = load_rulebook("nec-2023")
    thick = [row.key for row in book.table("metric-conductors").rows if float(row.key[0].split()[0]) >= 1]
    assert [row.key for row in book.table("metric-equivalents").rows] == thick


@pytest.mark.parametrize("name", ["box-volumes", "conductor-volume"])
def test_both_printed_volumes_of_a_row_agree(name: str) -> None:
    """The book prints in^3 and cm^3 side by side; the latter is rounded, by up to 2 cm^3 for boxes."""
    for row in load_rulebook("nec-2023").table(name).rows:
        inches, centimetres = row.number("volume"), row.number("printed_cm3")
        assert inches is not None
        assert centimetres is not None
        assert abs(inches - centimetres) <= (2e-6 if name == "box-volumes" else 0.1e-6)


def test_box_volumes_hold_as_many_conductors_as_the_book_prints() -> None:
    """Table 314.16(A) prints how many 18, 14 and 12 AWG conductors each box takes (transcription of NFPA 70-2023)."""
    printed = {
        "4 x 1-1/4 octagon": (8, 6, 5),
        "4 x 1-1/2 octagon": (10, 7, 6),
        "4 x 2-1/8 octagon": (14, 10, 9),
        "4 x 1-1/4 square": (12, 9, 8),
        "4 x 1-1/2 square": (14, 10, 9),
        "4 x 2-1/8 square": (20, 15, 13),
        "4-11/16 x 1-1/4 square": (17, 12, 11),
        "4-11/16 x 1-1/2 square": (19, 14, 13),
        "4-11/16 x 2-1/8 square": (28, 21, 18),
        "3 x 2 x 1-1/2 device": (5, 3, 3),
        "3 x 2 x 2 device": (6, 5, 4),
        "3 x 2 x 2-1/4 device": (7, 5, 4),
        "3 x 2 x 2-1/2 device": (8, 6, 5),
        "3 x 2 x 2-3/4 device": (9, 7, 6),
        "3 x 2 x 3-1/2 device": (12, 9, 8),
        "4 x 2-1/8 x 1-1/2 device": (6, 5, 4),
        "4 x 2-1/8 x 1-7/8 device": (8, 6, 5),
        "4 x 2-1/8 x 2-1/8 device": (9, 7, 6),
        "3-3/4 x 2 x 2-1/2 masonry": (9, 7, 6),
        "3-3/4 x 2 x 3-1/2 masonry": (14, 10, 9),
        "FS 1-3/4 single": (9, 6, 6),
        "FD 2-3/8 single": (12, 9, 8),
        "FS 1-3/4 multiple": (12, 9, 8),
        "FD 2-3/8 multiple": (16, 12, 10),
    }
    book = load_rulebook("nec-2023")
    each = {row.key[0]: row.number("volume") for row in book.table("conductor-volume").rows}
    found = {}
    for row in book.table("box-volumes").rows:
        volume = row.number("volume")
        assert volume is not None
        found[row.key[0]] = tuple(int(volume / each[size] * (1 + 1e-9)) for size in ("18 AWG", "14 AWG", "12 AWG"))
    assert found == printed


def test_copper_clad_aluminum_conducts_a_little_less_than_its_metals_would() -> None:
    """Article 100 of NFPA 70-2017: at least 10 % of the area is copper, the rest aluminum at 61 %."""
    factor = load_rulebook("nec-2023").value("copper-clad-aluminum-resistance-factor").number
    assert 0.96 * 0.649 < 1 / factor < 0.649


def test_reactance_is_that_of_wires_as_far_apart_as_a_raceway_holds_them() -> None:
    """X = 60 Hz x mu0 x ln(GMD / GMR), GMR 0.7788 of the radius, diameters as Chapter 9 Table 8 prints them [in].

    The mean distance between the axes is more than one bare diameter (they would touch) and at most a few of them.
    """
    diameters = {"14 AWG": 0.064, "10 AWG": 0.102, "6 AWG": 0.184, "1 AWG": 0.332, "4/0 AWG": 0.528, "500 kcmil": 0.813}
    table = load_rulebook("nec-2023").table("conductor-reactance")
    for size, diameter in diameters.items():
        row = table.find(size)
        assert row is not None
        reactance = row.number("nonmetallic")
        assert reactance is not None
        distance = 0.7788 * diameter / 2 * math.exp(reactance / (60 * 4e-7 * math.pi))
        assert 1.5 < distance / diameter < 5


def test_a_steel_raceway_adds_a_quarter_to_the_reactance() -> None:
    """The steel around the wires multiplies their reactance by one factor, whatever the size."""
    for row in load_rulebook("nec-2023").table("conductor-reactance").rows:
        steel, plain = row.number("steel"), row.number("nonmetallic")
        assert steel is not None
        assert plain is not None
        assert steel / plain == pytest.approx(1.25, abs=0.03)
