"""What the wiring tells about a box: whether a neutral can be in it."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.model import PANEL, Box, Cable, Circuit, Control, Load, Supply
from circuitcheck.circuit.switched import LOOPS
from circuitcheck.possible.entry import UNSETTLED, Inference, Later, Possible
from circuitcheck.quantities import How
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

_BOTH = "feed and switched"
_FEED = Possible(("feed",))
#: What passes a constant hot on brings its neutral.
_WITH_NEUTRAL = ("feed", _BOTH)
#: Where one of these ends, a switched conductor may go on.
_SWITCHED_TOO = (_BOTH, *LOOPS)
_LOOP, _LOOP_CONDUCTORS = "switch loop", 2
#: What a third wire from the panel is for where the neutral serves two circuits.
TWO_CIRCUITS, _THREE = "two circuits", 3
_NOT_SHARED = Possible((False,), "the third wire of its cable is said to be of this circuit; nothing is shared")
_NOT_SAID = "not given what it carries; a feed that is always on is assumed"


def neutral(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A loop of two conductors is two hots; a feed, or a load that works there, shows a neutral.

    Whether a switch stands in the box too changes nothing of that. Of any other box nobody knows it before a look:
    that no switch is listed does not say that none is there, nor what its feed carries.
    """
    feed = circuit.tree.feed.get(box.id)
    if box.neutral is not None:
        return _from_new_cable(box, feed)
    carries = feed.carries if feed is not None and _is_told(feed, "carries") else None
    if feed is not None and carries == _LOOP:
        two = feed.conductors == _LOOP_CONDUCTORS and _is_told(feed, "conductors")
        return Possible((False,)) if two else UNSETTLED
    if carries in _WITH_NEUTRAL:
        return Possible((True,))
    old_feed = feed is not None and feed.origin == "existing" and _is_told(feed, "origin")
    if old_feed and _works_there(box, circuit):
        return Possible((True,), "a load works in it, so a neutral is there")
    if box.origin == "added" and _is_told(box, "origin"):
        says = "unknown whether a neutral is brought to it"
        return Possible((True, False), says, later=Later.WORK_TO_COME)
    return UNSETTLED


def _from_new_cable(box: Box, feed: Cable | None) -> Possible | None:
    """That no neutral is in an old box was seen before the new cable to it came, which may bring one."""
    if feed is None or box.neutral:
        return UNSETTLED
    box_is_told, feed_is_told = _is_told(box, "origin"), _is_told(feed, "origin")
    guessed = not (box_is_told and feed_is_told)
    if (box.is_added and box_is_told) or (not feed.is_added and feed_is_told):
        return UNSETTLED
    carries = feed.carries if _is_told(feed, "carries") else None
    two = feed.conductors is not None and feed.conductors <= _LOOP_CONDUCTORS and _is_told(feed, "conductors")
    if carries == _LOOP and two:
        return UNSETTLED
    if guessed:
        return Possible((True, False), "unknown whether the cable to it came after that look and brings it a neutral")
    if carries in _WITH_NEUTRAL:
        return Possible((True,), "its new cable brings it a neutral")
    return Possible((True, False), "unknown whether its new cable brings it a neutral", later=Later.WORK_TO_COME)


def _works_there(box: Box, circuit: Circuit) -> bool:
    """Whether a load hangs on a box before the work: one that is still there, or one that is replaced or goes."""
    before = circuit.before
    found = () if before is None or Ref("box", box.id) in before.moved else before.circuit.tree.loads_at.get(box.id, ())
    return any(
        (load.origin == "existing" and _is_told(load, "origin")) or (load.replaces and _is_told(load, "replaces"))
        for load in (*circuit.tree.loads_at.get(box.id, ()), *found)
    )


def shared_neutral(supply: Supply, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Told by what the third wire of a cable from the panel is for; absent, where that is what has to be found out."""
    if supply.shared_neutral is not None:
        return UNSETTLED
    cables = circuit.tree.children.get(PANEL, ())
    if any(cable.carries == TWO_CIRCUITS and _is_told(cable, "carries") for cable in cables):
        return Possible((True,))
    three = [cable for cable in cables if _has_a_third_wire(cable)]
    if not three or any(cable.carries == "feed" for cable in three):
        return UNSETTLED
    if any(cable.carries is None for cable in three):
        return None
    told = all(_is_told(cable, "conductors") and cable.conductors is not None for cable in cables)
    return _NOT_SHARED if told else UNSETTLED


def carries(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """What a third wire from the panel is for is open where nobody says whether the neutral is shared.

    A cable that a switch is said to turn off is switched, or brings both. What comes straight from the panel is a feed,
    and so is a new cable; behind one that brings both, or may do so, and behind a loop or travelers it may be either.
    A cable from the panel of which nobody counted the wires may have that third one: it is a feed by presumption only.
    """
    told = _told_by_itself(cable, circuit)
    if told is not UNSETTLED or cable.carries is not None or cable.origin != "added":
        return told
    before = circuit.tree.feed.get(cable.from_id)
    if before is None:
        return _FEED
    may = _told_by_itself(before, circuit)
    both = before.carries in _SWITCHED_TOO or (may is not UNSETTLED and may is not None and _BOTH in may.options)
    return Possible(("feed", "switched"), _NOT_SAID, presumed=True) if both else _FEED


def _told_by_itself(cable: Cable, circuit: Circuit) -> Possible | None:
    """What a cable carries by its own wires, its own switch, and whether it comes from the panel."""
    if cable.carries is not None:
        return UNSETTLED
    third = _has_a_third_wire(cable)
    if circuit.supply.shared_neutral is None and cable.from_id == PANEL and third:
        return Possible((_BOTH, TWO_CIRCUITS), "unknown what its third wire is for")
    if cable.switched_by is not None:
        two = cable.conductors is not None and not third and _is_told(cable, "conductors")
        return Possible(("switched",)) if two else Possible(("switched", _BOTH), presumed=True)
    if cable.from_id != PANEL:
        return UNSETTLED
    counted = cable.conductors is not None and _is_told(cable, "conductors")
    if circuit.supply.shared_neutral is None and not counted:
        return Possible(("feed", _BOTH, TWO_CIRCUITS), _NOT_SAID, presumed=True)
    return _FEED


def volts_between_hots(supply: Supply, circuit: Circuit, book: Rulebook) -> Possible | None:
    """From none, on one leg, to twice the voltage, where the neutral may be shared and no two poles tell it."""
    if supply.volts_between_hots_v is not None or supply.shared_neutral is False:
        return None
    two_poles = supply.poles is not None and supply.poles > 1 and supply.known_by.get("poles") != How.GUESS
    if two_poles or shared_neutral(supply, circuit, book) == _NOT_SHARED:
        return None
    return Possible((0.0, 2.0 * supply.voltage_v.high), "unknown on which legs the two hots are")


def _has_a_third_wire(cable: Cable) -> bool:
    return cable.conductors is not None and cable.conductors >= _THREE and _is_told(cable, "conductors")


def _is_told(part: Box | Cable | Load, key: str) -> bool:
    return part.known_by.get(key) != How.GUESS


def needs_neutral(control: Control, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Plain switches need none, two-wire dimmers and timers take their current through the lamps, and what is there
    already works.
    """
    if control.needs_neutral is not None:
        return UNSETTLED
    if not control.is_added or control.kind in ("switch", "dimmer", "timer"):
        return Possible((False,))
    return UNSETTLED


def white_remarked(cable: Cable, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A mark that is missing is put on in a minute, on an old loop as on a new one: work to come."""
    if cable.white_remarked is not None:
        return UNSETTLED
    says = "unknown whether the white wire used as hot is marked"
    return Possible((False, True), says, later=Later.WORK_TO_COME)


def burns_all_the_time(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A light that no switch turns off, and that surely has none of its own, is on for hours whatever is said."""
    has_none = load.own_switch is False and _is_told(load, "own_switch")
    told = load.kind == "light" and has_none and load.switched_by is None and load.connection != "cord"
    return Possible((True,)) if told and load.box in _never_switched(circuit) else UNSETTLED


def _never_switched(circuit: Circuit) -> frozenset[str]:
    """The boxes to which a constant hot is said to lead all the way."""
    kept = circuit.worked_out.get(_never_switched)
    if kept is None:
        boxes = {PANEL}
        for cable in circuit.tree.branch_cables:
            if cable.from_id in boxes and cable.carries == "feed" and cable.switched_by is None:
                boxes.add(cable.to_id)
        kept = circuit.worked_out[_never_switched] = (frozenset(boxes), None)
    never, _ = kept
    assert isinstance(never, frozenset)  # noqa: S101 - as it was kept
    return never


SWITCHING: Mapping[str, Inference] = {
    function.__name__: function
    for function in (
        neutral,
        needs_neutral,
        white_remarked,
        burns_all_the_time,
        shared_neutral,
        carries,
        volts_between_hots,
    )
}
