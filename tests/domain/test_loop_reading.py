"""Readings on simulated circuits: the loop's true resistance lies between the ends that the program states.

The circuit is solved by numpy as a network of conductances, which shares nothing with the program. The readings are
noisy: each is off by a normal error of 0.72 V, so that two are off by at most 2 V together 19 times in 20
(1.96 x 0.72 x sqrt 2 = 2.0).
"""

import numpy as np

from circuitcheck.domain.loop_reading import loop_resistance
from circuitcheck.possible.measured import longest_by_reading
from tests.rules.build import FOOT, book, box, cable, circuit, supply

SIGMA_V = 0.72
READINGS = 2000


def voltages(source_v, ohms, loads_ohm):
    """Volts across each node of a chain: ``ohms`` lie before the nodes, ``loads_ohm`` across them (inf: nothing)."""
    count = len(ohms)
    matrix, flow = np.zeros((count, count)), np.zeros(count)
    for place, ohm in enumerate(ohms):
        matrix[place, place] += 1 / ohm + 1 / loads_ohm[place]
        if place:
            matrix[place - 1, place - 1] += 1 / ohm
            matrix[place - 1, place] -= 1 / ohm
            matrix[place, place - 1] -= 1 / ohm
        else:
            flow[0] += source_v / ohm
    return np.linalg.solve(matrix, flow)


def simulated(random, ohms):
    """The readings of a plug-in meter at the far end, without and with a heater of 12 ohm, and its amperes."""
    nothing = [np.inf] * len(ohms)
    unloaded = voltages(120.0, ohms, nothing)[-1]
    loaded = voltages(120.0, ohms, [*nothing[:-1], 12.0])[-1]
    return unloaded + random.normal(0, SIGMA_V), loaded + random.normal(0, SIGMA_V), loaded / 12.0


def test_the_true_resistance_is_inside_as_often_as_is_stated():
    random = np.random.default_rng(20261127)
    error = book().value("loaded-voltage-reading-error").number
    inside = 0
    for _ in range(READINGS):
        ohms = random.uniform(0.02, 0.4, size=random.integers(1, 6))
        unloaded, loaded, amperes = simulated(random, ohms)
        loop = loop_resistance(unloaded=unloaded, loaded=loaded, amperes=amperes, error=error)
        inside += loop.least <= ohms.sum() <= loop.most
    # 19 of 20 of 2,000 are 1,900; four standard deviations of that count are 39
    assert 1_900 - 39 <= inside <= 1_900 + 39


def test_the_true_length_is_never_longer_than_a_reading_allows():
    """The chain is a service, a cable of unknown length and joints; the readings are off by as much as is stated."""
    random = np.random.default_rng(7)
    rulebook = book()
    for _ in range(300):
        feet = random.uniform(5, 200)
        celsius = random.uniform(-20, 75)
        wire = feet * 2 * 3.07e-3 * (1 + 0.00323 * (celsius - 75))  # 14 AWG solid copper, Chapter 9, Table 8
        unloaded, loaded, amperes = simulated(random, np.array([random.uniform(0.02, 0.25), wire, 0.02]))
        off = np.clip(unloaded - loaded - (120 - 12 * amperes), -3, 3)  # 2 V of the meter, 1 V of drift
        there = cable("feed", "panel", "end", origin="existing", length_m=None)
        readings = {"measured_voltage_v": 120.0, "loaded_voltage_v": 12 * amperes - off, "loaded_current_a": amperes}
        built = circuit(supply(loaded_at="end", **readings), box("end"), there)
        most, _ = longest_by_reading(there, built, rulebook)
        assert feet <= most / FOOT


def test_the_ends_by_hand():
    """120 V and 116 V at 10 A, off by 2 V together: 0.4 ohm, between 0.2 and 0.6; never less than none."""
    assert loop_resistance(unloaded=120, loaded=116, amperes=10, error=2) == (0.4, 0.2, 0.6)
    assert loop_resistance(unloaded=120, loaded=119, amperes=10, error=2) == (0.1, 0.0, 0.3)
    assert loop_resistance(unloaded=120, loaded=121, amperes=10, error=2) == (-0.1, 0.0, 0.1)
    assert loop_resistance(unloaded=120, loaded=123, amperes=10, error=2) == (-0.3, 0.0, 0.0)
