"""On which line each key of a TOML text stands: ``tomllib`` says nothing about places.

This scanner walks over text that ``tomllib`` has already accepted, so it need not judge it.
"""

from __future__ import annotations

import bisect
import re

Path = tuple[str | int, ...]

_SPACE = re.compile(r"[ \t]*")
_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN_VALUE = re.compile(r"[^,\]}#\r\n]+")
_BASIC_STRING = re.compile(r'"(?:[^"\\\n]|\\.)*"')
_LITERAL_STRING = re.compile(r"'[^'\n]*'")
_LONG_BASIC = re.compile(r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}', re.DOTALL)
_LONG_LITERAL = re.compile(r"'''.*?'{3,5}", re.DOTALL)
_ESCAPE = re.compile(r"\\(u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|.)", re.DOTALL)
_ESCAPES = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


class Locator:
    """The line of every key, list element and table of one TOML text."""

    def __init__(self, text: str) -> None:
        """Walk over the text once. The text must be TOML that ``tomllib`` accepts."""
        self._text = text
        self._line_starts = [0, *(match.end() for match in re.finditer(r"\n", text))]
        self._starts: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}
        self._walk()

    def line_of(self, path: Path) -> int | None:
        """The line of this key, element or table, counted from 1; None where it does not stand in the text."""
        start = self._starts.get(path)
        return None if start is None else bisect.bisect_right(self._line_starts, start)

    def offset_of(self, path: Path) -> int | None:
        """Where in the text this key, element or table begins; None where it does not stand in the text."""
        return self._starts.get(path)

    def place_of(self, offset: int) -> tuple[int, int]:
        """Line and column of an offset, both counted from 1."""
        line = bisect.bisect_right(self._line_starts, offset)
        return line, offset - self._line_starts[line - 1] + 1

    def _walk(self) -> None:
        text, position = self._text, 0
        table: Path = ()
        while True:
            position = _match_end(_BLANK, text, position)
            if position >= len(text):
                return
            if text[position] != "[":
                position = self._entry(position, table)
                continue
            double = text.startswith("[[", position)
            keys, end = self._keys(position + (2 if double else 1))
            table = self._table_path(keys, double)
            self._starts[table] = position
            position = end + (2 if double else 1)

    def _table_path(self, keys: tuple[str, ...], double: bool) -> Path:
        path: Path = ()
        for key in keys[:-1]:
            path = self._into_last((*path, key))
        path = (*path, keys[-1])
        if not double:
            return self._into_last(path)
        index = self._counts.get(path, 0)
        self._counts[path] = index + 1
        return (*path, index)

    def _into_last(self, path: Path) -> Path:
        count = self._counts.get(path)
        return path if count is None else (*path, count - 1)

    def _keys(self, position: int) -> tuple[tuple[str, ...], int]:
        """The dotted key at ``position`` and the offset after it and the spaces that follow it."""
        text, keys = self._text, []
        while True:
            position = _match_end(_SPACE, text, position)
            first = text[position]
            pattern = _BASIC_STRING if first == '"' else _LITERAL_STRING if first == "'" else _BARE
            end = _match_end(pattern, text, position)
            key = text[position:end]
            keys.append(_unescaped(key[1:-1]) if first == '"' else key[1:-1] if first == "'" else key)
            position = _match_end(_SPACE, text, end)
            if position >= len(text) or text[position] != ".":
                return tuple(keys), position
            position += 1

    def _entry(self, start: int, table: Path) -> int:
        """Note the entry at ``start``; the offset after its value."""
        keys, position = self._keys(start)
        position = _match_end(_SPACE, self._text, position + 1)
        path = (*table, *keys)
        for depth in range(len(table) + 1, len(path) + 1):
            self._starts.setdefault(path[:depth], start)
        return self._value(position, path)

    def _value(self, position: int, path: Path) -> int:
        """Note what stands inside the value at ``position``; the offset after it."""
        text = self._text
        first = text[position]
        if first == "[":
            return self._array(position, path)
        if first == "{":
            position = _match_end(_BLANK, text, position + 1)
            while text[position] != "}":
                position = _match_end(_BLANK, text, self._entry(position, path))
                if text[position] == ",":
                    position = _match_end(_BLANK, text, position + 1)
            return position + 1
        if first == '"':
            return _match_end(_LONG_BASIC if text.startswith('"""', position) else _BASIC_STRING, text, position)
        if first == "'":
            return _match_end(_LONG_LITERAL if text.startswith("'''", position) else _LITERAL_STRING, text, position)
        return _match_end(_PLAIN_VALUE, text, position)

    def _array(self, position: int, path: Path) -> int:
        text, index = self._text, 0
        position = _match_end(_BLANK, text, position + 1)
        while text[position] != "]":
            self._starts[(*path, index)] = position
            position = _match_end(_BLANK, text, self._value(position, (*path, index)))
            index += 1
            if text[position] == ",":
                position = _match_end(_BLANK, text, position + 1)
        return position + 1


def _match_end(pattern: re.Pattern[str], text: str, position: int) -> int:
    match = pattern.match(text, position)
    return match.end() if match else position


def _unescaped(text: str) -> str:
    if "\\" not in text:
        return text
    return _ESCAPE.sub(lambda match: _ESCAPES.get(match[1]) or chr(int(match[1][1:], 16)), text)
