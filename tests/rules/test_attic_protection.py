"""Guard strips in an attic by the kind of access (320.23 by way of 334.23)."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.site.attic_protection import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, only, site


def built(access=None, **given):
    return circuit(
        site(attic_access=access),
        box("new", origin="added"),
        cable("run", "panel", "new", **({"place": "attic"} | given)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    "given",
    [
        {"run": "along framing"},
        {"run": "through framing"},
        {"run": "across framing", "guard_strips": True},
        {"access": "hatch", "run": "across framing", "near_hatch": False},
    ],
)
def test_protected_routes_pass(edition, given):
    assert only(RULE, built(**given), "run", edition).outcome is Outcome.PASS


@pytest.mark.parametrize(
    "given",
    [
        {"access": "permanent stairs", "near_hatch": False},
        {"access": "permanent ladder"},
        {"access": "hatch", "near_hatch": True},
    ],
)
def test_bare_crossings_where_people_climb_in_fail(given):
    assert only(RULE, built(run="across framing", guard_strips=False, **given), "run").outcome is Outcome.FAIL


def test_a_pull_down_ladder_is_asked_about():
    found = only(RULE, built("pull-down ladder", run="across framing", guard_strips=False, near_hatch=False), "run")
    assert found.outcome is Outcome.CAUTION
    assert "pull-down ladder" in found.ask[0]


def test_how_one_gets_in_is_asked_where_the_cable_crosses_bare():
    found = only(RULE, built(run="across framing", guard_strips=False, near_hatch=False), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("site.attic_access",))
    assert only(RULE, built("none", run="across framing", guard_strips=False), "run").outcome is Outcome.PASS


def test_nothing_said_is_a_reminder():
    assert only(RULE, built(), "run").outcome is Outcome.CAUTION


def test_cable_elsewhere_says_nothing():
    assert findings(RULE, built(place="inside")) == []


def test_only_the_pull_down_ladder_is_asked_about_and_only_where_it_decides():
    bare = {"run": "across framing", "guard_strips": False}
    assert not only(RULE, built("pull-down ladder", run="along framing"), "run").ask
    assert not only(RULE, built("pull-down ladder", **bare, near_hatch=True), "run").ask
    assert not only(RULE, built("permanent stairs", **bare), "run").ask
    assert only(RULE, built("pull-down ladder", **bare, near_hatch=False), "run").ask


@pytest.mark.parametrize(("near", "word"), [(True, "yes"), (False, "no")])
def test_the_working_names_how_one_gets_in_and_how_the_cable_runs(near, word):
    found = only(RULE, built("hatch", run="across framing", guard_strips=False, near_hatch=near), "run")
    assert list(found.working) == ["access: hatch; run: across framing", f"near the hatch: {word}"]
