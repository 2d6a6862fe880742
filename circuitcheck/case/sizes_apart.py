"""The circuit once more, in which the size of each of some cables is chosen: as planned, or another.

Which size counts is read like an open entry, so all sizes stand in one case, and what hangs on none is worked out once.
What follows from the size of a cable (of what metal it can be, whether it is solid) is looked up for that size.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from circuitcheck.case.case import Case
from circuitcheck.case.entry import OpenEntry
from circuitcheck.case.parts import Cable, Part
from circuitcheck.case.reading import Reading
from circuitcheck.case.waiting import WATCHED, FromFile, key_rows, part_of, take_over
from circuitcheck.circuit.model import Cable as CableInFile
from circuitcheck.circuit.model import Circuit
from circuitcheck.possible import Possible

#: The kind of the entries that say which size counts.
CHOSEN_SIZE: Final = "chosen cable.size"
#: What may follow from the size of a cable.
_BY_SIZE = frozenset({"size", "material", "stranding", "length_m"})

#: By its id and a place among the sizes, a cable as it would stand in the file with this size, and the circuit then.
Resized = Callable[[str, int], tuple[CableInFile, Circuit]]


class SizesApart:
    """A circuit in which sizes are chosen, each by its place among the sizes that are tried; None where none is.

    case: the circuit. of_cable: by the id of a cable what says which size it has. thinnest: what says which size none
    of them is thicker than, except where its own is chosen. chosen: the set of all these, as their bits.
    """

    def __init__(self, planned: Case, places: Mapping[str, int], resized: Resized) -> None:
        """``places``: by the id of each cable of which the size is chosen where its planned size stands."""
        self.thinnest = _choice(planned.supply, planned.reading)
        cables = tuple(
            _of_any_size(_Planned(cable, places[cable.id], self.thinnest, planned.reading, resized))
            if cable.id in places
            else cable
            for cable in planned.cables
        )
        others = ("job", "supply", "site", "boxes", "loads", "drivers", "low_voltage_loads", "controls", "framing")
        sections = {"cables": cables, **{name: getattr(planned, name) for name in others}}
        self.case = case = Case(planned.book, planned.reading, sections)
        case.gone, case.replaced, case.moved, case.opened = (
            planned.gone,
            planned.replaced,
            planned.moved,
            planned.opened,
        )
        self.of_cable = {cable.id: vars(cable)["_source"].chosen for cable in cables if cable.id in places}
        self.chosen = self.thinnest.bit
        for entry in self.of_cable.values():
            self.chosen |= entry.bit


def _choice(part: Part, reading: Reading) -> OpenEntry:
    """An entry that says which size counts. It is never open, and nobody asks for it."""
    possible = Possible((None,), ask_for=CHOSEN_SIZE)
    return reading.enter(OpenEntry(CHOSEN_SIZE, key_rows("cable")["size"].key, possible, part, 0.0))


class _BySize:
    """Stands in the class for what hangs on the size that counts."""

    __slots__ = ("_name",)

    def __init__(self, name: str) -> None:
        self._name = name

    def __get__(self, part: Any, kind: Any = None) -> Any:
        return self if part is None else getattr(part.__dict__["_source"].now(), self._name)


#: A cable of which the size is chosen.
_OF_ANY_SIZE: type[Part] = type("CableOfAnySize", (WATCHED["cable"],), {name: _BySize(name) for name in _BY_SIZE})


def _of_any_size(planned: _Planned) -> Any:
    cable = object.__new__(_OF_ANY_SIZE)
    vars(cable).update(planned.settled, _open={}, _source=planned)
    return cable


class _Planned:
    """A planned cable, and the same in every size that was looked at. chosen: what says which size counts.

    settled: what is known whatever its size.
    """

    __slots__ = ("_at", "_cable", "_counts", "_place", "_resized", "_thinnest", "chosen", "reading", "settled")

    def __init__(self, cable: Cable, place: int, thinnest: OpenEntry, reading: Reading, resized: Resized) -> None:
        self._cable, self._place, self._thinnest, self._resized = cable, place, thinnest, resized
        self.reading = reading
        self.chosen = _choice(cable, reading)
        self.settled = {
            name: value for name, value in vars(cable).items() if name not in (*_BY_SIZE, "_open", "_source")
        }
        self._counts = self.chosen.bit | thinnest.bit
        self._at: dict[int, Part] = {}

    def look_up(self, part: Part, attribute: str) -> OpenEntry | None:
        """What does not follow from the size is as planned."""
        return take_over(part, attribute, self._cable)

    def now(self) -> Part:
        """The cable of the size that counts."""
        reading = self.reading
        reading.read |= self._counts
        choice = reading.choice
        place = choice[self.chosen]
        if place is None:
            place = choice[self._thinnest]
            if place is None or place >= self._place:
                return self._cable
        cable = self._at.get(place)
        if cable is None:
            cable = self._at[place] = self._made(*self._resized(self._cable.id, place))
        return cable

    def _made(self, told: CableInFile, circuit: Circuit) -> Part:
        source: FromFile | None = vars(self._cable).get("_source")
        if source is None:  # all of it is given
            settled = {**vars(self._cable), "size": told.size, "stranding": told.stranding}
            return part_of("cable", settled, self)
        return part_of(
            "cable", {**self.settled, "size": told.size}, _OfOneSize(self._cable, source.otherwise(told, circuit))
        )


class _OfOneSize:
    """What follows from the size of a cable is looked up for this size; all else is as planned."""

    __slots__ = ("_planned", "_resized", "reading")

    def __init__(self, planned: Cable, resized: FromFile) -> None:
        self._planned, self._resized, self.reading = planned, resized, resized.reading

    def look_up(self, part: Part, attribute: str) -> OpenEntry | None:
        """The entry, None where it is settled."""
        if attribute in _BY_SIZE:
            return self._resized.look_up(part, attribute)
        return take_over(part, attribute, self._planned)
