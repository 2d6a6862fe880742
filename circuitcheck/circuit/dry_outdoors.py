"""Places that a file calls dry although something new hangs outdoors there."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import NamedTuple

from circuitcheck.circuit.model import Box, Circuit, Driver, Load, LowVoltageLoad, Site
from circuitcheck.quantities import How

_DRY, _OUTDOORS = "dry", "outdoors"


class DryOutdoors(NamedTuple):
    """A box or a low-voltage light that is said to be dry, and ``why`` its place is outdoors; both entries."""

    subject: str
    why: str
    keys: tuple[str, str]


def dry_outdoors(circuit: Circuit, outdoor_rooms: Collection[str]) -> Iterator[DryOutdoors]:
    """Each place with something new that is said to be dry and, by its room or by its light, outdoors.

    A guess says nothing. Of an old box without a room nobody knows the room; what is new is in the room of the job.
    """
    for box in circuit.boxes:
        loads = circuit.tree.loads_at.get(box.id, ())
        hung: tuple[Load | Driver, ...] = (*loads, *circuit.tree.drivers_at.get(box.id, ()))
        if any(_may_be_added(part) for part in hung):
            yield from _of(box, loads, circuit.site if box.is_added else None, outdoor_rooms)
    for light in circuit.low_voltage_loads:
        if _may_be_added(light):
            yield from _of(light, (light,), circuit.site, outdoor_rooms)


def _of(
    place: Box | LowVoltageLoad,
    lights: tuple[Load | LowVoltageLoad, ...],
    site: Site | None,
    outdoor_rooms: Collection[str],
) -> Iterator[DryOutdoors]:
    """``site``: whose room counts where the place has none of its own."""
    if place.location != _DRY or not _is_told(place, "location"):
        return
    holder = place if place.room is not None else site
    if holder is not None and holder.room in outdoor_rooms and _is_told(holder, "room"):
        key = "site.room" if isinstance(holder, Site) else str(holder.entry("room"))
        yield DryOutdoors(place.id, f"its room is {holder.room}", (str(place.entry("location")), key))
        return
    for light in lights:
        if light.mounting == _OUTDOORS and _is_told(light, "mounting"):
            why = f'"{light.id}" is mounted outdoors'
            yield DryOutdoors(place.id, why, (str(place.entry("location")), str(light.entry("mounting"))))
            return


def _may_be_added(part: Load | LowVoltageLoad | Driver) -> bool:
    return part.is_added or part.known_by.get("origin") == How.GUESS


def _is_told(part: Box | Load | LowVoltageLoad | Site, key: str) -> bool:
    return part.known_by.get(key) != How.GUESS
