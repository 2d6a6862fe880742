"""Devices that a box must hold although the file lists none there: a switch or a receptacle stands on a yoke."""

from __future__ import annotations

from dataclasses import replace

from circuitcheck.circuit.model import Box, Circuit, Device
from circuitcheck.rules.once import once
from circuitcheck.tables.rulebook import Rulebook

_ON_A_RECEPTACLE = "cord"


@once
def what_stands_on_a_device(circuit: Circuit, book: Rulebook) -> dict[str, str]:
    """Box id -> the first control, receptacle or plugged-in load there, for boxes in which no device is listed.

    One device is all that follows for sure: a switch and a receptacle may share a yoke.
    """
    bare = {box.id for box in circuit.boxes if not box.devices}
    found: dict[str, str] = {}
    for control in circuit.controls:
        if control.box in bare:
            found.setdefault(control.box, control.id)
    for load in circuit.loads:
        if load.box in bare and (load.kind == "receptacle" or load.connection == _ON_A_RECEPTACLE):
            found.setdefault(load.box, load.id)
    return found


def with_device(box: Box) -> Box:
    """The box with the one device that nobody listed."""
    return replace(box, devices=(Device(kind="a device that is not listed"),))
