"""What a finding speaks about: a section of the file, the id of a part in it, and a key."""

from __future__ import annotations

from sys import intern
from typing import NamedTuple

#: Sections that stand once in a file, so that their parts have no id.
SINGLE_SECTIONS = ("job", "supply", "site")


class Ref(NamedTuple):
    """``cable.feed.length`` as section, id and key; without a key the part itself. A single section has no id."""

    section: str
    id: str = ""
    key: str = ""

    @classmethod
    def of_part(cls, path: str) -> Ref:
        """The part that ``box.hall.east`` or ``supply`` names: all that stands behind the first dot is its id.

        A path that ends in a key is read by ``circuit.guide.entry_ref``, which knows the keys.
        """
        section, _, part_id = path.partition(".")
        return cls(section, part_id)

    @property
    def part(self) -> Ref:
        """The part without the key."""
        return Ref(self.section, self.id)

    def __str__(self) -> str:
        """As the file names it: ``cable.feed.length``, ``supply.breaker``, ``box.attic``."""
        section, part_id, key = self
        if part_id:
            text = f"{section}.{part_id}.{key}" if key else f"{section}.{part_id}"
        else:
            text = f"{section}.{key}" if key else section
        return intern(text)  # of a large circuit many findings name the same one
