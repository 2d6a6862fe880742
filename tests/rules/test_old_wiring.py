"""Old wiring: knob and tube, ungrounded cable, aluminum of 1965 to 1973 (CPSC 516); years are evidence only."""

from dataclasses import replace

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.quantities import How
from circuitcheck.rules.evidence.old_wiring import RULE
from tests.rules.build import EDITIONS, box, cable, circuit, findings, load, only, site


def built(wired=1978, **given):
    return circuit(
        site(wired=wired),
        box("attic"),
        box("new", origin="added"),
        cable("feed", "panel", "attic", **({"origin": "existing"} | given)),
        cable("run", "attic", "new"),
        load("lamp", "new", origin="added"),
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_modern_copper_passes(edition):
    assert only(RULE, built(), "feed", edition).outcome is Outcome.PASS


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    "given",
    [{"type": "knob and tube"}, {"material": "aluminum"}, {"sheath": "cloth"}, {"type": "NM", "sheath": "rubber"}],
)
def test_old_kinds_stop(edition, given):
    found = only(RULE, built(**given), "feed", edition)
    assert found.outcome is Outcome.FAIL
    assert found.stop
    assert "licensed electrician" in " ".join(found.to_do)


def test_unknown_type_asks():
    found = only(RULE, built(type=None), "feed")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.feed.type", "cable.feed.sheath"))


@pytest.mark.parametrize(("wired", "likely"), [(1950, False), (1965, False), (None, False), (1966, True), (1978, True)])
def test_the_sheath_of_nm_is_asked_and_the_year_tells_what_is_likely(wired, likely):
    """The table of cable types ends cloth NM in 1965; NM itself was made until 1985; a house may hide an old run."""
    found = only(RULE, built(wired=wired, type="NM"), "feed")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.feed.sheath",))
    assert ("most likely plastic" in found.says) is likely
    assert only(RULE, built(wired=wired, type="NM", sheath="plastic"), "feed").outcome is Outcome.CAUTION


def test_a_guess_that_a_cable_was_there_settles_nothing():
    found = only(RULE, built(type="BX", known_by={"origin": How.GUESS}), "feed")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.feed.origin",))
    assert findings(RULE, built(known_by={"origin": How.GUESS})) == []


@pytest.mark.parametrize(("wired", "likely"), [(1964, True), (1965, False), (1973, False), (1974, True), (None, False)])
def test_unknown_metal_is_asked_and_the_year_tells_what_is_likely(wired, likely):
    """CPSC 516: about 1965 to 1973; a run that was put in later, or before, settles nothing until somebody looks."""
    found = only(RULE, built(wired=wired, type="NM", sheath="plastic", material=None, size="12 AWG"), "feed")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.feed.material",))
    assert ("most likely copper" in found.says) is likely


@pytest.mark.parametrize("kind", ["lamp cord", "flexible cord"])
def test_cords_were_made_with_rubber_and_cloth_too(kind):
    assert only(RULE, built(type=kind), "feed").needs == ("cable.feed.sheath",)
    assert only(RULE, built(type=kind, sheath="rubber"), "feed").outcome is Outcome.FAIL


@pytest.mark.parametrize("wired", [1968, None, 2008])
@pytest.mark.parametrize("size", ["14 AWG", "12 AWG", "10 AWG"])
def test_nm_b_is_never_the_old_aluminum(wired, size):
    """InspectionNews thread 27015: NM-B since 1984 / 1985; the old aluminum branch cable ended by 1973 (CPSC 516)."""
    assert only(RULE, built(wired=wired, material=None, size=size), "feed").outcome is Outcome.PASS
    guessed = built(wired=1968, material=None, size="12 AWG", known_by={"type": How.GUESS})
    assert only(RULE, guessed, "feed").outcome is Outcome.UNDETERMINED


def test_fourteen_gauge_is_not_taken_for_aluminum():
    """Table 310.16 prints no aluminum in 14 AWG."""
    assert only(RULE, built(wired=1968, material=None, size="14 AWG"), "feed").outcome is Outcome.PASS


def test_the_year_alone_never_fails():
    assert only(RULE, built(wired=1968), "feed").outcome is Outcome.PASS


def test_nothing_added_says_nothing():
    assert (
        findings(RULE, circuit(box("attic"), cable("feed", "panel", "attic", origin="existing", type="knob and tube")))
        == []
    )


@pytest.mark.parametrize("kind", ["NM", "old AC", "UF"])
def test_older_sound_cable_may_be_extended_with_care(kind):
    found = only(RULE, built(type=kind, sheath="plastic"), "feed")
    assert found.outcome is Outcome.CAUTION
    assert not found.stop


def test_a_guess_at_what_is_new_leaves_a_stop_open():
    guess = {"origin": How.GUESS}
    built = circuit(
        site(wired=1978),
        box("attic", known_by=guess),
        cable("feed", "panel", "attic", origin="existing", type="BX"),
    )
    found = only(RULE, built, "feed")
    assert (found.outcome, found.needs, found.stop) == (Outcome.UNDETERMINED, ("box.attic.origin",), False)


def test_what_was_seen_is_told_and_the_entry_that_decides():
    plain = only(RULE, built(type="NM-B", sheath="plastic", material="copper"), "feed")
    assert plain.working == (
        "type: NM-B; sheath: plastic", "material: copper", "house wired: 1978 (evidence only)",
    )  # fmt: skip
    bare = only(RULE, built(wired=None, type=None, material=None, size="12 AWG"), "feed")
    assert bare.working == (
        "type: unknown; sheath: unknown", "material: unknown", "house wired: unknown (evidence only)",
    )  # fmt: skip
    assert bare.needs == ("cable.feed.type", "cable.feed.sheath", "cable.feed.material")
    by = {"type": "knob and tube", "sheath": "cloth", "material": "aluminum"}
    for key, value in by.items():
        found = only(RULE, built(**{key: value}), "feed")
        assert found.keys == (f"cable.feed.{key}",)
        assert value in found.says
        assert found.to_do
    assert only(RULE, built(type="NM", sheath="plastic"), "feed").keys == ("cable.feed.type",)


def test_a_kind_made_with_one_sheath_needs_no_look_at_it():
    """Armored cable has its armor, and conductors in a raceway have none of the old sheaths."""
    for kind in ("AC", "MC", "THHN in raceway", "UF-B"):
        assert "cable.feed.sheath" not in only(RULE, built(type=kind), "feed").needs
    guessed = built(type="NM-B", sheath="plastic", known_by={"sheath": How.GUESS})
    assert only(RULE, guessed, "feed").needs == ("cable.feed.sheath",)


def test_a_guess_at_the_year_tells_nothing():
    parts = built(wired=1990, type="NM", sheath="plastic", material=None, size="12 AWG")
    assert "most likely copper" in only(RULE, parts, "feed").says
    guess = replace(parts, site=site(wired=1990, known_by={"wired": How.GUESS}))
    assert "most likely" not in only(RULE, guess, "feed").says
    assert "house wired: unknown (evidence only)" in only(RULE, guess, "feed").working


def test_a_guess_at_the_metal_is_looked_at_even_where_the_print_tells_of_copper():
    """Whoever guesses at aluminum has seen something: NM-B alone does not settle it then."""
    for guessed in ("aluminum", "copper"):
        found = only(RULE, built(material=guessed, size="12 AWG", known_by={"material": How.GUESS}), "feed")
        assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("cable.feed.material",))


@pytest.mark.parametrize(("size", "asked"), [("14 AWG", False), ("12 AWG", True), (None, True)])
def test_the_metal_is_asked_in_sizes_in_which_aluminum_is_made(size, asked):
    """Table 310.16 prints aluminum from 12 AWG on."""
    found = only(RULE, built(type="NM", sheath="plastic", material=None, size=size), "feed")
    assert found.outcome is (Outcome.UNDETERMINED if asked else Outcome.CAUTION)
    assert found.needs == (("cable.feed.material",) if asked else ())


def test_of_many_guesses_at_what_is_new_the_first_six_are_named():
    boxes = [box(f"b{number}", known_by={"origin": How.GUESS}) for number in range(9)]
    built = circuit(site(wired=1978), *boxes, cable("feed", "panel", "b0", origin="existing", type="BX"))
    assert only(RULE, built, "feed").needs == tuple(f"box.b{number}.origin" for number in range(6))


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    ("kind", "wired", "outcome"),
    [
        # bonding strip since 1959: InterNACHI forum, threads 93447 and 13470; NM-B and ACTHH of 90 degC since 1984/85
        ("AC", 1948, Outcome.UNDETERMINED),
        ("AC", 1958, Outcome.UNDETERMINED),
        ("AC", 1959, Outcome.CAUTION),
        ("AC", 1984, Outcome.CAUTION),
        ("AC", 1985, Outcome.PASS),
        ("AC", None, Outcome.UNDETERMINED),  # it may be as old as any
        ("old AC", 1948, Outcome.UNDETERMINED),
        ("old AC", 1970, Outcome.CAUTION),
        ("BX", 1948, Outcome.FAIL),
        ("NM-B", 1948, Outcome.PASS),  # is printed on its sheath
    ],
)
def test_armored_cable_of_a_later_kind_than_the_house(edition, kind, wired, outcome):
    """Armored cable of before 1959 has no bonding strip: its armor is no ground, whatever kind the file names."""
    found = only(RULE, built(wired=wired, type=kind), "feed", edition)
    assert found.outcome is outcome
    if outcome is Outcome.UNDETERMINED:
        assert found.needs == (() if wired else ("site.wired",)) + ("cable.feed.type",)
        assert "BX" in found.says
    for how in (How.LABEL, How.MEASURED):
        read = only(RULE, built(wired=wired, type=kind, known_by={"type": how}), "feed", edition)
        assert read.outcome is only(RULE, built(wired=2008, type=kind), "feed", edition).outcome


def test_a_guess_at_the_year_tells_nothing_of_armored_cable():
    made = built(type="AC")
    for how, asked in ((How.GUESS, ("site.wired", "cable.feed.type")), (How.STATED, ("cable.feed.type",))):
        guessed = replace(made, site=site(wired=1948, known_by={"wired": how}))
        assert only(RULE, guessed, "feed").needs == asked


@pytest.mark.parametrize("metal", ["aluminum", "copper-clad aluminum"])
def test_new_aluminum_is_joined_only_to_what_is_listed_for_it(metal):
    """110.14(A): connectors and devices for aluminum and for copper-clad aluminum are marked so; CPSC 516 on joints."""
    made = built()
    run = cable("run", "attic", "new", material=metal, size="12 AWG")
    new = replace(made, cables=(made.cables[0], run))
    found = only(RULE, new, "run")
    assert found.outcome is Outcome.CAUTION
    assert metal in found.says
    assert [each.subject for each in findings(RULE, made)] == ["feed"]
