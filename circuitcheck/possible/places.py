"""What a light's room tells about it: how wet its place may be, and whether it can be over a bath."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Box, Circuit, Driver, Load, LowVoltageLoad
from circuitcheck.possible.entry import UNSETTLED, Inference, Later, Possible, is_surely_added
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Rulebook

_OUTDOORS, _OTHER, _CORD, _PENDANT, _RECESSED = "outdoors", "other", "cord", "pendant", "recessed"


def _room(part: Box | Load | LowVoltageLoad, circuit: Circuit) -> str | None:
    """The room of a box or a light, or the room of the job where it does not say; None: any, as of an old box.

    A guess is forgotten before anything is inferred, but who guesses a room does not mean the room of the job.
    """
    if isinstance(part, Load):
        part = circuit.tree.box[part.box]
    if part.known_by.get("room") == How.GUESS:
        return None
    if isinstance(part, Box) and not is_surely_added(part):
        return part.room
    return part.room or circuit.site.room


def _place(room: str | None, outdoors: bool, book: Rulebook) -> Possible:
    """How wet a place in a room may be; ``outdoors``: a light is said to hang there out of doors."""
    outside, perhaps = book.value("outdoor-rooms"), book.value("damp-rooms")
    if outdoors or room in outside.items:
        return Possible(("damp", "wet"), "outdoors: damp under a roof, else wet; not given which", (outside.source,))
    if room in perhaps.items:
        return Possible(("dry", "damp"), f"a {room} may be dry or damp; not given which", (perhaps.source,))
    return UNSETTLED if room in (None, _OTHER) else Possible(("dry",))


def location(box: Box, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Rooms are dry but for those that the book lists; outdoors it is damp at least."""
    if box.location is not None:
        return UNSETTLED
    outdoors = any(load.mounting == _OUTDOORS for load in circuit.tree.loads_at.get(box.id, ()))
    room = _room(box, circuit)
    if room is None and not outdoors and circuit.site.room is not None:
        words = SECTIONS["box"].keys["location"].words
        return Possible(words, "room of the box not given, so its place may be dry, damp or wet", ask_for="room")
    return _place(room, outdoors, book)


def light_location(light: LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """As for a box."""
    if light.location is not None:
        return UNSETTLED
    return _place(_room(light, circuit), light.mounting == _OUTDOORS, book)


def room(part: Box | LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """What is new is in the room of the job where it does not say otherwise; an old box may be in any room.

    A low-voltage light is there too, old or new; its driver may be elsewhere.
    """
    presumed = _room(part, circuit)
    return UNSETTLED if part.room is not None or presumed is None else Possible((presumed,))


def over_bath(part: Load | LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Tubs and showers stand in the rooms that the book lists."""
    room = _room(part, circuit)
    if part.over_bath is not None or room is None or room in book.value("rooms-with-a-bath").items:
        return UNSETTLED
    return Possible((False,))


def height_over_bath(part: Load | LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A light over a bath is within reach of the zone unless somebody measured; one that may hang is asked [m]."""
    if part.height_over_bath_m is not None:
        return UNSETTLED
    strip = isinstance(part, LowVoltageLoad) and part.power_per_length_w_per_m is not None
    may_hang = part.mounting == _PENDANT or (part.mounting is None and not strip)
    if isinstance(part, Load):  # a fan and a receptacle may not be in the zone, as little as what hangs
        may_hang = may_hang or part.connection in (None, _CORD) or part.kind in (None, "fan", "receptacle")
        may_hang = may_hang or part.known_by.get("kind") == How.GUESS
    if may_hang:
        # From the rim to far above the zone: the ends between which it is decided.
        return Possible((0.0, 2 * book.value("bath-zone-height").number), "height over the tub rim unknown")
    return Possible((0.0,), "height over the tub rim unknown; it is assumed to be low enough to count as over the bath")


def light_mounting(light: LowVoltageLoad, circuit: Circuit, book: Rulebook) -> Possible | None:
    """A strip is fixed along something: it neither hangs down nor is it set into a ceiling.

    What is in a room that is known to be inside the house is not mounted outdoors.
    """
    strip = light.power_per_length_w_per_m is not None
    inside = _is_inside(_room(light, circuit), book)
    if light.mounting is not None or not (strip or inside):
        return UNSETTLED
    never = (*((_PENDANT, _RECESSED) if strip else ()), *((_OUTDOORS,) if inside else ()))
    words = SECTIONS["low_voltage_load"].keys["mounting"].words
    return Possible(tuple(word for word in words if word not in never), "unknown where it is mounted")


def _is_inside(room: str | None, book: Rulebook) -> bool:
    """Whether a room is known to be inside the house."""
    return room not in (None, _OTHER) and room not in book.value("outdoor-rooms").items


def mounting(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """What hangs on a box in a room that is known to be inside the house is not mounted outdoors."""
    if load.mounting is not None or not _is_inside(_room(load, circuit), book):
        return UNSETTLED
    words = SECTIONS["load"].keys["mounting"].words
    return Possible(tuple(word for word in words if word != _OUTDOORS), "unknown where it is mounted")


def insulation_contact(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Nobody needs the mark of a light that is not known to be recessed; whether it is, is asked first."""
    return UNSETTLED if load.insulation_contact is not None or load.mounting == _RECESSED else Possible((False,))


def in_insulation(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """As for the mark for contact with insulation."""
    return UNSETTLED if load.in_insulation is not None or load.mounting == _RECESSED else Possible((True,))


def location_marked(part: Load | LowVoltageLoad | Driver, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Where a room is only perhaps damp, the mark of a light still to be chosen is work to come, not a question.

    So is that of a receptacle anywhere.
    """
    holder = part if isinstance(part, LowVoltageLoad) else circuit.tree.box[part.box]
    if part.location_marked is not None or not part.is_added:
        return UNSETTLED
    if isinstance(part, Load) and part.kind == "receptacle" and part.known_by.get("kind") != How.GUESS:
        return Possible(("dry", "damp", "wet"), "unknown for which place it is marked", later=Later.WORK_TO_COME)
    if holder.location is not None:
        return UNSETTLED
    perhaps_elsewhere = not isinstance(part, Driver) and (
        part.over_bath
        or (part.over_bath is None and over_bath(part, circuit, book) is UNSETTLED)
        or part.mounting == _OUTDOORS
    )
    if perhaps_elsewhere or _room(holder, circuit) not in book.value("damp-rooms").items:
        return UNSETTLED
    return Possible(("dry", "damp", "wet"), "unknown for which place it is marked", later=Later.WORK_TO_COME)


def converted(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Lights with a plug are made for tables, floors, walls, cabinets and chains, not for ceilings."""
    if load.converted is None and load.mounting in book.value("mountings-without-a-plug").items:
        return Possible((False,))
    return UNSETTLED


def hardwire_in_instructions(load: Load, circuit: Circuit, book: Rulebook) -> Possible | None:
    """Nobody needs it of a light that was not made to plug in; whether it was is asked first."""
    return UNSETTLED if load.converted or load.hardwire_in_instructions is not None else Possible((False,))


PLACES: Mapping[str, Inference] = {
    function.__name__: function
    for function in (
        location,
        light_location,
        room,
        over_bath,
        height_over_bath,
        location_marked,
        converted,
        hardwire_in_instructions,
        light_mounting,
        mounting,
        insulation_contact,
        in_insulation,
    )
}
