"""Supports every 4-1/2 ft and within 12 in of each box (334.30; IRC Table E3802.1 as printed by UpCodes)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cable_support import RULE
from tests.rules.build import EDITIONS, INCH, box, cable, circuit, findings


def outcomes(edition="nec-2023", **given):
    built = circuit(box("new", origin="added"), cable("run", "panel", "new", **given))
    return [finding.outcome for finding in findings(RULE, built, edition)]


@pytest.mark.parametrize("edition", EDITIONS)
def test_at_the_limits_it_passes(edition):
    assert outcomes(edition, support_spacing_m=54 * INCH, support_from_box_m=12 * INCH) == [Outcome.PASS, Outcome.PASS]


def test_over_the_limits_it_fails():
    assert outcomes(support_spacing_m=55 * INCH, support_from_box_m=13 * INCH) == [Outcome.FAIL, Outcome.FAIL]


def test_a_range_across_the_limit_cannot_tell():
    assert outcomes(support_spacing_m=(48 * INCH, 60 * INCH), support_from_box_m=8 * INCH)[0] is Outcome.UNDETERMINED


def test_nothing_said_is_a_reminder():
    assert outcomes() == [Outcome.CAUTION, Outcome.CAUTION]


def test_armored_and_existing_cable_say_nothing():
    assert outcomes(type="MC") == []
    assert outcomes(origin="existing") == []
