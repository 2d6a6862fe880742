"""What the work adds to one known circuit, and in which rooms."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.case import Case
from circuitcheck.case.parts import Control, Driver, Load


def added_outlets(case: Case) -> Iterator[Load | Driver]:
    """The loads and drivers that the work adds. A light that takes the place of another on its old box is none."""
    yield from (load for load in case.loads if load.is_added and not load.replaces)
    yield from (driver for driver in case.drivers if driver.is_added and driver.ref not in case.replaced)


def added_devices(case: Case) -> Iterator[Control]:
    """The switches and the like that the work adds. One that takes the place of another is none."""
    return (control for control in case.controls if control.is_added and control.ref not in case.replaced)


def adds_outlet_or_device(case: Case) -> bool:
    """Whether the work brings an outlet or a device more; what is only moved was there before."""
    return any(part.ref not in case.moved for part in (*added_outlets(case), *added_devices(case)))


def has_added_work(case: Case) -> bool:
    """Whether anything on the branch circuit is added: an outlet, a device, a cable or a box."""
    parts = (*added_outlets(case), *added_devices(case), *case.cables, *case.boxes)
    return any(part.is_added for part in parts)
