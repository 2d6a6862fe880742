"""What a box may hold while the file does not say: each inference by its own words, with the source it rests on."""

import pytest

from circuitcheck.case.making import case_of
from circuitcheck.circuit.model import FixtureWires, OtherCable
from tests.rules.build import book, box, cable, circuit, control, device, driver, load

#: What the builder of boxes says plainly is unknown here.
UNSAID = dict.fromkeys(("devices", "fixture_wires", "fixture_ground", "unbroken", "other_cables", "gangs", "fittings"))


def entry(name, *parts, **given):
    """The open entry of the box, None where it is settled, and the value where it is."""
    built = circuit(box("b", **UNSAID | given), cable("in", "panel", "b"), *parts)
    case = case_of(built, book())
    opened = {each.kind: each for each in case.entries if each.ref.id == "b"}.get(f"box.{name}")
    return opened, None if opened is not None else getattr(case.boxes[0], name)


def leads(*parts, **given):
    """The options for the leads: how many in all."""
    opened, value = entry("fixture_wires", *parts, **given)
    options = (value,) if opened is None else opened.possible.options
    return [sum(each.count for each in option) for option in options]


@pytest.mark.parametrize(
    ("part", "counts"),
    [
        (load("x", "b", mounting="wall"), [0, 2]),
        (load("x", "b", mounting="pendant"), [0, 4]),
        (load("x", "b", kind="fan"), [0, 3]),
        (load("x", "b", mounting="wall", quantity=3), [0, 6]),
        (load("x", "b", mounting="wall", connection=None), [0, 2]),
        (load("x", "b", mounting=None), [0, 4]),
        # As a fan brings, or a heater: its two of 14 AWG count under a canopy too (314.16(B)(1), exception).
        (load("x", "b", kind="fan", mounting="ceiling", known_by={"kind": "guess"}), [0, 3, 2]),
        (load("x", "b", kind=None, mounting="pendant"), [0, 4, 2]),
        (load("x", "b", kind="fan", mounting="ceiling", quantity=1, known_by={"quantity": "guess"}), [0, 6]),
        (load("x", "b", mounting="wall", connection="cord", known_by={"connection": "guess"}), [0, 2]),
        (load("x", "b", connection="cord"), [0]),
        (load("x", "b", kind="receptacle"), [0]),
        (driver("x", "b", dimming="phase"), [0, 2]),
        (driver("x", "b", dimming=None), [0, 4]),
    ],
)
def test_leads_of_what_is_hardwired(part, counts):
    """Common practice, ``luminaire-leads``: none at best, what is usual for the kind at worst."""
    assert leads(part) == counts


def test_leads_that_are_counted_are_believed():
    assert leads(load("x", "b"), fixture_wires=()) == [0]


@pytest.mark.parametrize(
    ("parts", "counted", "more"),
    [
        ((load("old", "b", mounting="wall"), driver("new", "b")), 2, 2),
        ((load("old", "b", mounting="wall"), load("new", "b", mounting="wall", quantity=2)), 2, 4),
        ((load("old", "b", mounting="wall"), driver("new", "b")), 4, None),
        ((driver("new", "b"),), 0, 2),
        ((load("bare lampholder", "b", mounting="wall"),), 0, None),
        ((load("old", "b"), load("lamp", "b", connection="cord")), 2, None),
        ((load("old", "b"), load("thing", "b", kind=None)), 2, None),
        ((load("old", "b"), load("thing", "b", connection="hardwired", known_by={"connection": "guess"})), 2, None),
    ],
)
def test_leads_may_have_been_counted_before_the_work(parts, counted, more):
    """Two for each at the least, but those of a bare lampholder: ``luminaire-leads``. It is presumed, and told."""
    wires = (FixtureWires(size="18 AWG", count=counted),) if counted else ()
    opened, value = entry("fixture_wires", *parts, fixture_wires=wires)
    if more is None:
        assert (opened, value) == (None, wires)
    else:
        assert opened.possible.presumed
        assert opened.possible.options == (wires, (*wires, FixtureWires(size="18 AWG", count=more)))


def test_a_light_said_to_have_no_ground_brings_none():
    assert entry("fixture_ground", load("x", "b", grounding="none")) == (None, None)
    opened, _ = entry("fixture_ground", load("x", "b", grounding="wire"))
    assert opened.possible.options == (None, "18 AWG")


def test_a_ground_lead_is_as_thick_as_the_thickest_that_may_come():
    """314.16(B)(5): all equipment grounds count as one of the largest. A heater brings 14 AWG: ``luminaire-leads``."""
    for unsure in (load("x", "b", kind=None), load("x", "b", known_by={"kind": "guess"})):
        opened, _ = entry("fixture_ground", unsure)
        assert opened.possible.options == (None, "18 AWG", "14 AWG")
    opened, _ = entry("fixture_ground", load("x", "b"), load("y", "b", kind="heater"))
    assert opened.possible.options == (None, "14 AWG")
    opened, _ = entry("fixture_ground", load("x", "b"), load("y", "b", kind="heater", grounding="double-insulated"))
    assert opened.possible.options == (None, "18 AWG")


def test_a_driver_brings_a_ground_lead():
    """250.4(A)(2): metal that encloses conductors is connected to ground. How many leads: ``luminaire-leads``."""
    opened, _ = entry("fixture_ground", driver("x", "b"))
    assert opened.possible.options == (None, "18 AWG")
    assert entry("fixture_ground") == (None, None)


def test_what_plugs_in_and_may_be_the_receptacle_itself_counts_once():
    opened, _ = entry("devices", load("x", "b", kind=None, connection="cord"))
    assert [len(option) for option in opened.possible.options] == [0, 1]


def test_beside_a_switch_a_light_that_may_plug_in_may_bring_a_receptacle():
    opened, _ = entry("devices", control("s", "b"), load("x", "b", connection=None))
    assert [len(option) for option in opened.possible.options] == [0, 1, 2]


def test_a_guess_that_a_box_holds_no_device_says_no_more_than_knowing_it():
    """What follows from a list follows from a guess at it too: a switch stands on a yoke."""
    known, _ = entry("devices", control("s", "b"), devices=())
    guessed, _ = entry("devices", control("s", "b"), devices=(), known_by={"devices": "guess"})
    assert [len(option) for option in guessed.possible.options] == [0, 1]
    assert guessed.possible.options == known.possible.options


def test_a_yoke_for_each_switch_and_receptacle():
    opened, _ = entry("devices", control("one", "b"), control("two", "b"), load("outlet", "b", kind="receptacle"))
    assert [len(option) for option in opened.possible.options] == [0, 1, 2, 3]
    assert entry("devices", load("x", "b")) == (None, ())


@pytest.mark.parametrize(
    ("parts", "given", "counts"),
    [
        ((control("one", "b"), control("two", "b")), {}, [1, 2]),
        ((control("one", "b"), control("two", "b"), load("outlet", "b", kind="receptacle")), {}, [1, 2, 3]),
        ((control("one", "b"), load("lamp", "b", connection="cord")), {}, [1]),  # another rule asks about a plug
        ((control("one", "b"), control("two", "b")), {"gangs": 1}, [1]),
        ((control("one", "b"), control("two", "b")), {"gangs": 2}, [1, 2]),
        ((control("one", "b"), control("two", "b")), {"gangs": 1, "known_by": {"gangs": "guess"}}, [1, 2]),
    ],
)
def test_a_list_with_fewer_devices_than_switches_may_be_short(parts, given, counts):
    """One that the work brings is easily left out; but two may share a yoke, as they must in a box of one gang."""
    opened, value = entry("devices", *parts, devices=(device(size="14 AWG"),), **given)
    options = (value,) if opened is None else opened.possible.options
    assert [len(option) for option in options] == counts
    assert all(option[0] == device(size="14 AWG") for option in options)


@pytest.mark.parametrize(
    "part",
    [load("x", "b", kind=None), load("x", "b", connection=None), load("x", "b", known_by={"kind": "guess"})],
)
def test_what_may_turn_out_to_be_a_receptacle_or_to_plug_in_may_bring_a_yoke(part):
    """A yoke that nobody lists takes the room of two conductors (314.16(B)(4)) and wants a deeper box (314.24)."""
    opened, _ = entry("devices", part)
    assert [len(option) for option in opened.possible.options] == [0, 1]


def test_a_box_of_two_gangs_may_be_shared():
    """One two-wire cable for each gang that this circuit leaves."""
    two = (device(), device())
    opened, _ = entry("other_cables", control("one", "b"), devices=two)
    assert opened.possible.options == ((), (OtherCable(size="12 AWG", conductors=2),))
    assert entry("other_cables", control("one", "b"), control("two", "b"), devices=two) == (None, ())
    assert entry("other_cables", control("one", "b"), devices=(device(),)) == (None, ())
    # What plugs in here does so into a receptacle of this circuit: that is the second gang.
    assert entry("other_cables", control("one", "b"), load("lamp", "b", connection="cord"), devices=two) == (None, ())


@pytest.mark.parametrize("name", ["fittings", "unbroken"])
def test_lists_that_are_presumed_empty_count_as_empty(name):
    opened, _ = entry(name)
    assert opened.possible.presumed
    assert opened.possible.options[0] == ()


def test_nothing_runs_through_a_new_box_unsaid():
    assert entry("unbroken", origin="added") == (None, ())


def test_gangs_are_as_many_as_the_devices_are_wide():
    assert entry("gangs", devices=(device(gangs=2), device()))[1] == 3


def test_a_guess_at_the_gangs_may_be_short_by_one():
    opened, _ = entry("other_cables", gangs=2, known_by={"gangs": "guess"})
    assert [len(cables) for cables in opened.possible.options] == [0, 2]
    opened, _ = entry("gangs", devices=(device(gangs=2),), known_by={"devices": "guess"})
    assert opened.possible.options == (1, 2)


def test_what_plugs_in_may_plug_into_what_is_perhaps_a_receptacle():
    """One receptacle serves both: the load of unknown kind is it, or the lamp's plug tells of it."""
    unknown = load("x", "b", kind=None, connection="hardwired")
    for connection in ("cord", None):
        opened, _ = entry("devices", unknown, load("lamp", "b", connection=connection))
        assert max(map(len, opened.possible.options)) == 1
