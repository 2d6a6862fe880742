"""One entry of one table set or removed in the table's text, everything else staying as the user wrote it."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from circuitcheck.circuit.written.block import lines_of

_SUBTABLE = re.compile(r"^[ \t]*\[")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


def toml_value(value: object) -> str:
    """The value as TOML on one line."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        inside = ", ".join(f"{toml_key(key)} = {toml_value(item)}" for key, item in value.items())
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, Sequence):
        return "[" + ", ".join(toml_value(item) for item in value) + "]"
    raise TypeError(f"no way to write {type(value).__name__} in a circuit file")


def toml_key(name: str) -> str:
    """The key as TOML writes it, in quotes where it must be."""
    return name if _BARE_KEY.fullmatch(name) else json.dumps(name, ensure_ascii=False)


def table_text(section: str, repeated: bool, entries: Mapping[str, object]) -> str:
    """A whole new table as text, with a blank line after it."""
    header = f"[[{section}]]" if repeated else f"[{section}]"
    lines = [header, *(f"{toml_key(key)} = {toml_value(value)}" for key, value in entries.items())]
    return "\n".join(lines) + "\n\n"


def with_entry(text: str, key: str, value: object, order: Sequence[str]) -> str:
    """The table's text with ``key`` set. A new key goes after the nearest one that stands before it in ``order``."""
    lines = lines_of(text)
    spans = entry_spans(lines)
    written = f"{toml_key(key)} = {toml_value(value)}"
    if key in spans:
        for start, end in reversed(spans[key][1:]):
            del lines[start:end]
        start, end = spans[key][0]
        indent = lines[start][: len(lines[start]) - len(lines[start].lstrip())]
        comment = comment_of("".join(lines[start:end]))
        ending = _line_end(lines[end - 1], text)
        lines[start:end] = [f"{indent}{written}{comment}{ending}"]
        return "".join(lines)
    lines = _without_subtables(lines, key)
    spans = entry_spans(lines)
    place = order.index(key) if key in order else len(order)
    before = [name for name in spans if name not in order or order.index(name) < place]
    at = max((spans[name][-1][1] for name in before), default=None)
    if at is None:
        at = 1 + next((index for index, line in enumerate(lines) if _SUBTABLE.match(line)), -1)
    if at and not lines[at - 1].endswith("\n"):
        lines[at - 1] += _line_end("", text)
    lines.insert(at, written + _line_end("", text))
    return "".join(lines)


def without_entry(text: str, key: str) -> str:
    """The table's text without ``key``. A comment behind the value goes with it, comments above stay."""
    lines = _without_subtables(lines_of(text), key)
    spans = entry_spans(lines)
    for start, end in reversed(spans.get(key, [])):
        del lines[start:end]
    return "".join(lines)


def entry_spans(lines: Sequence[str]) -> dict[str, list[tuple[int, int]]]:
    """Key -> first line and the line after its last, for the entries before any subtable.

    A key written with dots (``known_by.size = …``) may stand on several lines.
    """
    spans: dict[str, list[tuple[int, int]]] = {}
    index = 0
    header_seen = False
    while index < len(lines):
        line = lines[index]
        if _SUBTABLE.match(line):
            if header_seen:
                break
            header_seen = True
        elif line.strip() and not line.lstrip().startswith("#"):
            end = index + 1
            parsed = _parsed(lines[index:end])
            while parsed is None and end < len(lines):
                end += 1
                parsed = _parsed(lines[index:end])
            if parsed is None:
                break
            for name in parsed:
                spans.setdefault(name, []).append((index, end))
            index = end
            continue
        index += 1
    return spans


def _parsed(lines: Sequence[str]) -> dict[str, Any] | None:
    try:
        return tomllib.loads("".join(lines))
    except tomllib.TOMLDecodeError:
        return None


def comment_of(entry: str) -> str:
    """The comment behind an entry, with the blanks before it: what follows the first # that the value does without."""
    body = entry.rstrip("\r\n")
    value = _parsed([body])
    for found in re.finditer("#", body):
        head = body[: found.start()]
        if _parsed([head]) == value:
            return head[len(head.rstrip()) :] + body[found.start() :]
    return ""


def _line_end(line: str, text: str) -> str:
    if line.endswith("\r\n") or (not line.endswith("\n") and "\r\n" in text):
        return "\r\n"
    return "\n"


def _without_subtables(lines: list[str], key: str) -> list[str]:
    """The lines without ``[section.key]`` and ``[[section.key]]`` tables."""
    header = re.compile(rf'^[ \t]*\[\[?[ \t]*[^\].]+\.[ \t]*"?{re.escape(key)}"?[ \t]*(?:\.[^\]]*)?\]')
    kept: list[str] = []
    dropping = False
    for line in lines:
        if _SUBTABLE.match(line):
            dropping = bool(header.match(line))
        if not dropping:
            kept.append(line)
    return kept
