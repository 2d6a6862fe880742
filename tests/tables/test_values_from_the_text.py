"""Single values typed again from the text of NFPA 70-2017, the California Electrical Code 2022 (which is NFPA 70-2020)
and NFPA 70-2023, read in public copies; where they stand, by edition."""

import pytest

from circuitcheck.findings import Reading, Status
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import editions, load_rulebook

#: name, number as printed, unit, place in 2017, 2020 and 2023
NUMBERS = [
    ("dwelling-luminaire-voltage", 120, "V", ("210.6(A)", "210.6(A)", "210.6(A)")),
    ("largest-motor-factor", 1.25, "", ("220.18(A)", "220.18(A)", "220.11(A)")),
    ("space-heater-factor", 1.25, "", ("424.3(B)", "424.4(B)", "424.4(B)")),
    ("stair-switch-risers", 6, "", ("210.70(A)(2)", "210.70(A)(2)", "210.70(A)(2)")),
    ("low-voltage-wet-contact-ac", 15, "V", ("411.1", "411.1", "411.3")),
    ("low-voltage-wet-contact-dc", 30, "V", ("411.1", "411.1", "411.3")),
    ("shower-luminaire-height", 8 * 12, "in", ("410.10(D)", "410.10(D)(2)", "410.10(D)(2)")),
    ("bundling-length", 24, "in", ("310.15(B)(3)(a)", "310.15(C)(1)", "310.15(C)(1)")),
    ("class-2-most-power", 100, "VA", ("Chapter 9, Tables 11(A), 11(B)",) * 3),
    ("driver-counted-by-input-rating", None, "", ("220.18(B)", "220.18(B)", "220.11(B)")),
]


@pytest.mark.parametrize(("name", "printed", "unit", "places"), NUMBERS)
def test_a_number_is_what_the_text_prints_where_it_prints_it(
    name: str, printed: float | None, unit: str, places: tuple[str, str, str]
) -> None:
    for edition, place in zip(editions("nec"), places, strict=True):
        value = load_rulebook(edition).value(name)
        assert value.source.place == place
        if printed is not None:
            assert (in_unit(value.number, unit) if unit else value.number) == pytest.approx(printed, rel=1e-12)


def test_an_eighth_of_a_horsepower_in_watts() -> None:
    """1 hp = 550 ft lbf/s = 550 x 0.3048 m x 4.4482216 N/s = 745.70 W; an eighth is 93.21 W."""
    for edition in editions("nec"):
        value = load_rulebook(edition).value("small-motor-power")
        assert value.number == pytest.approx(550 * 0.3048 * 4.4482216 / 8, abs=0.05)
        assert value.source.status is Status.DERIVED


def test_heaters_are_called_continuous_in_2017_only() -> None:
    """424.3(B) of 2017 says continuous load; 424.4(B) of 2020 and 2023 asks 125 percent of the conductors."""
    statuses = [load_rulebook(edition).value("space-heater-continuous").source.status for edition in editions("nec")]
    assert statuses == [Status.PUBLISHED, Status.COMMON_PRACTICE, Status.COMMON_PRACTICE]


def test_arc_fault_extensions_by_edition() -> None:
    """210.12(D) of 2017: in any of the areas; of 2020, and 210.12(E) of 2023: for any of the areas, boxes left out."""
    books = [load_rulebook(edition) for edition in editions("nec")]
    assert [book.value("arc-fault-extension-wording").text for book in books] == ["in", "for", "for"]
    assert [book.value("arc-fault-length-without-boxes").yes for book in books] == [False, True, True]
    assert [book.value("arc-fault-short-extension-splices").yes for book in books] == [False, True, True]
    ratings = [book.value("arc-fault-circuit-ratings").items for book in books]
    assert ratings == [("15", "20"), ("15", "20"), ("10", "15", "20")]
    assert len({book.value("arc-fault-extension-ways").items for book in books}) == 2


def test_boxes_for_paddle_fans_by_edition() -> None:
    """314.27(C): 2017 where a spare switched conductor is brought; from 2020 in habitable rooms, with a second way."""
    books = [load_rulebook(edition) for edition in editions("nec")]
    assert "spare" in books[0].value("ceiling-box-for-fan-where").text
    assert [len(book.value("ceiling-box-for-fan-ways").items) for book in books] == [1, 2, 2]
    assert books[1].value("ceiling-box-for-fan-where").text == books[2].value("ceiling-box-for-fan-where").text
    assert "habitable" in books[1].value("ceiling-box-for-fan-where").text


def test_cable_under_joists() -> None:
    """334.15(C): not smaller than two 6 AWG or three 8 AWG conductors."""
    for edition in editions("nec"):
        book = load_rulebook(edition)
        assert book.value("cable-under-joists-two-conductors").text == "6 AWG"
        assert book.value("cable-under-joists-three-conductors").text == "8 AWG"


def test_underground_feeder_cable_indoors() -> None:
    """340.80: the ampacity of 60 degC conductors; 340.112: 90 degC insulation where it stands in for sheathed cable."""
    for edition in editions("nec"):
        book = load_rulebook(edition)
        assert (book.value("uf-b-ampacity-temperature").number, book.value("uf-b-insulation-indoors").number) == (
            60,
            90,
        )


def test_ten_ampere_circuits_came_in_2023() -> None:
    """210.23(A) and 210.18 exception 2 of 2023."""
    assert [load_rulebook(edition).find_value("ten-ampere-barred-loads") is None for edition in editions("nec")] == [
        True,
        True,
        False,
    ]


def test_a_neutral_at_the_switch_goes_by_the_circuit() -> None:
    """404.2(C): a general-purpose branch circuit serving the rooms; at most five switches by the exception."""
    for edition in editions("nec"):
        book = load_rulebook(edition)
        assert "branch circuit" in book.value("neutral-at-switch-goes-by").text
        assert book.value("neutral-at-switch-goes-by").source.read is Reading.FIRST_HAND
        assert book.value("electronic-switches-on-a-circuit").number == 5


def test_a_sound_loop_is_small_beside_what_heats_a_joint() -> None:
    """At 12 A the greatest service loop loses 3 V; 10 W in a joint are 10 / 12^2 = 0.07 ohm."""
    book = load_rulebook(editions("nec")[-1])
    least, most = book.value("service-loop-resistance-least").number, book.value("service-loop-resistance-most").number
    assert least < most
    assert 12 * most == pytest.approx(3.0)
    assert book.value("contact-resistance-most").number < 0.07


def test_light_of_a_filament_against_its_voltage() -> None:
    """5 percent less voltage: 1 - 0.95^3.4 = 0.16 of the light, a sixth."""
    exponent = load_rulebook(editions("nec")[-1]).value("incandescent-light-exponent").number
    assert 1 - 0.95**exponent == pytest.approx(1 / 6, abs=0.01)
