"""A circuit as Python users hold it: its parts as rows, its values as text or, on request, as quantities."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from circuitcheck.api.html import table_html
from circuitcheck.circuit import model
from circuitcheck.circuit.as_written import entry_as_written, value_as_written
from circuitcheck.circuit.change import Change
from circuitcheck.circuit.entries import KNOWN_BY_KEY
from circuitcheck.circuit.guide import key_of
from circuitcheck.circuit.keys import FORMAT, SECTIONS
from circuitcheck.circuit.keys.key import Key, Section
from circuitcheck.quantities import Interval
from circuitcheck.quantities.asked import quantity

if TYPE_CHECKING:
    from circuitcheck.quantities.asked import Quantity

Row = dict[str, Any]


class Circuit:
    """One branch circuit as its file describes it; what the file does not say is None. It cannot be changed."""

    __slots__ = ("_model",)

    def __init__(self, model: model.Circuit) -> None:
        """``model`` is what the checks read; ``read_file`` and ``read_text`` make one."""
        self._model = model

    @property
    def model(self) -> model.Circuit:
        """What the checks read. It is not promised: its shape may change without notice."""
        return self._model

    @property
    def file(self) -> str:
        """The file it was read from."""
        return self._model.file

    @property
    def title(self) -> str:
        """What the job is called."""
        return self._model.job.title

    @property
    def rulebook(self) -> str:
        """The edition that its file names."""
        return self._model.job.rulebook

    def rows(self, section: str) -> list[Row]:
        """The parts of a section (``box``, ``cable``, ``load`` …) as rows with the same keys, ready for a table.

        Values are as in the file: a text with its unit, a word, a number, True or False; None where it is unknown.
        Raises: KeyError for a section that the circuit file does not have.
        """
        described = SECTIONS[section]
        parts = self._parts(described)
        keys = [
            key for key in described.keys.values() if any(entry_as_written(part, key) is not None for part in parts)
        ]
        return [{key.name: entry_as_written(part, key) for key in keys} for part in parts]

    def to_dict(self) -> dict[str, Any]:
        """The circuit in the shape of its file: what is known, with counts and lists as taken."""
        document: dict[str, Any] = {"format": FORMAT}
        for name, section in SECTIONS.items():
            tables = [_table(part, section) for part in self._parts(section)]
            if tables:
                document[name] = tables if section.many else tables[0]
        if self._model.changes:
            document["change"] = [_change(change) for change in self._model.changes]
        return document

    def quantity(self, key: str) -> tuple[Quantity, Quantity] | None:
        """Least and greatest of a physical value, such as ``cable.feed.length``, as pint quantities in its usual unit.

        Both are equal for a value known exactly; None where it is unknown.
        Raises: KeyError for a key or a part that is not there; TypeError for a key that is no physical value.
        """
        part, described = self._entry(key)
        if described.kind is None:
            raise TypeError(f"{key} has no unit: it is written as a {described.form}")
        value = getattr(part, described.attribute)
        if not isinstance(value, Interval):
            return None
        unit = described.kind.unit
        return quantity(value.low, unit), quantity(value.high, unit)

    def _entry(self, path: str) -> tuple[Any, Key]:
        named = key_of(path)
        if named is None or named[1] not in SECTIONS[named[0]].keys:
            raise KeyError(path)
        section, key = SECTIONS[named[0]], SECTIONS[named[0]].keys[named[1]]
        part_id = path[len(section.name) + 1 : -len(key.name) - 1]
        for part in self._parts(section):
            if not section.many or part.id == part_id:
                return part, key
        raise KeyError(path)

    def _parts(self, section: Section) -> tuple[Any, ...]:
        held = getattr(self._model, section.attribute)
        if section.many:
            return tuple(held)
        return () if held is None else (held,)

    def _counts(self) -> str:
        counted = [(len(self._parts(section)), section.name) for section in SECTIONS.values() if section.many]
        return ", ".join(f"{count} {name.replace('_', ' ')}{_plural(name, count)}" for count, name in counted if count)

    def __repr__(self) -> str:
        """Title, edition and how many parts."""
        return f"<Circuit {self.title!r} ({self.rulebook}): {self._counts()}>"

    def _repr_html_(self) -> str:
        """A table for each section, for notebooks."""
        tables = [
            table_html(SECTIONS[name].title, self.rows(name))
            for name, section in SECTIONS.items()
            if section.many and self._parts(section)
        ]
        return table_html(self.title, [{"rulebook": self.rulebook, "file": self.file}]) + "".join(tables)


def _plural(name: str, count: int) -> str:
    if count == 1 or name == "framing":
        return ""
    return "es" if name.endswith("x") else "s"


def _table(part: Any, section: Section) -> Row:
    """The entries of a part that are known, with the words on how they are known."""
    row = {key.name: entry_as_written(part, key) for key in section.keys.values()} | {KNOWN_BY_KEY: dict(part.known_by)}
    return {name: value for name, value in row.items() if value not in (None, {})}


def _change(change: Change) -> Row:
    """A change in the shape of its table."""
    new = {
        key.name: value_as_written(values[key.attribute], key)
        for section, values in ((change.part.section, change.new), ("box", change.brought))
        for key in SECTIONS[section].keys.values()
        if key.attribute in values
    }
    if change.known_by:
        new[KNOWN_BY_KEY] = dict(change.known_by)
    return {"part": str(change.part), "action": change.action} | ({"new": new} if new else {})
