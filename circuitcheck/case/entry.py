"""An entry that the file leaves open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from circuitcheck.possible.entry import Possible
from circuitcheck.refs import Ref

if TYPE_CHECKING:
    from circuitcheck.case.parts import Part
    from circuitcheck.circuit.keys import Key


class OpenEntry:
    """One entry that the file leaves open. ``kind``: ``cable.length``; ``ref``: what a person would have to find out.

    ``title`` is the key's short label, for sentences; ``asked`` the key to ask for, which may be another one than the
    entry's own. ``part`` is the part in the case that it belongs to; ``place`` where it stands in the file. ``bit`` are
    the bits by which sets of entries of a case are told: one of its own, and a second one where it has no bound.
    ``sentence``: what is assumed about it, once it was said: in a large circuit many answers say the same.

    A plain class, since a frozen one takes four times as long to make, and a circuit has hundreds. Nobody changes it.
    """

    __slots__ = (
        "_path",
        "_ref",
        "asked",
        "attribute",
        "bit",
        "key",
        "kind",
        "part",
        "place",
        "possible",
        "sentence",
        "title",
    )

    def __init__(self, kind: str, key: Key, possible: Possible, part: Part, place: float) -> None:
        """``kind`` may say more than the key does: ``listed load.power``. Its bits are given by ``Reading.enter``."""
        self.kind = kind
        self.key = key
        self.attribute = key.attribute
        self.title = key.title
        self.possible = possible
        self.bit = 0
        self.part = part
        self.place = place
        self.asked = possible.ask_for or key.name
        self.sentence: str | None = None
        self._ref: Ref | None = None
        self._path: str | None = None

    @property
    def ref(self) -> Ref:
        """What a person would have to find out."""
        if self._ref is None:
            self._ref = self.part.entry(self.asked)
        return self._ref

    @property
    def path(self) -> str:
        """The same as the file names it: ``cable.feed.length``."""
        if self._path is None:
            self._path = str(self.ref)
        return self._path

    def __repr__(self) -> str:
        """What it is, for whoever looks for a fault."""
        return f"OpenEntry({self.ref}, {self.possible!r})"
