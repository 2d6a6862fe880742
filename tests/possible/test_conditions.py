"""What an unknown entry about the conditions of use can be."""

from dataclasses import replace

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.possible.inferences import UNSETTLED
from circuitcheck.possible.reading import inferred_of
from tests.rules.build import book, box, cable, circuit, driver, exact, load, site


def inferred(name, **given):
    built = circuit(box("end"), cable("run", "panel", "end", **given))
    return inferred_of(name, built.tree.cable["run"], built, book())


def test_each_cable_alongside_has_two_to_three_conductors():
    # two in a two-wire cable, three in a 14/3 with a switched hot: NFPA 70, 310.15(C)(1)
    assert inferred("current_carrying", bundled_with=3).options == (2 + 3 * 2, 2 + 3 * 3)
    assert inferred("current_carrying", bundled_with=1, conductors=None).options == (2 + 2, 3 + 3)
    assert inferred("current_carrying", bundled_with=1, conductors=3, carries="travelers").options == (2 + 2, 2 + 3)
    assert inferred("current_carrying", bundled_with=0) is None
    assert inferred("current_carrying", bundled_with=3, current_carrying=8) is None


def test_cables_alongside_that_nobody_counted():
    """Common practice, ``unknown-cables-alongside``: none to two others."""
    found = inferred("current_carrying", bundled_with=None)
    assert (found.options, found.ask_for) == ((2, 2 + 2 * 3), "bundled_with")


def test_a_guess_at_the_cables_alongside_may_be_one_more():
    guessed = inferred("current_carrying", bundled_with=3, known_by={"bundled_with": "guess"})
    assert guessed.options == (2 + 3 * 2, 2 + 4 * 3)


def test_two_cables_in_a_sealed_hole_do_not_count():
    # 334.80: more than two cables
    assert inferred("current_carrying", sealed_hole_with=1) is None
    assert inferred("current_carrying", sealed_hole_with=2).options == (6, 8)
    guessed = inferred("current_carrying", sealed_hole_with=1, known_by={"sealed_hole_with": "guess"})
    assert guessed.options == (2, 2 + 2 * 3)  # there may be a third


@pytest.mark.parametrize(("place", "options"), [("outdoors", None), ("underground", None), ("attic", (60, 90))])
def test_underground_feeder_cable(place, options):
    # 340.80: the ampacity of 60 degC conductors; 340.112: indoors its conductors are rated 90 degC
    found = inferred("insulation", type="UF-B", place=place)
    assert (found.options if found is not None else None) == options
    assert inferred("insulation", type="UF-B", place=None).ask_for == "place"
    assert inferred("insulation", type="NM-B", place="attic") is None


def test_sheathed_cable_is_younger_than_the_old_aluminum_cable():
    found = inferred("material", material=None, size="12 AWG")
    assert (found.options, bool(found.assumed)) == (("copper",), True)
    assert len(inferred("material", material=None, size="12 AWG", type="NM").options) == 3
    assert len(inferred("material", material=None, size="12 AWG", known_by={"type": "guess"}).options) == 3


def test_power_factor_of_filaments():
    for given in ({"lamp": "halogen"}, {"lamp": "incandescent"}, {"fitted_w": 9}, {"kind": "heater"}):
        built = circuit(box("end"), load("light", "end", power_w=60, power_factor=None, **given))
        assert inferred_of("load_power_factor", built.loads[0], built, book()).options == (1.0,)
    light = replace(built.loads[0], kind="light", lamp="LED")
    assert inferred_of("load_power_factor", light, built, book()) is UNSETTLED
    unknown = replace(light, kind=None, fitted_w=exact(9.0))  # a fan may hold a lamp too
    assert inferred_of("load_power_factor", unknown, built, book()) is UNSETTLED
    for given in ({"lamp": "halogen"}, {"kind": "heater"}):
        guess = load("light", "end", power_w=60, power_factor=None, known_by=dict.fromkeys(given, "guess"), **given)
        built = circuit(box("end"), guess)
        assert inferred_of("load_power_factor", built.loads[0], built, book()) is UNSETTLED


def test_most_kinds_of_cable_have_one_sheath_only():
    """Trade practice: UF and the cables with the letter B are plastic; cloth ended about 1965, and NM had either."""
    assert inferred("sheath", type="NM-B").options == inferred("sheath", type="UF").options == ("plastic",)
    assert inferred("sheath", type="BX").options == ("metal armor",)
    assert inferred("sheath", type="THHN in raceway").options == ("none",)
    guessed = inferred("sheath", type="NM-B", known_by={"type": "guess"})
    assert inferred("sheath", type="NM") is inferred("sheath", type=None) is guessed is UNSETTLED


@pytest.mark.parametrize(("wired", "era"), [(1975, "before"), (1995, "since"), (None, "")])
def test_the_year_of_wiring_is_told_beside_a_type_that_nobody_read(wired, era):
    """NM has had 90 degC conductors (NM-B) since the middle of the eighties. The year is no proof and excludes none."""
    built = circuit(site(wired=wired), box("end"), cable("run", "panel", "end", type=None))
    told = inferred_of("cable_type", built.tree.cable["run"], built, book())
    assert {"NM", "NM-B"} < set(told.options)
    assert ("house wired" in told.assumed, era in told.assumed) == (wired is not None, True)
    assert ("cooler insulation" in told.assumed, "90 degC" in told.assumed) == (era == "before", era == "since")


def behind_a_driver(name, **given):
    built = circuit(box("end"), cable("feed", "panel", "end"), driver("d", "end"), cable("run", "d", "light", **given))
    return inferred_of(name, built.tree.cable["run"], built, book())


def test_thin_cable_behind_a_driver_may_be_copper_clad():
    # Lamp cord, speaker wire and class 2 cable are sold in copper-clad aluminum (common practice), not in aluminum.
    for size in ("16 AWG", "18 AWG", "1 mm^2"):
        found = behind_a_driver("material", material=None, size=size, type="class 2 cable")
        assert found.options == ("copper", "copper-clad aluminum")
        assert inferred("material", material=None, size=size, type=None).options == ("copper",)


def test_a_cable_behind_a_driver_may_have_any_size_that_a_file_can_name():
    # Chapter 9, Table 8 begins at 18 AWG, 0.82 mm^2; 0.5 mm^2 is the thinnest of the metric table.
    assert {"0.5 mm^2", "18 AWG", "4 AWG"} <= {*behind_a_driver("cable_size", size=None).options}
    found = behind_a_driver("cable_size", size=None)
    assert found.assumed.endswith(f" {found.options[0]} to {found.options[-1]}")
    assert "0.5 mm^2" not in inferred("cable_size", size=None).options


def test_copper_of_sheathed_cable_is_solid_and_of_another_metal_nothing_is_said():
    """Trade: NM-B in 14, 12 and 10 AWG is solid copper. Of aluminum, or of a guess, nothing follows."""
    for metal in ("copper", None):
        assert inferred("stranding", stranding=None, material=metal, size="12 AWG").options == ("solid",)
    for given in ({"material": "aluminum"}, {"known_by": {"material": "guess"}}, {"size": "8 AWG"}, {"type": "NM"}):
        assert inferred("stranding", **{"stranding": None, "size": "12 AWG"} | given) is UNSETTLED


@pytest.mark.parametrize(("seen", "told"), [({"ground": True}, True), ({"ground": False}, False), ({}, False)])
def test_a_ground_that_was_seen_in_a_box_came_with_its_feed(seen, told):
    """300.3(B): the ground runs with the other conductors of its circuit, so nothing but the feed brings it there."""
    built = circuit(box("end", **seen), box("on"), cable("run", "panel", "end", ground=None),
                    cable("out", "end", "on", ground=None))  # fmt: skip
    found, out = (inferred_of("cable_ground", built.tree.cable[name], built, book()) for name in ("run", "out"))
    assert (found is not UNSETTLED and found.options == (True,)) is told
    assert out is UNSETTLED
    guessed = circuit(box("end", ground=True, known_by={"ground": "guess"}), cable("run", "panel", "end", ground=None))
    assert set(case_options(guessed)) == {True, False}


def case_options(built):
    entry = next(each for each in case_of(built, book()).entries if each.kind == "cable.ground")
    return entry.possible.options
