"""Problems of one file while they are collected: the place as a path now, line and key name at the end."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from datetime import date, datetime, time
from typing import Any

from circuitcheck.circuit.locator import Locator, Path
from circuitcheck.circuit.meant import synonym
from circuitcheck.errors import Problem, nearest
from circuitcheck.text import shown_number

#: Searching for the nearest name costs time for each name known: after so many names no further slip is searched for.
_NAMES_COMPARED = 20_000
_LONGEST_GIVEN = 60
#: Sentences hold ids, and an id that is far too long is told beside them.
_LONGEST_SENTENCE = 600


class Faults:
    """Collects what is wrong with one file; ``problems`` makes the sentences' fields from it."""

    def __init__(self, file: str, text: str, document: dict[str, Any]) -> None:
        """``document`` is the parsed text; it names the parts whose place is an index."""
        self._file = file
        self._text = text
        self._document = document
        self._found: list[tuple[Path, str, str, str, str | None]] = []
        self._compared = 0
        self._paths: set[Path] = set()
        self._as_written = 0
        self._written_place: Callable[[Path], Path] = lambda path: path

    def __bool__(self) -> bool:
        """Whether anything is wrong."""
        return bool(self._found)

    def __len__(self) -> int:
        """How many problems are noted."""
        return len(self._found)

    def add(self, path: Path, says: str, *, given: str = "", allowed: str = "", near: str | None = None) -> None:
        """Note one problem at ``path``."""
        self._paths.add(path)
        self._found.append((path, cut_short(says, _LONGEST_SENTENCE), given, allowed, near))

    def follow(self, written_place: Callable[[Path], Path]) -> None:
        """From here on paths are those of the long form; ``written_place`` tells where in the file each one stands."""
        self._as_written = len(self._found)
        self._written_place = written_place

    def has(self, path: Path) -> bool:
        """Whether a problem is already noted at exactly this path."""
        return path in self._paths

    def nearest(self, word: str, known: Collection[str]) -> str | None:
        """The known word nearest to ``word``; not searched any more when many names were compared already."""
        self._compared += len(known)
        return nearest(word[:_LONGEST_GIVEN], known) if self._compared <= _NAMES_COMPARED else None

    def meant(self, word: str, known: Collection[str], kind: str) -> str | None:
        """The known word that the trade also calls ``word`` (kind: words, sections or keys), else the nearest one."""
        return synonym(word, known, kind) or self.nearest(word, known)

    def problems(self) -> list[Problem]:
        """The problems in file order; those whose line is not known come last."""
        locator = Locator(self._text)
        found: dict[tuple[Path, str], Problem] = {}
        for number, (path, says, given, allowed, near) in enumerate(self._found):
            place = path if number < self._as_written else self._written_place(path)
            # What several parts take over from one place is told once.
            if (place, says) not in found:
                line, source, column, width = _mark(locator, self._text, place, given)
                key = self._key(place)
                found[place, says] = Problem(self._file, line, key, says, given, allowed, near, source, column, width)
        return sorted(found.values(), key=lambda problem: (problem.line is None, problem.line or 0))

    def _key(self, path: Path) -> str:
        """``cable.feed.length``: a part goes by its id, or by its number where it has none."""
        names: list[str] = []
        value: Any = self._document
        for step in path:
            value = _inside(value, step)
            if isinstance(step, str):
                names.append(cut_short(step))
                continue
            part_id = value.get("id") if isinstance(value, dict) and len(names) == 1 else None
            named = isinstance(part_id, str) and part_id.strip()
            names.append(cut_short(str(part_id)) if named else f"#{step + 1}")
        return ".".join(names)


def _inside(value: Any, step: str | int) -> Any:
    try:
        return value[step]
    except (KeyError, IndexError, TypeError):
        return None


#: Line, the line's text, and column and width of the mark under it; nothing where the place is not known.
_Mark = tuple[int | None, str, int | None, int]

_VALUE = re.compile(r"""[^=\n]*=[ \t]*("(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[\[{][^\n#]*|[^\s,\]}#][^,\]}#\n]*)""")
_ELEMENT = re.compile(r"""("(?:[^"\\\n]|\\.)*"|'[^'\n]*'|\{[^}\n]*\}?|[^,\]}#\n]+)""")
_NAME = re.compile(r"""(\[{1,2}[^\]\n]*\]{0,2}|[^=\n]*[^=\s])""")


def _mark(locator: Locator, text: str, path: Path, given: str) -> _Mark:
    """The place of the path, or of the table it is missing from: its value, or its name where that is what is wrong."""
    missing = False
    while path:
        offset = locator.offset_of(path)
        offset = offset if offset is not None else locator.offset_of((*path, 0))
        if offset is not None:
            line, column = locator.place_of(offset)
            end = text.find("\n", offset)
            source = text[offset - column + 1 : end if end >= 0 else len(text)].rstrip("\r")
            wrong_name = given == path[-1] or missing or text[offset] == "["
            found = (_NAME if wrong_name else _ELEMENT if isinstance(path[-1], int) else _VALUE).match(text, offset)
            if found is None:
                return line, source, column, 1
            return line, source, column + found.start(1) - offset, max(1, len(found[1].rstrip()))
        path, missing = path[:-1], True
    return None, "", None, 1


def cut_short(text: str, longest: int = _LONGEST_GIVEN) -> str:
    """The text, or its beginning where it has more than ``longest`` characters."""
    return text if len(text) <= longest else f"{text[:longest]}…"


def given_text(value: Any) -> str:
    """A value of the file as it would be written, cut short."""
    if isinstance(value, str):
        return f'"{cut_short(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value) if abs(value) < 10**30 else "a very large number"
    if isinstance(value, float):
        return shown_number(value, 10) if abs(value) < 1e15 else f"{value:g}"
    if isinstance(value, date | datetime | time):
        return value.isoformat()
    return "a list" if isinstance(value, list) else "a table"
