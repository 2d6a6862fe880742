"""What the wiring tells about a box: whether a neutral can be in it."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.model import Box, Circuit
from circuitcheck.possible.entry import UNSETTLED, Inference, Later, Possible
from circuitcheck.tables.rulebook import Rulebook

#: What passes a constant hot on brings its neutral.
_WITH_NEUTRAL = ("feed", "feed and switched")
_LOOP, _LOOP_CONDUCTORS = "switch loop", 2
#: Devices that may stand at the end of a switch loop.
_SWITCHING = ("switch", "dimmer", "sensor", "timer")


def neutral(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A loop of two conductors is two hots; a feed, or a light that works there, shows a neutral.

    A box that holds no switch most likely has one, since what feeds it is then no loop.
    """
    if box.neutral is not None:
        return UNSETTLED
    feed = circuit.tree.feed.get(box.id)
    carries = feed.carries if feed is not None else None
    if feed is not None and carries == _LOOP:
        return Possible((False,)) if feed.conductors == _LOOP_CONDUCTORS else UNSETTLED
    if carries in _WITH_NEUTRAL:
        return Possible((True,))
    switched = any(control.box == box.id for control in circuit.controls)
    if switched or any(device.kind in _SWITCHING for device in box.devices or ()):
        return UNSETTLED
    if any(load.origin == "existing" for load in circuit.tree.loads_at.get(box.id, ())):
        return Possible((True,), "a load works in it, so a neutral is there")
    return Possible((True, False), "holds no switch, so it most likely has a neutral; look first", later=Later.LIKELY)


SWITCHING: Mapping[str, Inference] = {function.__name__: function for function in (neutral,)}
