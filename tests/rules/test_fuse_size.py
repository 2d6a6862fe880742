"""Screw-in fuses: Edison-base fuses of several ratings fit one base, Type S fuses do not (240.51 to 240.54)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.fuse_size import RULE
from tests.rules.build import circuit, findings, only, supply


@pytest.mark.parametrize(
    ("kind", "outcome"),
    [
        ("type S", Outcome.PASS),
        ("cartridge", Outcome.PASS),
        ("screw-in", Outcome.CAUTION),
        (None, Outcome.CAUTION),
    ],
)
def test_the_kind_of_fuse(kind, outcome):
    assert only(RULE, circuit(supply(device="fuse", fuse_type=kind)), "circuit").outcome is outcome


def test_a_breaker_says_nothing():
    assert findings(RULE, circuit(supply(device="breaker"))) == []


def test_an_unknown_kind_is_listed_as_assumed():
    found = only(RULE, circuit(supply(device="fuse", fuse_type=None)), "circuit")
    assert found.assumed_keys == ("supply.fuse_type",)


def test_whether_the_base_may_stay_is_asked_of_a_screw_in_fuse_alone():
    assert (
        "does an adapter go in?" in only(RULE, circuit(supply(device="fuse", fuse_type="screw-in")), "circuit").ask[0]
    )
    assert only(RULE, circuit(supply(device="fuse", fuse_type="type S")), "circuit").ask == ()
