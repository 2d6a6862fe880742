"""The report of the shelf example, its numbers worked by hand.

Strip: 9 ft x 4.4 W/ft = 39.6 W at 24 V, 1.65 A; with resistors its current follows the volts above 0.70 x 24 = 16.8 V:
1.65 / 7.2 = 0.2292 S. Fed in its middle, both halves side by side are 4.5 ft of 0.01 ohm/ft: sqrt(0.045 x 0.2292) =
0.1016, so the strip takes 0.2292 x tanh(0.1016) / 0.1016 = 0.2284 S and its ends lie cosh(0.1016) = 1.0052 times lower.
Cable: 2 x 22 ft of 16 AWG stranded, 4.99 ohm per 1000 ft (NFPA 70, Chapter 9, Table 8) = 0.2196 ohm.
Feed 16.8 + 7.2 / (1 + 0.2196 x 0.2284) = 23.656 V, ends 16.8 + 6.856 / 1.0052 = 23.621 V. What the driver and the cable
must be made for is what stands on the label of the strip, 39.6 W and 1.65 A, though at 23.6 V it draws a little less.
"""

import io
import json
from contextlib import redirect_stdout
from pathlib import Path

import pytest

from circuitcheck.cli.main import main

EXAMPLE = Path(__file__).parents[2] / "examples" / "shelf-strip.circuit.toml"


@pytest.fixture(scope="module")
def report():
    with redirect_stdout(io.StringIO()) as printed:
        assert main(["check", "--json", str(EXAMPLE)]) == 0
    return json.loads(printed.getvalue())


@pytest.mark.parametrize(
    ("check", "subject", "value", "limit", "unit"),
    [
        ("low-voltage-drop", "shelf strip", 23.621, 22, "V"),
        ("driver-capacity", "shelf driver", 39.6, 60, "W"),
        ("class-2", "shelf driver", 60, 100, "VA"),  # Chapter 9, Table 11(B): 100 VA over 20 V to 30 V
        ("driver-input", "shelf driver", 78, 1800, "VA"),  # 0.65 A x 120 V, on a breaker of 15 A x 120 V
        ("low-voltage-cable", "down to shelf", 1.65, 6, "A"),  # Table 402.5: 8 A, x 0.75 for 75 degC wire at 50 degC
        ("load-share", "circuit", 1.15, 15, "A"),  # 60 W / 120 V and 0.65 A
    ],
)
def test_the_numbers(report, check, subject, value, limit, unit):
    (found,) = [one for one in report["findings"] if (one["check"], one["subject"]) == (check, subject)]
    assert found["outcome"] == "pass"
    assert found["value"] == pytest.approx(value, rel=2e-4)
    assert found["limit"] == (None if limit is None else pytest.approx(limit))
    assert found["unit"] == unit


def test_it_fits_and_every_low_voltage_rule_that_applies_speaks(report):
    assert report["verdict"] == "fits"
    spoken = {one["check"] for one in report["findings"]}
    assert {"low-voltage-method", "driver-access"} <= spoken
    assert not {"driver-parallel", "class-2-separation", "driver-dimming"} & spoken
