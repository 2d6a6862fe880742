"""Row counts, column sums and single cells of the core tables, typed from the sources named here, not from our files.

The sums were added up from those sources' own rows.
"""

import math

import pytest

from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import editions, load_rulebook

# Chapter 9 Tables 8 and 9 (18 AWG to 500 kcmil, uncoated copper and aluminum), 310.15(B)(16), 314.16 and 402.5 as in
# the text of NFPA 70-2017; what changed since as in a transcription of NFPA 70-2023; metric conductors as in Locke,
# Guide to the Wiring Regulations (Wiley, 2008), Table 4.1.
SUMS = {
    ("conductors", "area"): 2_730_480,
    ("conductors", "copper_solid"): 19.634,
    ("conductors", "copper_stranded"): 22.0151,
    ("conductors", "aluminum_solid"): 32.35,
    ("conductors", "aluminum_stranded"): 36.2382,
    ("conductor-reactance", "nonmetallic"): 0.822,
    ("conductor-reactance", "steel"): 1.028,
    ("metric-conductors", "greatest_resistance"): 108.78,
    ("ampacity", "copper_60"): 2465,
    ("ampacity", "copper_75"): 2945,
    ("ampacity", "copper_90"): 3362,
    ("ampacity", "aluminum_60"): 1950,
    ("ampacity", "aluminum_75"): 2325,
    ("ampacity", "aluminum_90"): 2625,
    ("ambient-correction", "factor_60"): 9.17,
    ("ambient-correction", "factor_75"): 10.95,
    ("ambient-correction", "factor_90"): 12.85,
    ("conductor-count-adjustment", "factor"): 4.2,
    ("small-conductor-overcurrent", "copper"): 82,
    ("small-conductor-overcurrent", "aluminum"): 40,
    ("branch-circuit-conductors", "rating"): 165,
    ("box-volumes", "volume"): 434.6,
    ("box-volumes", "printed_cm3"): 7128,
    ("conductor-volume", "volume"): 18.0,
    ("conductor-volume", "printed_cm3"): 295.1,
    ("fixture-wire-ampacity", "ampacity"): 82,
    ("standard-overcurrent-ratings", "rating"): 1430,
}

ROWS = {
    "conductors": 20,
    "conductor-reactance": 18,
    "metric-conductors": 9,
    "metric-equivalents": 7,
    "ampacity": 20,
    "ambient-correction": 16,
    "conductor-count-adjustment": 7,
    "small-conductor-overcurrent": 5,
    "standard-overcurrent-ratings": 19,
    "branch-circuit-conductors": 6,
    "cable-types": 20,
    "box-volumes": 24,
    "conductor-volume": 7,
    "fixture-wire-ampacity": 5,
}


@pytest.mark.parametrize(("name", "count"), ROWS.items())
def test_the_newest_edition_has_every_row(name: str, count: int) -> None:
    assert len(load_rulebook("nec-2023").table(name).rows) == count


@pytest.mark.parametrize(("place", "total"), SUMS.items())
def test_a_column_adds_up_to_what_its_source_adds_up_to(place: tuple[str, str], total: float) -> None:
    name, column = place
    table = load_rulebook("nec-2023").table(name)
    unit = table.units[column]
    cells = [row.number(column) for row in table.rows]
    added = math.fsum(in_unit(cell, unit) if unit else cell for cell in cells if cell is not None)
    assert added == pytest.approx(total, rel=1e-9)


# Each cell: table, key, column, value, unit. Source beside it.
CELLS = [
    # text of NFPA 70-2017, Chapter 9, Table 8
    ("conductors", "16 AWG", "copper_stranded", 4.99, "ohm/kft"),
    ("conductors", "12 AWG", "copper_stranded", 1.98, "ohm/kft"),
    ("conductors", "12 AWG", "copper_solid", 1.93, "ohm/kft"),
    ("conductors", "10 AWG", "area", 10380, "cmil"),
    ("conductors", "14 AWG", "copper_solid", 3.07, "ohm/kft"),
    # printed page of Chapter 9 Table 9, scribd.com 481338126
    ("conductor-reactance", "14 AWG", "nonmetallic", 0.058, "ohm/kft"),
    ("conductor-reactance", "12 AWG", "steel", 0.068, "ohm/kft"),
    ("conductor-reactance", "10 AWG", "nonmetallic", 0.050, "ohm/kft"),
    # Locke, Guide to the Wiring Regulations (Wiley, 2008), Table 4.1, after BS 6360:1991
    ("metric-conductors", "1.5 mm^2", "greatest_resistance", 12.1, "ohm/km"),
    ("metric-conductors", "2.5 mm^2", "greatest_resistance", 7.41, "ohm/km"),
    ("metric-conductors", "16 mm^2", "greatest_resistance", 1.15, "ohm/km"),
    # 2018 IRC, Table E3705.1, page 742
    ("ampacity", "12 AWG", "copper_90", 30, "A"),
    ("ampacity", "14 AWG", "copper_90", 25, "A"),
    ("ampacity", "10 AWG", "copper_75", 35, "A"),
    ("ampacity", "12 AWG", "aluminum_60", 15, "A"),
    # a Mike Holt forum post, thread 2561303: 14 AWG NM-B still has 19 A at 130 degF, that is 25 A x 0.76
    ("ambient-correction", "55", "factor_90", 0.76, ""),
    # 2021 IRC E3705.2, as adopted in Colorado
    ("ambient-correction", "50", "factor_60", 0.58, ""),
    ("ambient-correction", "60", "factor_75", 0.58, ""),
    # EC&M quizzes: 7 to 9 conductors 70 %, 30 conductors 45 %
    ("conductor-count-adjustment", "9", "factor", 0.70, ""),
    ("conductor-count-adjustment", "30", "factor", 0.45, ""),
    ("conductor-count-adjustment", "6", "factor", 0.80, ""),
    # diy.stackexchange.com 169297, text of 240.4(D)(3) to (7)
    ("small-conductor-overcurrent", "14 AWG", "copper", 15, "A"),
    ("small-conductor-overcurrent", "12 AWG", "aluminum", 15, "A"),
    ("small-conductor-overcurrent", "10 AWG", "aluminum", 25, "A"),
    # text of NFPA 70-2017, Table 314.16(A)
    ("box-volumes", "4 x 1-1/2 octagon", "volume", 15.5, "in^3"),
    ("box-volumes", "4 x 1-1/2 square", "volume", 21.0, "in^3"),
    ("box-volumes", "3 x 2 x 3-1/2 device", "volume", 18.0, "in^3"),
    # text of NFPA 70-2017, Table 314.16(B)
    ("conductor-volume", "14 AWG", "volume", 2.0, "in^3"),
    ("conductor-volume", "12 AWG", "volume", 2.25, "in^3"),
    ("conductor-volume", "10 AWG", "volume", 2.5, "in^3"),
    # text of NFPA 70-2017, Table 402.5
    ("fixture-wire-ampacity", "12 AWG", "ampacity", 23, "A"),
]


@pytest.mark.parametrize(("name", "key", "column", "value", "unit"), CELLS)
def test_a_cell_is_what_a_source_prints(name: str, key: str, column: str, value: float, unit: str) -> None:
    for edition in editions("nec"):
        row = load_rulebook(edition).table(name).find(key)
        assert row is not None
        cell = row.number(column)
        assert cell is not None
        assert (in_unit(cell, unit) if unit else cell) == pytest.approx(value, rel=1e-12)


def test_branch_circuit_conductors_of_the_summary_table() -> None:
    """Table 210.24 of 2017: 15, 20, 30, 40, 50 A ask for 14, 12, 10, 8, 6 AWG; 10 A came in 2023 with 14 AWG."""
    for edition in editions("nec"):
        rows = load_rulebook(edition).table("branch-circuit-conductors").rows
        sizes = {row.key[0]: row.text("copper") for row in rows}
        assert sizes.pop("10", None) == ("14 AWG" if edition == "nec-2023" else None)
        assert sizes == {"15": "14 AWG", "20": "12 AWG", "30": "10 AWG", "40": "8 AWG", "50": "6 AWG"}


def test_ten_amperes_is_a_standard_breaker_rating_since_2023() -> None:
    """240.6(A): 10 A is a rating of fuses only before 2023 (California Electrical Code 2022)."""
    least = {
        edition: load_rulebook(edition).table("standard-overcurrent-ratings").rows[0].key for edition in editions("nec")
    }
    assert least == {"nec-2017": ("15",), "nec-2020": ("15",), "nec-2023": ("10",)}


def test_there_is_no_rating_of_75_amperes() -> None:
    """An exam set asks which is no standard rating; 75 A is the answer. The next one up from 71 A is 80 A."""
    for edition in editions("nec"):
        table = load_rulebook(edition).table("standard-overcurrent-ratings")
        assert table.find("75") is None
        found = table.first_at_least("rating", 71.0)
        assert found is not None
        assert found.key == ("80",)


def test_grounds_in_boxes_are_counted_anew_since_2020() -> None:
    """Mike Holt forum, threads 2566828 and 2568132: one for up to four, a quarter for each more, since 2020."""
    assert load_rulebook("nec-2017").find_value("box-fill-equipment-grounds-each-more") is None
    for edition in ("nec-2020", "nec-2023"):
        assert load_rulebook(edition).value("box-fill-equipment-grounds-each-more").number == 0.25
        assert load_rulebook(edition).value("box-fill-equipment-grounds-free-count").number == 4


def test_terminal_blocks_in_boxes_count_since_2023() -> None:
    """314.16(B)(6) stands in the text of NFPA 70-2023, not in that of the California Electrical Code 2022."""
    counted = [edition for edition in editions("nec") if load_rulebook(edition).find_value("box-fill-terminal-block")]
    assert counted == ["nec-2023"]


def test_cables_without_the_letter_b_stand_60_degrees() -> None:
    """InspectionNews thread 27015: 60 degC until the edition of 1984, NM-B 90 degC after; 334.80 holds both to 60."""
    for edition in editions("nec"):
        types = load_rulebook(edition).table("cable-types")
        old, new = types.find("NM"), types.find("NM-B")
        assert old is not None
        assert new is not None
        assert (old.number("insulation_temperature"), new.number("insulation_temperature")) == (60, 90)
        assert (old.number("ampacity_limit_temperature"), new.number("ampacity_limit_temperature")) == (60, 60)


def test_single_conductors_stand_what_the_table_of_insulations_says() -> None:
    """NFPA 70-2017, Table 310.104(A), read in a public copy: THHN 90, THWN 75, THWN-2 90, TW 60 degC."""
    printed = {"THHN": 90, "THWN": 75, "THWN-2": 90, "TW": 60}
    for edition in editions("nec"):
        types = load_rulebook(edition).table("cable-types")
        for letters, temperature in printed.items():
            row = types.find(f"{letters} in raceway")
            assert row is not None
            assert row.number("insulation_temperature") == temperature


def test_single_conductors_go_where_310_10_lets_them() -> None:
    """NFPA 70-2017, 310.10(B), (C): all four in damp places; in wet places all but THHN."""
    for edition in editions("nec"):
        places = load_rulebook(edition).table("cable-places")
        found = {}
        for letters in ("THHN", "THWN", "THWN-2", "TW"):
            row = places.find(f"{letters} in raceway")
            assert row is not None
            found[letters] = (row.text("damp"), row.text("wet"), row.text("buried"))
        assert found.pop("THHN") == ("yes", "no", "no")
        assert set(found.values()) == {("yes", "yes", "yes")}
