"""What a driver draws from the branch circuit, against worked examples."""

import pytest

from circuitcheck.circuit.model import Driver, Supply
from circuitcheck.findings import Source, Status
from circuitcheck.quantities import Interval
from circuitcheck.rules.driver_draw import DRIVER_DRAW_USES, driver_draw
from circuitcheck.tables.rulebook import Rulebook, Value


def exact(value):
    return Interval(value, value)


SUPPLY = Supply(voltage_v=exact(120), breaker_a=exact(15))


@pytest.fixture
def book():
    source = Source("a document", "an edition", "a place", Status.COMMON_PRACTICE)

    def value(name, number):
        return Value(name=name, number=number, unit="", text="", items=(), source=source)

    values = {name: value(name, 1.0) for name in ("driver-counted-by-input-rating",)}
    values["unknown-power-factor"] = value("unknown-power-factor", 0.5)
    values["unknown-driver-efficiency"] = value("unknown-driver-efficiency", 0.7)
    return Rulebook(edition="test", title="test", tables={}, values=values)


def test_the_ampere_rating_counts_not_the_watts_of_the_lamp(book):
    # A lamp of 14 W marked 120 V, 0.200 A counts as 24 VA, power factor 14/24 = 0.58: the ampere rating
    # counts, not the watts of the lamp (NFPA 70-2017, 220.18(B)).
    draw = driver_draw(
        Driver(id="d", box="b", output_power_w=exact(14), input_power_w=exact(14), input_current_a=exact(0.2)),
        SUPPLY,
        book,
    )
    assert (draw.low_va, draw.high_va) == pytest.approx((24, 24))
    assert (draw.low_w, draw.high_w) == pytest.approx((14, 14))
    assert draw.assumed == draw.needs == ()


def test_output_power_with_efficiency_and_power_factor(book):
    # 60 W / 0.86 = 69.8 W in; 69.8 W / 0.92 = 75.8 VA: division by hand.
    driver = Driver(id="d", box="b", output_power_w=exact(60), efficiency=exact(0.86), power_factor=exact(0.92))
    draw = driver_draw(driver, SUPPLY, book)
    assert draw.high_w == pytest.approx(69.77, abs=0.005)
    assert draw.high_va == pytest.approx(75.83, abs=0.005)
    assert draw.low_va == draw.high_va


def test_only_amperes_leave_the_watts_between_two_power_factors(book):
    draw = driver_draw(Driver(id="d", box="b", input_current_a=exact(0.7)), SUPPLY, book)
    assert (draw.low_va, draw.high_va) == pytest.approx((84, 84))
    assert (draw.low_w, draw.high_w) == pytest.approx((42, 84))
    assert draw.assumed_keys == ("driver.d.power_factor",)


def test_only_the_output_rating_takes_the_worst_of_the_table_and_says_so(book):
    draw = driver_draw(Driver(id="d", box="b", output_power_w=exact(60)), SUPPLY, book)
    assert draw.low_w == draw.low_va == 60
    assert draw.high_w == pytest.approx(85.71, abs=0.005)
    assert draw.high_va == pytest.approx(171.4, abs=0.05)
    assert set(draw.assumed_keys) == {"driver.d.efficiency", "driver.d.power_factor"}
    assert len(draw.assumed) == 2


def test_nothing_given_asks_for_the_label(book):
    draw = driver_draw(Driver(id="d", box="b"), SUPPLY, book)
    assert draw.low_va is draw.high_va is draw.low_w is draw.high_w is None
    assert draw.needs == ("driver.d.input_current",)


def test_an_efficiency_of_nothing_is_not_divided_by(book):
    draw = driver_draw(Driver(id="d", box="b", output_power_w=exact(60), efficiency=exact(0)), SUPPLY, book)
    assert draw.high_w == pytest.approx(85.71, abs=0.005)


def test_every_value_it_reads_is_named(book):
    assert {name.removeprefix("value:") for name in DRIVER_DRAW_USES} == set(book.values)
