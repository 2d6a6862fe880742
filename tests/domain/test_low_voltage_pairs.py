"""Two cables to one strip, by hand: 16 AWG stranded copper has 4.99 ohm per 1000 ft, 14 AWG 3.14 (Table 8)."""

import pytest

from circuitcheck.case import EACH, MORE
from circuitcheck.case.making import case_of
from circuitcheck.case.waiting import open_entries
from circuitcheck.domain.low_voltage_pairs import even_lengths, of_a_pair
from tests.rules.build import FOOT, book, box, cable, circuit, driver, low_voltage_load


def lead(name, end="s", size="16 AWG", length=10, **given):
    plain = {"stranding": "stranded", "type": "class 2 cable", "conductor_temperature_c": 75}
    return cable(name, "d", end, size=size, length_m=length, **plain, **given)


def case_with(*leads, beyond=()):
    strip = {"kind": "constant current", "power_per_length_w_per_m": 8, "resistance_per_length_ohm_per_m": 0.05}
    lights = (
        low_voltage_load("s", fed_from="both ends", length_m=3, **strip),
        low_voltage_load("t", fed_from="one end", length_m=3, **strip),
    )
    case = case_of(circuit(box("a"), cable("f", "panel", "a"), driver("d", "a"), *lights, *leads, *beyond), book())
    return case, {part.id: part for part in (*case.cables, *case.low_voltage_loads)}


@pytest.mark.parametrize(
    ("sizes", "feet", "plain", "known", "one"),
    # which of the first cable, the second and the strip are tried at each value: plainly, with sizes known, with one
    [
        (("16 AWG", "14 AWG"), (10, 10), "12s", "12s", "12s"),
        ((None, "14 AWG"), (10, 10), "12s", "", "12s"),
        (("16 AWG", None), (10, 10), "12s", "", "12s"),
        ((None, None), (10, 10), "12s", "", "1"),  # the shorter of two, the first of two alike
        ((None, None), (10, 9), "12s", "", "2"),
        ((None, None), ((5, 9), (2, 10)), "12s", "", "1"),
    ],
)
def test_each_value_counts_for_two_unless_sizes_are_open(sizes, feet, plain, known, one):
    leads = [lead(name, size=size, length=length) for name, size, length in zip("12", sizes, feet, strict=True)]
    case, parts = case_with(*leads, lead("3", "t", None))
    for given, tried in (({}, plain), ({"of_known_size": True}, known), ({"of_one_size": True}, one)):
        direction = of_a_pair(MORE, **given)
        answers = {name: direction(7, part, case) for name, part in parts.items()}
        assert {name for name, answer in answers.items() if answer is EACH} == set(tried)
        assert {answer for answer in answers.values() if answer is not EACH} == {7}


def test_lengths_at_which_both_resist_as_much():
    # 50 ft of 14 AWG resist as much as 50 x 3.14 / 4.99 ft of 16 AWG, and the other way round
    case, parts = case_with(lead("1"), lead("2", size="14 AWG", length=50 * FOOT), lead("3", "t"))
    assert list(even_lengths(0, 100, parts["1"], case)) == [pytest.approx(50 * FOOT * 3.14 / 4.99, rel=1e-3)]
    assert list(even_lengths(0, 100, parts["2"], case)) == [pytest.approx(10 * 4.99 / 3.14, rel=1e-3)]
    assert list(even_lengths(10, 100, parts["1"], case)) == []
    assert list(even_lengths(0, 9, parts["1"], case)) == []
    assert list(even_lengths(0, 100, parts["3"], case)) == list(even_lengths(0, 100, parts["s"], case)) == []


def test_metals_that_nobody_knows_are_even_at_lengths_of_their_own():
    # copper-clad aluminum resists 1 / 0.629 times as much as copper: even with 10 ft of copper are 6.29 ft of it, with
    # 10 ft of it 15.9 ft of copper, and like with like at 10 ft
    case, parts = case_with(lead("1", material=None), lead("2"))
    assert list(even_lengths(9, 100, parts["1"], case)) == [pytest.approx(10)]
    assert list(even_lengths(0, 9, parts["1"], case)) == [pytest.approx(6.29, rel=1e-3)]
    assert list(even_lengths(9, 100, parts["2"], case)) == pytest.approx([10, 15.9], rel=1e-3)
    assert list(even_lengths(11, 100, parts["2"], case)) == [pytest.approx(15.9, rel=1e-3)]


def test_lights_that_hang_on_the_strip_load_the_lead_to_their_end():
    """24 W in the strip, 24 W in a lamp beyond: the second lead carries 36 W, three times what the first does."""
    on = cable("on", "s", "lamp", type="class 2 cable"), low_voltage_load("lamp", power_w=24, kind="resistor")
    case, parts = case_with(lead("1"), lead("2"), beyond=on)
    assert list(even_lengths(0, 100, parts["1"], case)) == [pytest.approx(30)]
    assert list(even_lengths(0, 100, parts["2"], case)) == [pytest.approx(10 / 3)]


def test_both_ends_of_what_the_other_may_be_count():
    case, parts = case_with(lead("1"), lead("2", length=(20, 40)))
    assert list(even_lengths(0, 100, parts["1"], case)) == pytest.approx([20, 40])
    assert list(even_lengths(20, 40, parts["1"], case)) == []


def test_a_conductor_that_no_table_holds_is_even_with_none():
    for sizes in (("21 AWG", "16 AWG"), ("16 AWG", "21 AWG")):
        case, parts = case_with(lead("1", size=sizes[0]), lead("2", size=sizes[1]))
        assert list(even_lengths(0, 100, parts["1"], case)) == []


def test_two_sizes_are_open_and_one_is_not():
    for sizes, tried in ((("16 AWG", "14 AWG"), False), (("16 AWG",), True)):
        case, parts = case_with(lead("1", size=None), lead("2"))
        entry = open_entries(parts["1"])["size"]
        entry.possible = entry.possible._replace(options=sizes)
        assert (of_a_pair(MORE, of_known_size=True)(7, parts["2"], case) is EACH) is tried
