"""Supports every 4-1/2 ft (MC: 6 ft) and within 12 in of each box (334.30, 320.30, 330.30; IRC Table E3802.1)."""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.checking.judging import findings_of_rule
from circuitcheck.findings import Outcome
from circuitcheck.rules.site.cable_support import RULE
from tests.rules.build import EDITIONS, INCH, book, box, cable, circuit, device, findings, load


def outcomes(edition="nec-2023", *, run="through framing", **given):
    """Of a cable that is held; how it runs is asked first, since one that is fished may go without supports."""
    given["run"] = run
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


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("kind", "inches", "outcome"),
    [("AC", 54, Outcome.PASS), ("AC", 55, Outcome.FAIL), ("MC", 72, Outcome.PASS), ("MC", 73, Outcome.FAIL)],
)
def test_armored_cable_has_its_own_spacing(edition, kind, inches, outcome):
    """320.30(B): 4-1/2 ft; 330.30(B): 6 ft."""
    given = {"support_spacing_m": inches * INCH, "support_from_box_m": 12 * INCH}
    assert outcomes(edition, type=kind, **given) == [outcome, Outcome.PASS]


def test_a_single_gang_plastic_box_without_clamps_wants_the_staple_closer():
    """314.17(B)(2) exception of 2023, (C) before: within 8 in."""
    plain = {"material": "nonmetallic", "internal_clamps": False, "volume_m3": 1e-4}
    built = circuit(
        box("new", origin="added", devices=(device(),), **plain),
        cable("run", "panel", "new", run="on a surface", support_spacing_m=1.0, support_from_box_m=9 * INCH),
    )
    assert [finding.outcome for finding in findings(RULE, built)] == [Outcome.PASS, Outcome.FAIL]


def test_too_far_apart_may_do_where_it_is_fished():
    """334.30(B)(1): fished cable may go without supports; how it runs is asked for, and settles it."""
    built = circuit(box("new", origin="added"), cable("run", "panel", "new", run=None, support_spacing_m=55 * INCH))
    spacing = findings(RULE, built)[0]
    assert (spacing.outcome, spacing.needs) == (Outcome.UNDETERMINED, ("cable.run.run",))


def test_fished_cable_may_go_without():
    assert outcomes(run="fished") == [Outcome.PASS]


def test_raceways_and_existing_cable_say_nothing():
    assert outcomes(type="THHN in raceway") == []
    assert outcomes(run="in raceway") == []
    assert outcomes(origin="existing") == []


@pytest.mark.parametrize(
    ("given", "need"),
    [
        ({"material": "nonmetallic", "internal_clamps": None}, "box.b.internal_clamps"),
        ({"material": None, "internal_clamps": False}, "box.b.material"),
    ],
)
def test_a_box_that_may_be_without_clamps_is_looked_at_where_it_decides(given, need):
    # 314.17(C): 8 in at a single-gang plastic box without clamps (Centerville ordinance, old 370-7(c)); else 12 in.
    def judged(inches):
        run = cable("c", "panel", "b", origin="added", run="on a surface", support_from_box_m=inches * INCH)
        built = circuit(box("b", devices=(device(),), **given), run)
        return findings(RULE, built)[1]

    assert judged(7).outcome is Outcome.PASS
    assert (judged(10).outcome, judged(10).needs) == (Outcome.UNDETERMINED, (need,))
    assert judged(13).outcome is Outcome.FAIL


@pytest.mark.parametrize("run", ["on a surface", "along framing", "fished"])
def test_an_old_open_run_that_the_work_uses_is_asked_about(run):
    """334.30: what can be seen is held; an old run inside a wall is let be."""
    lamp = load("lamp", "new", power_w=9, origin="added")
    for concealed, outcome in ((False, [Outcome.UNDETERMINED] * 2), (True, [])):
        old = cable("run", "panel", "new", origin="existing", run=run, concealed=concealed)
        assert [each.outcome for each in findings(RULE, circuit(box("new"), old, lamp))] == outcome


def test_the_sentences_and_the_entries_that_decide():
    """334.30: 54 in between supports, 12 in from a box; 314.17(B)(2) exception: 8 in."""

    def told(**given):
        built = circuit(
            box("new", origin="added", **given),
            cable("run", "panel", "new", run="on a surface", support_spacing_m=50 * INCH, support_from_box_m=9 * INCH),
        )
        return findings(RULE, built)

    spacing, from_box = told()
    assert spacing.says == 'Cable "run" has 50 in between supports; at most 54 in is allowed.'
    assert from_box.says == 'Cable "run" has 9 in from each box to the first support; at most 12 in is allowed.'
    assert (spacing.keys, from_box.keys) == (("cable.run.support_spacing",), ("cable.run.support_from_box",))
    assert (spacing.value, spacing.limit, from_box.limit) == pytest.approx((50, 54, 12))
    small = {"material": "nonmetallic", "internal_clamps": False, "volume_m3": 1e-4}
    one = told(devices=(device(),), **small)[1]
    assert one.says == (
        'Cable "run" has 9 in from a single-gang plastic box without clamps to the first support; at most 8 in is '
        "allowed."
    )
    for other in (
        {"devices": (device(), device()), **small},
        {"devices": (device(gangs=2),), **small},
        {"devices": (), **small},
        {"devices": (device(),), **small, "material": "metal"},
        {"devices": (device(),), **small, "internal_clamps": True},
    ):
        assert told(**other)[1].limit == pytest.approx(12)


@pytest.mark.parametrize(
    ("run", "said"),
    [("fished", [Outcome.PASS]), ("in raceway", []), ("buried", []), ("along framing", [Outcome.PASS] * 2)],
)
def test_what_needs_no_support_is_told_once_at_most(run, said):
    assert outcomes(run=run, support_spacing_m=1.0, support_from_box_m=0.2) == said


def test_each_distance_is_asked_by_itself():
    """An old open cable of unknown origin: what is asked near a box is not how far apart the other staples are."""
    given = {"origin": None, "run": "on a surface", "concealed": False}
    spacing = {"support_spacing_m": (48 * INCH, 60 * INCH)}
    from_box = {"support_from_box_m": (10 * INCH, 14 * INCH)}
    built = circuit(box("new", origin="added"), cable("run", "panel", "new", **given, **spacing, **from_box))
    between, near = findings(RULE, built)
    assert ("cable.run.support_spacing" in between.needs, "cable.run.support_from_box" in between.needs) == (
        True,
        False,
    )
    assert ("cable.run.support_spacing" in near.needs, "cable.run.support_from_box" in near.needs) == (False, True)
    assert (between.low, between.high, near.low, near.high) == pytest.approx((48, 60, 10, 14))


def test_where_armored_cable_is_held_closer_no_kind_is_worse_for_both_distances():
    """A book that holds armored cable every 40 in: of an unknown kind 50 in is open by it, and 10 in from a plastic box
    without clamps by nonmetallic cable (8 in, 314.17(B)(2)).
    """
    plain = book()
    armored = replace(plain.value("armored-cable-support-spacing"), number=40 * INCH)
    other = replace(plain, values={**plain.values, "armored-cable-support-spacing": armored})
    plastic = box("new", origin="added", material="nonmetallic", internal_clamps=False, devices=(device(),))
    run = cable(
        "run", "panel", "new", type=None, run="through framing",
        support_spacing_m=50 * INCH, support_from_box_m=10 * INCH,
    )  # fmt: skip
    for judged_by, limits in ((plain, [8]), (other, [40, 8])):
        found = [*findings_of_rule(RULE, case_of(circuit(plastic, run), judged_by))]
        assert [each.outcome for each in found] == [Outcome.UNDETERMINED] * len(limits)
        assert [each.limit for each in found] == pytest.approx(limits)
