"""What the wiring tells about a driver: whether it stays within reach, and whether insulation can lie around it."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.model import Circuit, Driver
from circuitcheck.possible.entry import UNSETTLED, Inference, Later, Possible
from circuitcheck.tables.rulebook import Rulebook

_ATTIC = "attic"


def driver_reachable(driver: Driver, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A driver whose own access is not given is no easier to reach than the box that it hangs on."""
    box = circuit.tree.box.get(driver.box)
    if driver.reachable is not None or box is None or box.reachable is not False:
        return UNSETTLED
    return Possible((False,), "its box cannot be reached, so the driver cannot either")


def driver_insulation(driver: Driver, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Insulation lies on the floor of an attic. Where no cable at the driver runs there, keeping clear is work to come.

    A cable whose place nobody gave may run in an attic.
    """
    if driver.in_insulation is not None or not driver.is_added:
        return UNSETTLED
    cables = (*circuit.tree.cables_at.get(driver.box, ()), *circuit.tree.cables_at.get(driver.id, ()))
    if any(cable.place in (None, _ATTIC) for cable in cables):
        return UNSETTLED
    return Possible((True, False), "unknown whether insulation lies around it", later=Later.WORK_TO_COME)


DRIVERS: Mapping[str, Inference] = {function.__name__: function for function in (driver_reachable, driver_insulation)}
