"""From a circuit to a case: what the file settles is plain, what it leaves open is an entry."""

from dataclasses import replace

import pytest

from circuitcheck.case import waiting
from circuitcheck.case.making import case_of
from circuitcheck.case.waiting import open_entries
from circuitcheck.circuit.change import AsFound
from circuitcheck.possible import possible_of
from circuitcheck.quantities import How
from circuitcheck.refs import Ref
from tests.rules.build import CUBIC_INCH, between, book, box, cable, circuit, control, driver, exact, load, supply


def made(*parts):
    return case_of(circuit(*parts), book())


def open_of(part):
    return open_entries(part)


def test_a_part_of_which_all_is_known_has_nothing_open():
    case = made(box("b"), control("k", "b", kind="switch"), load("l", "b", power_w=60))
    lamp = case.loads[0]
    assert (lamp.power_w, lamp.quantity, lamp.kind) == (60, 1, "light")
    assert isinstance(lamp.power_w, float)


@pytest.mark.parametrize(
    ("given", "options"),
    [(9, None), (exact(9.0), None), ((5, 9), (5, 9)), (None, ())],
)
def test_only_one_number_is_settled(given, options):
    run = made(box("b"), cable("f", "panel", "b", length_m=given)).cables[0]
    if options is None:
        assert "length_m" not in open_of(run)
        assert run.length_m == 9
        return
    entry = open_of(run)["length_m"]
    assert (entry.kind, entry.attribute, entry.asked, entry.part) == ("cable.length", "length_m", "length", run)
    assert str(entry.ref) == "cable.f.length"
    if options == (5, 9):
        assert entry.possible.options == options
    assert entry.possible.bounded is (given is not None)


def test_every_number_of_a_list_must_be_known():
    volumes = (6 * CUBIC_INCH, 8 * CUBIC_INCH)
    known = made(box("b", extensions_m3=volumes)).boxes[0]
    assert known.extensions_m3 == pytest.approx(volumes)
    assert "extensions_m3" not in open_of(known)
    wide = made(box("b", extensions_m3=(exact(volumes[0]), between(*volumes)))).boxes[0]
    assert "extensions_m3" in open_of(wide)


def test_an_open_entry_is_read_from_the_case_and_noted():
    case = made(box("b"), cable("f", "panel", "b", length_m=(5, 9)))
    run = case.cables[0]
    with pytest.raises(LookupError):
        run.length_m  # noqa: B018 - nothing was chosen
    with case.reading.at(lambda entry: 7.0):
        assert run.length_m == 7
        assert case.reading.reads == (open_of(run)["length_m"],)
    with pytest.raises(AttributeError):
        type(run).length_m.__get__(made(box("b"), cable("f", "panel", "b", type=None)).cables[0])
    assert type(run).length_m is vars(type(run))["length_m"]


def test_entries_are_those_of_all_parts_each_with_a_bit_of_its_own():
    case = made(
        supply(voltage_v=(110, 125)), box("b", material=None), cable("f", "panel", "b", length_m=(5, 9)),
        load("l", "b", power_w=(5, 9)), driver("d", "b", input_current_a=(0.2, 0.6)),
    )  # fmt: skip
    kinds = {entry.kind for entry in case.entries}
    assert {"supply.voltage", "cable.length", "load.power", "driver.input_current"} <= kinds
    together = 0
    for entry in case.entries:
        assert entry.bit
        assert not entry.bit & together
        together |= entry.bit
    assert case.reading.entries_of(together) == case.entries


def test_a_word_for_nothing_is_nothing():
    """The file says "none" where the light has no ground lead; a case has None for what is not there."""
    assert made(box("b", fixture_ground="none")).boxes[0].fixture_ground is None


def test_what_is_not_given_and_cannot_matter_is_nothing():
    lamp = made(box("b"), load("l", "b", power_w=60)).loads[0]
    assert lamp.switched_by is None
    assert "switched_by" not in open_of(lamp)


def test_a_load_that_goes_is_kept_as_it_was_found_and_one_that_stays_is_not():
    stays = load("stays", "b", power_w=60)
    goes = load("goes", "b", kind="heater", power_w=240)
    way = box("b", origin="existing"), cable("f", "panel", "b", origin="existing")
    found = circuit(supply(voltage_v=120), *way, stays, goes)
    after = replace(found, loads=(stays,), before=AsFound(circuit=found, gone=frozenset({Ref("load", "goes")})))
    (gone,) = case_of(after, book()).gone
    assert (gone.load.id, gone.load.power_w, gone.has_watts) == ("goes", 240, True)
    without_watts = replace(found, loads=(stays, load("goes", "b", kind="heater", current_a=2)))
    after = replace(after, before=AsFound(circuit=without_watts, gone=frozenset({Ref("load", "goes")})))
    (gone,) = case_of(after, book()).gone
    assert gone.has_watts is False


def test_a_word_that_is_guessed_settles_nothing():
    known = load("l", "b", power_w=60, kind="fan")
    guessed = load("l", "b", power_w=60, kind="fan", known_by={"kind": How.GUESS})
    assert "kind" not in open_of(made(box("b"), known).loads[0])
    assert "kind" in open_of(made(box("b"), guessed).loads[0])


def test_what_nobody_asks_for_is_not_looked_at(monkeypatch):
    looked_at = []

    def noted(kind, *given):
        looked_at.append(kind)
        return possible_of(kind, *given)

    monkeypatch.setattr(waiting, "possible_of", noted)
    case = made(box("b", neutral=None), cable("f", "panel", "b", length_m=(5, 9)))
    assert looked_at == []
    with case.reading.at(lambda entry: entry.possible.options[0]):
        assert case.cables[0].length_m == case.cables[0].length_m == 5
    assert looked_at == ["cable.length"]
    assert [entry.part for entry in case.entries_of("box", "neutral")] == [case.boxes[0]]
    assert looked_at == ["cable.length", "box.neutral"]
    assert case.cables[0].conductor_temperature_c == 75  # only this is possible, so that there is nothing to look at
    assert looked_at == ["cable.length", "box.neutral"]


def test_an_entry_is_the_same_for_whoever_asks_for_it():
    run = made(box("b"), cable("f", "panel", "b", length_m=(5, 9))).cables[0]
    entry = waiting.entry_of(run, "length_m")
    assert entry is open_entries(run)["length_m"] is waiting.entry_of(run, "length_m")
    assert waiting.entry_of(run, "id") is None
