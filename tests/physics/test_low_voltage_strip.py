"""Strips and lamps behind a driver against closed forms and general solvers.

Sources: uniform load i r L^2/2 and, fed at both ends, i r L^2/8 (any text on distribution feeders with a uniform load,
e.g. Gonen, Electric Power Distribution Engineering); uniform conductance V/cosh(L sqrt(rg)) (the telegrapher's
equation at zero frequency, open end); constant power along a line through Dawson's integral (DLMF 7.2(ii)); maximum
power transfer V^2/4R; otherwise scipy.integrate.solve_bvp and scipy.optimize.root on the plain equations.
"""

import math
import random

import numpy as np
import pytest
import scipy  # loads what is used of it when it is used: not in every process that collects all tests
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.physics.low_voltage_network import DRIVER, Network, flow
from circuitcheck.physics.low_voltage_strip import (
    Feed,
    Lamp,
    Law,
    Place,
    Strip,
    add_lamp,
    add_strip,
    drawn_share,
    greatest_power_w,
    lowest_v,
)


def strip(law, *, power=40.0, volts=24.0, length=3.0, ohm=0.1, diodes=0.7):
    return Strip(law=law, power_w=power, rated_v=volts, length_m=length, resistance_ohm_per_m=ohm, diode_share=diodes)


def served(source, lead, the_strip, feed=Feed.ONE_END, **more):
    network = Network()
    place = add_strip(network, DRIVER, lead, the_strip, feed, **more)
    found = flow(network, source)
    return None if found is None else (lowest_v(place, found.voltage_v), found)


@pytest.mark.parametrize(("feed", "part"), [(Feed.ONE_END, 2), (Feed.BOTH_ENDS, 8), (Feed.MIDDLE, 8)])
def test_uniform_current_drops_i_r_l_squared(feed, part):
    i, r, length = 40 / 24 / 3.0, 0.1, 3.0
    low, found = served(24.0, 0.0, strip(Law.CURRENT), feed)
    assert 24.0 - low == pytest.approx(i * r * length**2 / part, rel=1e-9)
    assert found.current_a[0] == pytest.approx(40 / 24, rel=1e-12)


def test_uniform_current_adds_to_the_drop_of_the_lead():
    low, _ = served(24.0, 0.5, strip(Law.CURRENT))
    assert 24.0 - low == pytest.approx(40 / 24 * 0.5 + 40 / 24 / 3 * 0.1 * 9 / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("volts", "power", "length"), [(24.0, 40.0, 3.0), (24.0, 5000.0, 3.0), (12.0, 5000.0, 152.4), (1.0, 5000.0, 152.4)]
)
def test_a_strip_that_takes_all_near_its_feed_is_dark_at_its_end(volts, power, length):
    """A uniform line without an end takes what a resistance sqrt(r/g) would; far off nothing is left above the diodes.

    V - Vd at the feed is (V0 - Vd) / (1 + R tanh(L sqrt(rg)) sqrt(g/r)); at the end that over cosh(L sqrt(rg)).
    """
    r, lead, diodes = 0.0743, 0.02, 0.7 * volts
    g = power / volts / (volts - diodes) / length
    low, found = served(volts, lead, strip(Law.RESISTOR, power=power, volts=volts, length=length, ohm=r))
    angle = length * math.sqrt(r * g)
    near = (volts - diodes) / (1 + lead * math.tanh(angle) * math.sqrt(g / r))
    assert found.voltage_v[1] - diodes == pytest.approx(near, rel=1e-6)
    assert low - diodes == pytest.approx(near / math.cosh(min(angle, 300.0)), abs=1e-6)


def test_two_leads_of_nothing_are_a_feed_at_both_ends():
    low, _ = served(24.0, 0.0, strip(Law.CURRENT), Feed.BOTH_ENDS, return_ohm=0.0)
    assert 24.0 - low == pytest.approx(40 / 24 / 3 * 0.1 * 9 / 8, rel=1e-9)


@pytest.mark.parametrize("ohm", [0.01, 0.1, 1.0, 4.0])
def test_conductance_follows_the_hyperbolic_cosine(ohm):
    g = 40 / 24**2 / 3.0
    low, _ = served(24.0, 0.0, strip(Law.CONDUCTANCE, ohm=ohm))
    assert low == pytest.approx(24.0 / math.cosh(3.0 * math.sqrt(ohm * g)), rel=1e-10)


def test_resistor_strip_follows_the_hyperbolic_cosine_above_its_diodes():
    g = 40 / 24 / (24 - 0.7 * 24) / 3.0
    low, _ = served(24.0, 0.0, strip(Law.RESISTOR, ohm=0.3))
    assert low - 16.8 == pytest.approx((24.0 - 16.8) / math.cosh(3.0 * math.sqrt(0.3 * g)), rel=1e-9)


@pytest.mark.parametrize("share", [0.05, 0.2, 0.5, 0.9])
def test_constant_power_follows_dawsons_integral(share):
    # V'' = r p / V with V'(L) = 0: with V(0) = V(L) exp(s^2), L sqrt(r p / 2) / V(0) is Dawson's integral of s.
    s = share * 0.9241388730  # where Dawson's integral is greatest
    length, volts, ohm = 3.0, 24.0, 0.2
    power_per_m = 2.0 / ohm * (scipy.special.dawsn(s) * volts / length) ** 2
    low, _ = served(volts, 0.0, strip(Law.POWER, power=power_per_m * length, ohm=ohm))
    assert low == pytest.approx(volts * math.exp(-(s**2)), rel=2e-5 if share < 0.6 else 1e-3)


def test_constant_power_beyond_the_peak_of_dawsons_integral_cannot_be_served():
    length, volts, ohm = 3.0, 24.0, 0.2
    most = 2.0 / ohm * (scipy.special.dawsn(0.9241388730) * volts / length) ** 2 * length
    assert served(volts, 0.0, strip(Law.POWER, power=most * 1.01, ohm=ohm)) is None
    assert served(volts, 0.0, strip(Law.POWER, power=most * 0.99, ohm=ohm)) is not None


@pytest.mark.parametrize(("watts", "answer"), [(26.6, True), (26.7, False)])
def test_a_lamp_is_served_up_to_v_squared_over_four_r(watts, answer):
    # 12 V through 1.35 ohm (100 ft of 18 AWG at 30 degC, both conductors): at most 26.67 W.
    network = Network()
    add_lamp(network, DRIVER, 1.35, Lamp(law=Law.POWER, power_w=watts, rated_v=12.0, diode_share=0.0))
    assert (flow(network, 12.0) is not None) is answer
    assert greatest_power_w(12.0, 1.35) == pytest.approx(26.67, abs=0.005)
    assert greatest_power_w(12.0, 0.5) == pytest.approx(72)
    assert greatest_power_w(12.0, 0.0) == math.inf


def test_at_exactly_half_the_voltage_the_quadratic_has_its_double_root():
    network = Network()
    add_lamp(network, DRIVER, 1.0, Lamp(law=Law.POWER, power_w=35.0, rated_v=12.0, diode_share=0.0))
    # V^2 - 12 V + 35 = (V - 7)(V - 5): the lamp works at 7 V.
    assert flow(network, 12.0).voltage_v[1] == pytest.approx(7.0, rel=1e-9)


@pytest.mark.parametrize(("fall", "light"), [(0.03, 0.10), (0.05, 0.17), (0.10, 0.34), (0.20, 0.67)])
def test_resistor_strip_dims_as_a_circuit_simulation_of_three_diodes_says(fall, light):
    # ngspice, three white diodes (3.0 V at 20 mA) and 150 ohm on 12 V: current falls by these shares.
    assert 1.0 - drawn_share(1.0 - fall, 0.70) == pytest.approx(light, abs=0.01)


@pytest.mark.parametrize(("fall", "light"), [(0.03, 0.18), (0.10, 0.57)])
def test_resistor_strip_of_seven_diodes_on_24_v_dims_faster(fall, light):
    assert 1.0 - drawn_share(1.0 - fall, 0.83) == pytest.approx(light, abs=0.02)


def plain_current(law, volts, power, rated, diodes):
    """A lamp's current written out plainly, for numpy arrays."""
    if law is Law.POWER:
        return power / volts
    if law is Law.CURRENT:
        return power / rated + 0.0 * volts
    start = diodes * rated if law is Law.RESISTOR else 0.0
    return power / rated * np.maximum(0.0, (volts - start) / (rated - start))


@pytest.mark.parametrize("law", list(Law))
@pytest.mark.parametrize("feed", [Feed.ONE_END, Feed.BOTH_ENDS])
def test_strips_agree_with_a_boundary_value_solver(law, feed):
    dice = random.Random(f"{law} {feed}")
    for _ in range(6):
        volts = dice.choice([12.0, 24.0, 48.0])
        length = dice.uniform(1.0, 6.0)
        ohm = dice.uniform(0.02, 0.3)
        power = dice.uniform(0.05, 0.25) * volts**2 / (ohm * length + 0.5)
        leads = dice.uniform(0.01, 0.5), dice.uniform(0.01, 0.5)
        the_strip = strip(law, power=power, volts=volts, length=length, ohm=ohm)

        def slope(x, y, law=law, volts=volts, length=length, ohm=ohm, power=power):
            return np.vstack([-ohm * y[1], -plain_current(law, y[0], power / length, volts, 0.7)])

        def ends(a, b, volts=volts, leads=leads):
            near = a[0] - volts + leads[0] * a[1]
            return np.array([near, b[1] if feed is Feed.ONE_END else b[0] - volts - leads[1] * b[1]])

        x = np.linspace(0.0, length, 41)
        guess = np.vstack([np.full_like(x, volts), np.zeros_like(x)])
        reference = scipy.integrate.solve_bvp(slope, ends, x, guess, tol=1e-9, max_nodes=50_000)
        assert reference.success
        expected = reference.sol(np.linspace(0.0, length, 4001))[0].min()
        second = None if feed is Feed.ONE_END else leads[1]
        low, found = served(volts, leads[0], the_strip, feed, return_ohm=second)
        assert low == pytest.approx(expected, rel=3e-5)
        entering = reference.sol(0.0)[1] - (reference.sol(length)[1] if feed is Feed.BOTH_ENDS else 0.0)
        assert found.current_a[0] == pytest.approx(entering, rel=3e-4)


def test_a_cable_behind_a_middle_fed_strip_leaves_one_of_its_ends():
    # By hand: 2 A lamp behind one end. Half strip of 1.5 m at 0.1 ohm/m carries its own 1 A spread, and 2 A through.
    network = Network()
    place = add_strip(network, DRIVER, 0.0, strip(Law.CURRENT, power=48.0), Feed.MIDDLE, carries_on=True)
    add_lamp(network, place.onward, 0.0, Lamp(law=Law.CURRENT, power_w=48.0, rated_v=24.0, diode_share=0.0))
    found = flow(network, 24.0)
    assert 24.0 - lowest_v(place, found.voltage_v) == pytest.approx(0.15 * 1.0 / 2 + 0.15 * 2.0, rel=1e-9)
    assert found.current_a[0] == pytest.approx(4.0)


def random_tree(dice):
    volts = dice.choice([12.0, 24.0])
    network = Network()
    count = dice.randint(2, 12)
    lamps = []
    heavy = dice.choice([1.0, 1.0, 40.0])
    for _ in range(count):
        parent = dice.randrange(len(network.parent))
        law = dice.choice(list(Law))
        power = dice.uniform(0.5, 8.0)
        lead = dice.uniform(0.005, 0.12) * heavy
        add_lamp(network, parent, lead, Lamp(law=law, power_w=power, rated_v=volts, diode_share=0.7))
        lamps.append((parent, lead, law, power))
    return volts, network, lamps


def test_trees_of_mixed_lamps_agree_with_a_general_root_finder():
    unserved = 0
    for seed in range(80):
        volts, network, lamps = random_tree(random.Random(seed))

        def residual(v, volts=volts, lamps=lamps):
            nodes = np.concatenate([[volts], v])
            out = np.zeros(len(nodes))
            for node, (parent, lead, law, power) in enumerate(lamps, start=1):
                out[node] += (nodes[parent] - nodes[node]) / lead - plain_current(law, nodes[node], power, volts, 0.7)
                out[parent] -= (nodes[parent] - nodes[node]) / lead
            return out[1:]

        reference = scipy.optimize.root(residual, np.full(len(lamps), volts), method="hybr", tol=1e-12)
        solved = np.abs(reference.fun).max() < 1e-8
        found = flow(network, volts)
        assert (found is not None) == solved
        if found is None:
            unserved += 1
            continue
        assert found.voltage_v[1:] == pytest.approx(tuple(reference.x), rel=1e-8)
        used = sum(
            v * plain_current(law, v, power, volts, 0.7)
            for v, (_, _, law, power) in zip(found.voltage_v[1:], lamps, strict=True)
        )
        assert found.lost_w == pytest.approx(volts * found.current_a[0] - used, rel=1e-6, abs=1e-9)
    assert 5 <= unserved <= 75


def test_ten_thousand_lamps_in_one_chain_take_no_recursion():
    network = Network()
    node = DRIVER
    for _ in range(10_000):
        node = add_lamp(network, node, 1e-6, Lamp(law=Law.CURRENT, power_w=0.024, rated_v=24.0, diode_share=0.0)).onward
    # Uniform load along 0.01 ohm carrying 10 A at its head: 10 A x 0.01 ohm / 2, half a step aside.
    assert 24.0 - flow(network, 24.0).voltage_v[-1] == pytest.approx(0.05, rel=2e-4)


@settings(max_examples=60, deadline=None)
@given(
    law=st.sampled_from(list(Law)),
    feed=st.sampled_from(list(Feed)),
    lead=st.floats(0, 2),
    ohm=st.floats(0, 1),
    watts=st.floats(1, 80),
    more=st.floats(1, 2),
)
def test_more_resistance_or_more_lamp_never_raises_the_lowest_voltage(law, feed, lead, ohm, watts, more):
    def lowest(lead, ohm, watts):
        found = served(24.0, lead, strip(law, power=watts, ohm=ohm), feed)
        return 0.0 if found is None else found[0]

    here = lowest(lead, ohm, watts)
    assert lowest(lead * more, ohm, watts) <= here + 1e-6
    assert lowest(lead, ohm * more, watts) <= here + 1e-6
    assert lowest(lead, ohm, watts * more) <= here + 1e-6


@pytest.mark.parametrize("feed", list(Feed))
def test_a_strip_of_hardly_any_conductor_leaves_nothing_at_its_far_end(feed):
    # 100 kW along 152 m of 33 ohm/m at 1 V: V / cosh(L sqrt(rg)) is under e^-20,000 of the driver's volt.
    low, found = served(1.0, 0.0, strip(Law.CONDUCTANCE, power=1e5, volts=1.0, length=152.0, ohm=33.0), feed)
    assert low == pytest.approx(0.0, abs=1e-9)
    assert math.isfinite(found.lost_w)


def test_the_lowest_point_between_three_is_the_vertex_of_their_parabola():
    """Through (-1, 10), (0, 8) and (1, 9): 1.5 x^2 - 0.5 x + 8, lowest at 8 - 0.25 / 6."""
    assert lowest_v(Place((0, 1, 2), 2), (10.0, 8.0, 9.0)) == pytest.approx(8 - 0.25 / 6)
    assert lowest_v(Place((1, 2, 3, 4), 4), (1.0, 11.0, 10.0, 8.0, 9.0)) == pytest.approx(8 - 0.25 / 6)
    assert lowest_v(Place((0, 1, 2), 2), (10.0, 9.0, 8.0)) == 8
    assert lowest_v(Place((0, 1, 2), 2), (8.0, 9.0, 10.0)) == 8
    assert lowest_v(Place((0, 1, 2), 2), (8.0, 8.0, 8.0)) == 8
    assert lowest_v(Place((1,), 1), (9.0, 7.0)) == 7


@pytest.mark.parametrize(
    ("feed", "leads", "ohm"),
    # a strip of 0.3 ohm that draws next to nothing, and 2 A taken where a further cable leaves it
    [
        (Feed.ONE_END, (0.5, None), 0.5 + 0.3),
        (Feed.MIDDLE, (0.5, None), 0.5 + 0.15),
        (Feed.BOTH_ENDS, (0.5, None), 0.5),
        (Feed.BOTH_ENDS, (0.2, 0.6), 1 / (1 / 0.6 + 1 / (0.2 + 0.3))),
        (Feed.BOTH_ENDS, (0.6, 0.2), 1 / (1 / 0.2 + 1 / (0.6 + 0.3))),
        (Feed.BOTH_ENDS, (0.0, 0.5), 1 / (1 / 0.5 + 1 / 0.3)),
        (Feed.BOTH_ENDS, (0.5, 0.0), 0.0),
    ],
)
@pytest.mark.parametrize("law", [Law.CURRENT, Law.POWER])
def test_where_a_further_cable_leaves_a_strip(feed, leads, ohm, law):
    network = Network()
    lead, back = leads
    place = add_strip(network, DRIVER, lead, strip(law, power=1e-6), feed, return_ohm=back, carries_on=True)
    lamp = add_lamp(network, place.onward, 0.0, Lamp(law=Law.CURRENT, power_w=48.0, rated_v=24.0, diode_share=0.0))
    found = flow(network, 24.0)
    assert 24 - found.voltage_v[lamp.onward] == pytest.approx(2 * ohm, abs=1e-5)
    assert found.current_a[0] == pytest.approx(2, rel=1e-5)


def test_one_lead_of_nothing_and_one_with_resistance():
    """5/3 A spread over 0.3 ohm, one end at 24 V, the other behind 0.5 ohm: moments give it 0.15 / 0.8 of them."""
    network = Network()
    place = add_strip(network, DRIVER, 0.0, strip(Law.CURRENT), Feed.BOTH_ENDS, return_ohm=0.5)
    far = flow(network, 24.0).voltage_v[place.nodes[-1]]
    assert far == pytest.approx(24 - 0.5 * 40 / 24 * 0.15 / 0.8, rel=1e-9)
