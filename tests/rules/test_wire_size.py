"""The thinnest conductor that does: the rule by the breaker, by what it may carry where it lies, and by the drop."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitcheck.checking import check, other_sizes
from circuitcheck.checking.asking_all import findings_of
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.size_search import SizeSearch
from circuitcheck.findings import Finding, Outcome, Verdict
from circuitcheck.rules.capacity.ampacity import RULE as AMPACITY
from circuitcheck.rules.capacity.voltage_drop import RULE as VOLTAGE_DROP
from circuitcheck.rules.capacity.wire_size import RULE, sizes
from circuitcheck.tables.rulebook import Rulebook
from tests.rules.build import FOOT, book, box, cable, circuit, control, findings, load, only, supply

EDITIONS = ("nec-2017", "nec-2020", "nec-2023")


def one_run(size, *, breaker=15, watts=100, feet=20, load_more=(), **more):
    return circuit(
        supply(breaker_a=breaker),
        box("end"),
        cable("run", "panel", "end", size=size, length_m=feet * FOOT, **more),
        load("lamp", "end", power_w=watts, **dict(load_more)),
    )


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(("breaker", "smallest"), [(15, "14 AWG"), (20, "12 AWG"), (30, "10 AWG")])
def test_the_breaker_sets_the_least_copper_conductor(edition, breaker, smallest):
    """NFPA 70, Table 210.24: 15 A 14 AWG, 20 A 12 AWG, 30 A 10 AWG."""
    found = only(RULE, one_run("10 AWG", breaker=breaker), "run", edition)
    assert (found.outcome, found.smallest, found.decided_by) == (Outcome.PASS, smallest, "breaker-vs-wire")
    assert (found.chosen, found.value, found.limit) == ("10 AWG", None, None)
    assert any(source.edition == edition.removeprefix("nec-") for source in found.sources)


def test_a_breaker_that_is_not_certain_fails_no_size_by_itself():
    # 14 AWG does behind 15 A and not behind 20 A (Table 210.24); the number on the handle settles it
    found = only(RULE, one_run("14 AWG", breaker=(15, 20)), "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.breaker",))
    assert only(RULE, one_run("12 AWG", breaker=(15, 20)), "run").outcome is Outcome.PASS
    assert only(RULE, one_run("14 AWG", breaker=(20, 25)), "run").outcome is Outcome.FAIL


@pytest.mark.parametrize(("breaker", "smallest"), [(15, "12 AWG"), (20, "10 AWG")])
@pytest.mark.parametrize("material", ["aluminum", "copper-clad aluminum"])
def test_aluminum_is_one_size_thicker(material, breaker, smallest):
    """NFPA 70, 240.4(D): aluminum and copper-clad aluminum 15 A on 12 AWG, 25 A on 10 AWG; nothing on 14 AWG."""
    found = only(RULE, one_run("8 AWG", breaker=breaker, material=material), "run")
    assert (found.outcome, found.smallest) == (Outcome.PASS, smallest)
    thin = only(RULE, one_run("14 AWG", breaker=breaker, material=material), "run")
    assert thin.outcome is Outcome.FAIL


@pytest.mark.parametrize(("breaker", "named"), [(15, True), (20, False)])
def test_the_table_of_least_conductors_is_named_where_its_thinnest_is_the_answer(breaker, named):
    """NFPA 70-2023, Table 210.24(1): no branch circuit on less than 14 AWG. That 20 A ask for more says 240.4(D)."""
    found = only(RULE, one_run("12 AWG", breaker=breaker), "run", "nec-2023")
    places = [source.place for source in found.sources]
    assert ("Table 210.24(1)" in places) is named
    assert "240.4(D)" in places


def test_too_thin_for_the_breaker_fails():
    found = only(RULE, one_run("14 AWG", breaker=20), "run")
    assert (found.outcome, found.smallest, found.decided_by) == (Outcome.FAIL, "12 AWG", "breaker-vs-wire")
    assert "needs at least 12 AWG, not 14 AWG" in found.says
    assert found.to_do


def test_heat_and_bundling_decide():
    """14 AWG: 25 A (90 degC column of Table 310.16) x 0.50 for 10 to 20 conductors x 0.71 at 56 to 60 degC = 8.9 A.

    12 AWG: 30 x 0.355 = 10.65 A. 10 A of lighting need 12 AWG, which may have a 15 A breaker, the next standard rating.
    """
    hot = {"ambient_c": 60, "bundled_with": 5}
    found = only(RULE, one_run("14 AWG", watts=1200, feet=5, **hot), "run")
    assert (found.outcome, found.smallest, found.decided_by) == (Outcome.FAIL, "12 AWG", "ampacity")
    assert any("may carry 10.6 A for 10 A" in line for line in found.working)


def test_no_size_does_where_the_insulation_does_not_stand_the_air():
    """60 degC insulation in air of 60 degC: the correction table allows nothing, whatever the size."""
    found = only(RULE, one_run("14 AWG", type="NM", ambient_c=60), "run")
    assert (found.outcome, found.smallest) == (Outcome.FAIL, None)
    assert len(found.working) < 10


@pytest.mark.parametrize(
    ("feet", "amperes", "smallest", "more"),
    [
        # Textbook question on 210.19 (smartsolve.ai, question 35): a 10 A heater at 140 ft and 20 degC loses 7.07 V on
        # 14 AWG, 4.45 V on 12 AWG and 2.80 V on 10 AWG. Three percent of 120 V are 3.6 V.
        (140, 10, "10 AWG", {"conductor_temperature_c": 20}),
        # tradelicenseprep.com, lesson on voltage drop: 20 A over 100 ft lose 6.6 % on 12 AWG and 2.6 % on 8 AWG; by its
        # formula 2 x 12.9 x 20 x 100 / 10,380 = 5.0 V or 4.1 % on 10 AWG.
        (100, 20, "8 AWG", {"stranding": "stranded"}),
    ],
)
def test_the_voltage_drop_is_advice(feet, amperes, smallest, more):
    breaker = 20 if amperes > 15 else 15
    size = "12 AWG"
    built = one_run(size, breaker=breaker, watts=amperes * 117, feet=feet, **more)
    found = only(RULE, built, "run")
    assert (found.outcome, found.smallest, found.decided_by) == (Outcome.CAUTION, smallest, "voltage-drop")
    assert smallest in found.says
    assert only(RULE, one_run(smallest, breaker=breaker, watts=amperes * 117, feet=feet, **more), "run").outcome is (
        Outcome.PASS
    )


def test_a_loss_elsewhere_is_not_blamed_on_this_cable():
    built = circuit(
        box("a"), box("b"),
        cable("old", "panel", "a", origin="existing", length_m=60), cable("new", "a", "b", length_m=1),
        load("lamp", "b", power_w=1200),
    )  # fmt: skip
    (found,) = findings(RULE, built)
    assert (found.subject, found.outcome, found.smallest) == ("new", Outcome.PASS, "14 AWG")
    assert any("no thickness" in line for line in found.working)


def test_loads_that_may_be_on_for_hours_are_advice_until_somebody_says():
    """15 A breaker, 1,600 W: 13.3 A, or 16.7 A if on for hours (1.25 x), more than the 15 A of 14 AWG at 60 degC."""
    unsaid = only(RULE, one_run("14 AWG", watts=1600, feet=5, load_more={"continuous": None}), "run")
    assert (unsaid.outcome, unsaid.smallest, unsaid.decided_by) == (Outcome.CAUTION, "12 AWG", "ampacity")
    said = only(RULE, one_run("14 AWG", watts=1600, feet=5, load_more={"continuous": True}), "run")
    assert said.outcome is Outcome.FAIL


def test_an_unknown_size_is_answered_with_the_size_that_would_do():
    found = only(RULE, one_run(None, breaker=20), "run")
    assert (found.outcome, found.chosen, found.smallest) == (Outcome.UNDETERMINED, None, "12 AWG")
    assert found.needs == ("cable.run.size",)
    far = only(RULE, one_run(None, feet=140, watts=1170, conductor_temperature_c=20), "run")
    assert far.smallest == "10 AWG"


def test_an_unknown_material_decides():
    """UF-B was made with aluminum too: 12 AWG aluminum may have 15 A (240.4(D)). NM-B in 12 AWG is taken for copper."""
    found = only(RULE, one_run("12 AWG", type="UF-B", material=None, breaker=20), "run")
    assert (found.outcome, found.smallest) == (Outcome.UNDETERMINED, "10 AWG")
    assert "cable.run.material" in found.needs
    assert only(RULE, one_run("12 AWG", material=None, breaker=20), "run").outcome is Outcome.PASS


def test_an_unknown_load_counts_as_all_that_the_breaker_allows():
    """Six cables together: 25 A x 0.50 = 12.5 A for 14 AWG, less than the 15 A that the breaker lets through."""
    built = circuit(box("end"), cable("run", "panel", "end", bundled_with=5, current_carrying=12), load("lamp", "end"))
    found = only(RULE, built, "run")
    assert (found.outcome, found.smallest, found.needs) == (Outcome.UNDETERMINED, "12 AWG", ("load.lamp.power",))
    plain = circuit(box("end"), cable("run", "panel", "end"), load("lamp", "end"))
    found = only(RULE, plain, "run")
    # open as ampacity is: a load of 20 A would overload the cable, however soon the breaker trips
    assert (found.outcome, found.smallest, found.needs) == (Outcome.UNDETERMINED, "14 AWG", ("load.lamp.power",))
    assert "carries all that the breaker lets through" in found.says


def test_an_unknown_origin_counts_as_added_and_existing_cables_are_left_alone():
    built = circuit(
        box("a"), box("b"),
        cable("old", "panel", "a", origin="existing"), cable("other", "a", "b", origin=None),
        load("lamp", "b", power_w=60),
    )  # fmt: skip
    (found,) = findings(RULE, built)
    assert found.subject == "other"
    assert "cable.other.origin" in found.assumed_keys
    old = circuit(box("a"), cable("old", "panel", "a", origin="existing"), load("lamp", "a", power_w=60))
    assert findings(RULE, old) == []


def test_the_loop_of_a_switch_carries_what_it_switches():
    """1,600 W of lamps on for hours: 1.25 x 13.3 A = 16.7 A through a 14 AWG loop that may carry 15 A."""
    built = circuit(
        box("a"), box("s"), cable("feed", "panel", "a", length_m=1, origin="existing", size="12 AWG"),
        cable("loop", "a", "s", length_m=1, carries="switch loop"), control("c", "s"),
        load("lamps", "a", power_w=1600, continuous=True, switched_by="c"),
    )  # fmt: skip
    found = only(RULE, built, "loop")
    assert (found.outcome, found.smallest, found.decided_by) == (Outcome.FAIL, "12 AWG", "ampacity")
    assert only(AMPACITY, built, "loop").outcome is Outcome.FAIL
    feed = only(AMPACITY, built, "feed")  # of these loads 20 A / 1.25 may flow through 12 AWG
    assert (feed.value, feed.limit) == (pytest.approx(1600 / 120), pytest.approx(16))


def test_a_metric_cable_goes_by_the_gauge_that_stands_in_for_it():
    """2.5 mm^2 stands for 14 AWG: enough on 15 A and not on 20 A."""
    assert only(RULE, one_run("2.5 mm^2"), "run").outcome is Outcome.PASS
    assert only(RULE, one_run("2.5 mm^2", breaker=20), "run").outcome is Outcome.FAIL


def test_the_loop_of_a_switch_may_need_a_thicker_conductor_for_the_drop():
    built = circuit(
        box("a"), box("s"), cable("feed", "panel", "a", length_m=5, origin="existing"),
        cable("loop", "a", "s", length_m=60, carries="switch loop"), control("c", "s"),
        load("lamp", "a", power_w=500, switched_by="c"),
    )  # fmt: skip
    (found,) = findings(RULE, built)
    assert (found.outcome, found.decided_by) == (Outcome.CAUTION, "voltage-drop")
    assert any("for 4.17 A" in line for line in found.working)  # 500 W / 120 V flow through the loop
    thicker = circuit(
        *built.boxes, *built.controls, *built.loads, built.cables[0],
        cable("loop", "a", "s", length_m=60, carries="switch loop", size=found.smallest),
    )  # fmt: skip
    assert only(RULE, thicker, "loop").outcome is Outcome.PASS
    assert only(VOLTAGE_DROP, thicker, "lamp").outcome is Outcome.PASS


@settings(max_examples=40, deadline=None)
@given(feet=st.floats(5, 300), watts=st.floats(10, 1700), where=st.sampled_from(["inside", "attic"]))
def test_the_advised_size_really_brings_the_drop_within_the_recommendation(feet, watts, where):
    """The other rule solves the circuit anew with the size that this one named from the planned circuit."""
    built = one_run("14 AWG", watts=watts, feet=feet, place=where)
    if only(VOLTAGE_DROP, built, "lamp").value is None:
        return
    found = only(RULE, built, "run")
    anew = only(VOLTAGE_DROP, one_run(found.smallest, watts=watts, feet=feet, place=where), "lamp")
    assert anew.outcome is Outcome.PASS


@settings(max_examples=40, deadline=None)
@given(feet=st.floats(5, 300), more=st.floats(0, 200), watts=st.floats(10, 1700), ambient=st.floats(10, 60))
def test_longer_never_asks_for_a_thinner_conductor(feet, more, watts, ambient):
    sizes = ["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "3 AWG", "2 AWG", "1 AWG", "1/0 AWG"]
    short = only(RULE, one_run("1/0 AWG", feet=feet, watts=watts, ambient_c=ambient), "run")
    long = only(RULE, one_run("1/0 AWG", feet=feet + more, watts=watts, ambient_c=ambient), "run")
    assert sizes.index(long.smallest) >= sizes.index(short.smallest)


def test_a_wish_for_a_conductor_that_fits_no_terminal_sends_another_way():
    # 14 A over 150 ft there and back: 3.6 V (3 % of 120 V) / (14 A x 0.3 kft) = 0.857 ohm/kft, so 8 AWG (0.764) by
    # NFPA 70, Chapter 9, Table 8, and not 10 AWG (1.21).
    far = cable("run", "panel", "b", origin="added", size="12 AWG", length_m=150 * FOOT)
    built = circuit(box("b"), far, load("lamps", "b", current_a=14), supply(breaker_a=20))
    found = only(RULE, built, "run")
    assert (found.outcome, found.smallest, found.decided_by) == (Outcome.CAUTION, "8 AWG", "voltage-drop")
    assert "thicker than usual terminals take" in found.says
    assert found.to_do == (
        "Plan a shorter route or another circuit: a conductor that thick does not fit common terminals.",
    )


def test_no_size_is_planned_for_a_cable_of_which_nothing_is_known():
    # At worst 60 degC insulation in an attic of 60 degC carries nothing (Table E3705.2 of the 2018 IRC: not allowed).
    bare = cable("run", "panel", "b", origin="added", size=None, type=None, place=None, ambient_c=None)
    found = only(RULE, circuit(box("b"), bare, load("lamp", "b", power_w=60)), "run")
    assert found.outcome is Outcome.UNDETERMINED
    assert {"cable.run.size", "cable.run.type", "cable.run.place"} <= set(found.needs)
    assert "at worst no size does" in found.says
    assert found.to_do == ('Find out what is missing about cable "run" before you choose its size.',)


def test_a_cable_that_may_be_there_already_fails_nothing():
    """14 AWG on 20 A fails as a new cable (240.4(D)); whether it is new is a guess here."""
    for origin, outcomes in (("added", [Outcome.UNDETERMINED]), ("existing", [Outcome.UNDETERMINED])):
        guessed = one_run("14 AWG", breaker=20, origin=origin, known_by={"origin": "guess"})
        found = findings(RULE, guessed)
        assert [each.outcome for each in found] == outcomes
        assert "cable.run.origin" in found[0].needs
    assert findings(RULE, one_run("12 AWG", breaker=20, origin="existing", known_by={"origin": "guess"})) == []


def test_where_only_the_breaker_is_open_its_handle_is_read_first():
    """Nobody plans a thicker cable for a rating that stands on the handle."""
    made = circuit(supply(breaker_a=(15, 20)), box("b"), cable("run", "panel", "b"), load("lamp", "b", power_w=9))
    found = only(RULE, made, "run")
    assert (found.outcome, found.needs) == (Outcome.UNDETERMINED, ("supply.breaker",))
    assert "handle" in found.to_do[0]


def test_the_sentence_about_a_size_that_is_not_planned_yet():
    """Table 210.24: 20 A 12 AWG; nothing else is open."""
    found = only(RULE, one_run(None, breaker=20), "run")
    assert found.says == 'Cable "run" needs at least 12 AWG; which size is planned is not given.'
    assert found.to_do == ('Plan 12 AWG for cable "run".',)


def test_the_sentences_about_a_planned_size():
    assert only(RULE, one_run("14 AWG"), "run").says == (
        '14 AWG is enough for cable "run": the thinnest that does is 14 AWG.'
    )
    thin = only(RULE, one_run("14 AWG", breaker=20), "run")
    assert thin.says == 'Cable "run" needs at least 12 AWG, not 14 AWG: the breaker decides.'
    assert thin.to_do == ('Plan 12 AWG for cable "run".',)
    far = only(RULE, one_run("14 AWG", breaker=20, feet=100, watts=1440), "run")  # 12 A: 4.6 V on 12 AWG, 2.9 V on 10
    assert far.says == (
        'Cable "run" needs at least 12 AWG, not 14 AWG: the breaker decides; '
        "10 AWG would also meet what is recommended."
    )
    long = only(RULE, one_run("12 AWG", feet=100, watts=1440), "run")
    assert long.says == (
        '12 AWG is allowed for cable "run", but 10 AWG is recommended: the voltage lost on the way decides.'
    )
    assert only(RULE, one_run("14 AWG", type="NM", ambient_c=60), "run").says == (
        'No conductor size of this kind does for cable "run": in its conditions none may keep this breaker.'
    )
    either = only(RULE, one_run("14 AWG", breaker=(15, 20)), "run")
    assert either.says == (
        'Cannot tell yet whether 14 AWG is enough for cable "run": 14 AWG may do, and 12 AWG would do in any case.'
    )


@pytest.mark.parametrize(
    ("built", "outcome"),
    [
        (one_run("14 AWG"), Outcome.PASS),
        (one_run("14 AWG", feet=200, watts=1400), Outcome.CAUTION),  # 11.7 A x 1.2 ohm: far more than 3 %
        (one_run("14 AWG", breaker=20), Outcome.FAIL),
        (one_run("14 AWG", breaker=(15, 20)), Outcome.UNDETERMINED),
    ],
)
def test_of_a_circuit_too_open_to_try_sizes_the_planned_one_is_answered(monkeypatch, built, outcome):
    monkeypatch.setattr(other_sizes, "MOST_TRIES", -1)
    found = only(RULE, built, "run")
    assert (found.outcome, found.smallest, found.chosen) == (outcome, None, "14 AWG")
    assert found.needs == (("supply.breaker",) if outcome is Outcome.UNDETERMINED else ())


def test_only_the_sizes_of_some_cables_are_asked_for():
    parts = box("a"), box("b"), cable("one", "panel", "a"), cable("two", "a", "b"), load("lamp", "b", power_w=60)
    built = circuit(*parts)
    for about, subjects in ((None, ["one", "two"]), (frozenset({"two"}), ["two"]), (frozenset({"lamp"}), [])):
        assert [each.subject for each in findings_of(built, book(), (RULE,), scope=Scope(about=about))] == subjects


@pytest.mark.parametrize("size", ["14 AWG", "12 AWG", "10 AWG"])
def test_of_a_guessed_size_no_more_is_asked_than_of_any_other(size):
    # Table 210.24: 20 A needs 12 AWG and no more, whichever size somebody believes to have planned
    found = only(RULE, one_run(size, breaker=20, known_by={"size": "guess"}), "run")
    assert (found.outcome, found.smallest, found.needs) == (Outcome.UNDETERMINED, "12 AWG", ("cable.run.size",))
    assert "12 AWG may do, and 12 AWG would do in any case" in found.says


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_size_is_tried_that_no_branch_circuit_may_have(edition):
    # Table 210.24: 14 AWG is the thinnest; the table of conductors begins at 18 AWG
    assert sizes(book(edition))[:3] == ("14 AWG", "12 AWG", "10 AWG")


def test_a_load_at_an_unknown_distance_is_not_hidden_by_another_that_is_open():
    """3.07 ohm a 1,000 ft (Chapter 9, Table 8) twice 33 ft: 0.2 ohm x 5.8 A lose 1.2 V of 120, so that 118.8 V arrive.

    Whether that is enough for the label hangs on the label, and what arrives at the other load on a length.
    """
    built = circuit(
        box("a"), box("b"), box("c"), cable("to a", "panel", "a", length_m=10),
        cable("to b", "a", "b", length_m=None, origin="existing"),
        cable("to c", "a", "c", length_m=1, origin="existing"),
        load("far", "b", power_w=100), load("near", "c", power_w=600, min_voltage_v=(110.0, 119.0)),
    )  # fmt: skip
    found = only(RULE, built, "to a")
    assert found.outcome is Outcome.CAUTION
    assert found.says.endswith("Whether the voltage lost asks for a thicker one is unknown.")
    assert not any("enough" in line and "12 AWG" in line for line in found.working)


def test_a_terminal_of_a_size_that_the_book_lacks_is_a_fault_and_not_one_that_takes_nothing():
    full = book()
    values = {**full.values, "usual-terminals-thickest": replace(full.value("usual-terminals-thickest"), text="11 AWG")}
    wrong = Rulebook("hill-1", "Hill rules", full.tables, values)
    built = circuit(box("a"), cable("to a", "panel", "a"), load("lamp", "a", power_w=60))
    report = check(built, wrong)
    (fault,) = report.faults
    assert fault.check == "wire-size"
    assert "11 AWG" in fault.says
    assert report.verdict is not Verdict.FITS


def test_no_limit_of_the_voltage_lost_is_a_fault_and_not_zero():
    search = SizeSearch(RULE, {}, None, cable("to a", "panel", "a"), settled=False)
    search.drops = [Finding(check="voltage-drop", subject="lamp", outcome=Outcome.CAUTION, says="")]
    with pytest.raises(ValueError, match="no answer of voltage-drop says how much may be lost"):
        assert search.drop_limit
