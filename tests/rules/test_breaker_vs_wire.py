"""Breaker against wire: what each conductor may have, by published statements."""

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.rules.capacity.breaker_vs_wire import RULE
from tests.rules.build import EDITIONS, book, box, cable, circuit, findings, load, only, supply


def judged(breaker, edition="nec-2023", parts=(), device="breaker", **given):
    built = circuit(box("b"), cable("c", "panel", "b", **given), supply(breaker_a=breaker, device=device), *parts)
    return only(RULE, built, "c", edition)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("size", "material", "most"),
    [
        # 240.4(D), text of 2020: 15, 20, 30 A for copper 14, 12, 10; 15 and 25 A for aluminum 12 and 10
        ("14 AWG", "copper", 15),
        ("12 AWG", "copper", 20),
        ("10 AWG", "copper", 30),
        ("12 AWG", "aluminum", 15),
        ("10 AWG", "aluminum", 25),
        ("12 AWG", "copper-clad aluminum", 15),
        # 2018 IRC Table E3705.1, 60 degC column: 8 AWG copper 40 A; 6 AWG 55 A, rounded up to 60 A (240.4(B), 240.6)
        ("8 AWG", "copper", 40),
        ("6 AWG", "copper", 60),
        ("6 AWG", "aluminum", 40),
    ],
)
def test_most_that_a_conductor_may_have(edition, size, material, most):
    within = judged(most, edition, size=size, material=material)
    assert within.limit == pytest.approx(most)
    assert within.outcome is Outcome.PASS
    over = judged(most + 5, edition, size=size, material=material)
    assert (over.value, over.limit) == (most + 5, pytest.approx(most))
    assert over.outcome is Outcome.FAIL
    assert "one thinner piece anywhere decides" in over.says


def test_warm_terminals_change_no_small_conductor():
    # 240.4(D)(7): 30 A for 10 AWG copper, whatever its column gives (35 A at 75 degC)
    warm = circuit(
        box("b"),
        cable("c", "panel", "b", size="10 AWG", type="THWN in raceway"),
        supply(breaker_a=35, terminals_c=75),
    )
    assert only(RULE, warm, "c").limit == 30


def test_one_thin_piece_decides():
    # garagejournal.com/forum/goto/post?id=8683524: 12-2 to a junction box, 14-2 beyond: the breaker stays 15 A
    built = circuit(
        box("junction"),
        box("light"),
        cable("home run", "panel", "junction", size="12 AWG", origin="existing"),
        cable("switch leg", "junction", "light", size="14 AWG", origin="existing"),
        supply(breaker_a=20),
    )
    outcomes = {found.subject: found.outcome for found in findings(RULE, built)}
    assert outcomes == {"home run": Outcome.PASS, "switch leg": Outcome.FAIL}


def test_thicker_wire_on_a_smaller_breaker_is_fine():
    # forum.nachi.org/t/mixed-wiring/1681: 12 and 14 together on 15 A is right
    assert judged(15, size="12 AWG").outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
def test_too_thin_for_any_branch_circuit(edition):
    # up.codes 210.24 summary: 14 AWG is the least conductor of a 15 A circuit; 2023's 10 A circuits keep it
    for breaker in (10, 15):
        found = judged(breaker, edition, size="16 AWG")
        assert found.outcome is Outcome.FAIL
        assert found.limit == 0


def test_fourteen_in_aluminum_is_not_allowed():
    for material in ("aluminum", "copper-clad aluminum"):
        found = judged(15, size="14 AWG", material=material)
        assert (found.outcome, found.limit) == (Outcome.FAIL, 0)


def test_receptacles_forbid_rounding_up():
    outlets = load("outlets", "b", kind="receptacle", quantity=2, power_w=100)
    assert judged(60, size="6 AWG", parts=(outlets,)).outcome is Outcome.FAIL
    thing = load("thing", "b", kind=None, quantity=2, power_w=100)
    found = judged(60, size="6 AWG", parts=(thing,))
    assert found.outcome is Outcome.UNDETERMINED
    assert found.needs == ("load.thing.kind",)
    guessed = load("thing", "b", kind="light", known_by={"kind": "guess"}, quantity=2, power_w=100)
    found = judged(60, size="6 AWG", parts=(guessed,))
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("load.thing.kind",))


def test_type_decides_for_large_conductors():
    # 310.16, 6 AWG copper: 55 A at 60 degC and 65 A at 75 degC, so 60 A and 70 A; nobody said what cable it is
    unsure = judged(70, size="6 AWG", type=None, place=None, parts=(supply(breaker_a=70, terminals_c=75),))
    assert unsure.outcome is Outcome.UNDETERMINED
    assert unsure.needs == ("cable.c.type",)


class TestUnknown:
    def test_size(self):
        found = judged(15, size=None)
        assert found.outcome is Outcome.UNDETERMINED
        # nobody looked: it may be 16 AWG, which no branch circuit may have
        assert found.limit == 0
        assert found.needs == ("cable.c.size",)

    def test_material_is_aluminum_at_worst(self):
        found = judged(20, size="12 AWG", type="NM", material=None)
        assert (found.outcome, found.limit) == (Outcome.UNDETERMINED, 15)
        assert found.needs == ("cable.c.material",)
        decided = judged(15, size="12 AWG", type="NM", material=None)
        assert decided.outcome is Outcome.PASS
        assert decided.assumed_keys == ("cable.c.material",)

    def test_material_that_saves_nothing(self):
        assert judged(30, size="12 AWG", type="NM", material=None).outcome is Outcome.FAIL

    def test_breaker(self):
        found = judged((15, 20), size="14 AWG")
        assert found.outcome is Outcome.UNDETERMINED
        assert found.needs == ("supply.breaker",)

    def test_size_that_no_table_knows(self):
        assert judged(15, size="750 kcmil").needs == ("cable.c.size",)


def test_metric_goes_by_its_stand_in():
    # 2.5 mm^2 is thinner than 12 AWG (3.31 mm^2), so it may have what 14 AWG may
    assert judged(15, size="2.5 mm^2").outcome is Outcome.PASS
    assert judged(20, size="2.5 mm^2").outcome is Outcome.FAIL
    # 1.5 mm^2 is thinner than 14 AWG (2.08 mm^2)
    assert judged(15, size="1.5 mm^2").limit == 0


def test_fuses_have_words_of_their_own():
    # a 30 A screw-in fuse may sit on 14 AWG
    found = judged(30, device="fuse", size="14 AWG")
    assert found.outcome is Outcome.FAIL
    assert "30 A fuse" in found.says
    assert "socket" in " ".join(found.working)
    assert "fuse" in found.to_do[0]
    fine = judged(15, device="fuse", size="14 AWG")
    assert fine.outcome is Outcome.PASS
    assert "swap" in " ".join(fine.working)


def test_low_voltage_cables_are_another_rules():
    from tests.rules.build import driver, low_voltage_load

    built = circuit(
        box("b"),
        cable("c", "panel", "b"),
        driver("d", "b"),
        low_voltage_load("strip", power_w=20),
        cable("lead", "d", "strip", size="18 AWG", type="class 2 cable"),
    )
    assert [found.subject for found in findings(RULE, built)] == ["c"]


def test_sources_are_those_of_the_edition():
    for edition in EDITIONS:
        for found in findings(RULE, circuit(box("b"), cable("c", "panel", "b")), edition):
            assert {source.edition for source in found.sources} == {edition.removeprefix("nec-")}
    assert book("nec-2017") is not book("nec-2023")


def test_of_sizes_that_no_circuit_may_have_the_thickest_stands_for_all():
    """240.4(D), 210.24: 14 AWG of aluminum has no breaker, as 16 AWG of any metal; both settled ends are told."""
    unknown = judged(15, size=None, material=None)
    assert unknown.outcome is Outcome.UNDETERMINED
    assert next(iter(unknown.working)) == "at worst: 14 AWG aluminum is not allowed at all"
    copper = judged(15, size=None, material="copper")
    assert next(iter(copper.working)).startswith("at worst: 16 AWG is thinner than 14 AWG")
    assert copper.needs == ("cable.c.size",)


def test_whether_it_is_a_tap_is_asked_only_where_the_breaker_is_too_large():
    assert judged(20, size="14 AWG").ask == ("Is this piece a tap that the code allows, and for what?",)
    assert judged(15, size="14 AWG").ask == ()


def test_what_may_have_no_breaker_at_all_is_told_so():
    aluminum = judged(15, size="14 AWG", material="aluminum")
    assert aluminum.says == 'Cable "c": 14 AWG aluminum may not be used on a branch circuit at all.'
    assert "its 14 AWG may have at most 15 A" in judged(20, size="14 AWG").says


def test_the_table_of_ampacities_is_a_source_of_large_conductors_only():
    # 240.4(D) decides 14 AWG; 8 AWG goes by 310.16, without correction for air or for conductors alongside
    large = {source.place for source in judged(40, size="8 AWG", place="inside").sources}
    assert "Table 310.16" in large
    assert not any(place.startswith("Table 310.15") for place in large)
    assert {source.place for source in judged(15, size="14 AWG").sources} == {"240.4(D)"}
