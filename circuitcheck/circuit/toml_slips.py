"""All slips of a text that is not TOML: each is mended the way its writer most likely meant, and reading goes on.

The mended text serves only to find what else is wrong. It is never checked as a circuit, and never written.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

#: Each slip costs one more parse of the whole text, so a long text is told fewer of them.
_MOST_SLIPS = 40
_MOST_CHARACTERS = 3_000_000

_AT = re.compile(r"\(at line (\d+), column (\d+)\)")
_ENTRY = re.compile(
    r"""^(?P<space>[ \t]*)(?P<key>[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')[ \t]*(?P<sign>[=:]?)[ \t]*(?P<rest>.*)$"""
)
_HEADER = re.compile(r"^[ \t]*(?P<open>\[{1,2})[ \t]*(?P<name>[A-Za-z0-9_.-]+)")
_STARTS_ENTRY = re.compile(r"""^[ \t]*(?:\[|[A-Za-z0-9_-]+[ \t]*=)""")
_QUOTES = str.maketrans({"“": '"', "”": '"', "„": '"', "‟": '"', "‘": "'", "’": "'", "‚": "'"})
_CURLY = re.compile("[“”„‟‘’‚]")
_YES_NO = {"yes": "true", "no": "false", "on": "true", "off": "false", "true": "true", "false": "false"}


_LONE_QUOTE = re.compile(r"^[^=#\"'\n]*=[ \t]*'(?!'')[^'\n]*$")
_VALUE_STARTS = re.compile(r"""["'\[{“”‘’0-9]|(?:true|false|yes|no)\b""", re.IGNORECASE)
_TEXT_AND_MORE = re.compile(r"""("(?:[^"\\]|\\.)*"|'[^']*')[ \t]*[^#\s]""")


@dataclass(frozen=True, slots=True)
class Slip:
    """One place that is no TOML: line and column counted from 1, ``message`` in the parser's words.

    ``key`` is that of the entry it stands in; ``meant`` the line as it was most likely meant, None where it was left
    out of what was read on.
    """

    line: int
    column: int | None
    message: str
    key: str = ""
    meant: str | None = None


@dataclass(frozen=True, slots=True)
class Mended:
    """What can be read of a text: its slips, the text without them, and that text parsed (None: not even then)."""

    slips: tuple[Slip, ...]
    text: str
    document: dict[str, Any] | None


def mended(text: str) -> Mended:
    """The slips of a text, the first one first."""
    lines = text.split("\n")
    slips: list[Slip] = []
    most = max(1, min(_MOST_SLIPS, _MOST_CHARACTERS // max(len(text), 1)))
    error = _error(lines)
    while error is not None and len(slips) < most:
        index, column = _place(error, lines)
        index = _culprit(error, lines, index)
        slip, lines = _mend(error, lines, index, column)
        slips.append(slip)
        error = _error(lines)
    whole = "\n".join(lines)
    return Mended(
        tuple(sorted(slips, key=lambda slip: slip.line)), whole, tomllib.loads(whole) if error is None else None
    )


def _error(lines: list[str]) -> str | None:
    try:
        tomllib.loads("\n".join(lines))
    except tomllib.TOMLDecodeError as error:
        return str(error)
    except (RecursionError, ValueError) as error:
        return f"{error} (at end of document)"
    return None


def _place(error: str, lines: list[str]) -> tuple[int, int | None]:
    """Index of the line, and the column, that the parser names."""
    match = _AT.search(error)
    if match:
        return min(int(match[1]), len(lines)) - 1, int(match[2])
    last = max((index for index, line in enumerate(lines) if line.strip()), default=0)
    return last, None


def _culprit(error: str, lines: list[str], index: int) -> int:
    """The line where the trouble begins: a list or a long text that is not closed shows only further down."""
    if error.startswith('Expected "\'"'):
        lone = (number for number, line in enumerate(lines[: index + 1]) if _LONE_QUOTE.match(line))
        return next(lone, index)
    if not error.startswith(("Unclosed array", "Unclosed inline", "Unterminated", "Expected newline", "Invalid value")):
        return index
    for start in range(index, -1, -1):
        if _STARTS_ENTRY.match(lines[start]):
            if start < index or "[" in lines[start].partition("=")[2]:
                return start if _is_open(lines[start:index]) or start == index else index
            if start != index:
                return index
        if start == index and _STARTS_ENTRY.match(lines[index]):
            continue
    return index


def _is_open(lines: list[str]) -> bool:
    """Whether a list, a table in braces or a long text begins in these lines and does not end."""
    text = "\n".join(lines).partition("=")[2]
    if text.count('"""') % 2 or text.count("'''") % 2:
        return True
    plain = re.sub(r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|#[^\n]*', "", text)
    return plain.count("[") > plain.count("]") or plain.count("{") > plain.count("}")


def _mend(error: str, lines: list[str], index: int, column: int | None) -> tuple[Slip, list[str]]:
    """The slip, and the lines without it: the first mending that lets the parser go further, else without the entry."""
    line = lines[index].rstrip("\r")
    entry = _ENTRY.match(line)
    key = entry["key"].strip("\"'") if entry and not _HEADER.match(line) else ""
    message = error.partition(" (at ")[0]
    where = column if _place(error, lines)[0] == index else None
    if message.startswith("Unclosed array"):
        end = _end_of_list(lines, index)
        tried = [*lines[: end - 1], f"{lines[end - 1]}]", *lines[end:]]
        if end > index + 1 and _goes_further(tried, index):
            return Slip(end, None, message, key, tried[end - 1].strip()), tried
    for meant in _mendings(message, line, index):
        tried = [*lines[:index], meant, *lines[index + 1 :]]
        if meant != line and _goes_further(tried, index):
            unclear = ("slip" in meant and "slip" not in line) or message.startswith("Invalid date")
            shown = None if unclear else meant.strip()
            return Slip(index + 1, where, message, key, shown), tried
    end = index + 1
    while (
        end < len(lines)
        and not _STARTS_ENTRY.match(lines[end])
        and not _goes_further(_left_out(lines, index, end), end - 1)
    ):
        end += 1
    return Slip(index + 1, where, message, key), _left_out(lines, index, end)


def _end_of_list(lines: list[str], start: int) -> int:
    """The line after the last one that can belong to a list which begins at ``start``."""
    end = start + 1
    while end < len(lines) and lines[end].strip() and not _STARTS_ENTRY.match(lines[end]):
        end += 1
    return end


def _left_out(lines: list[str], start: int, end: int) -> list[str]:
    return [*lines[:start], *("" for _ in range(end - start)), *lines[end:]]


def _goes_further(lines: list[str], index: int) -> bool:
    error = _error(lines)
    return error is None or _place(error, lines)[0] > index


def _mendings(message: str, line: str, index: int) -> Iterator[str]:
    """The line as it may have been meant, the likeliest first. With ``slip`` in its name it is only out of the way."""
    header = _HEADER.match(line)
    if header:
        double = header["open"] == "[["
        yield f"[[{header['name']}]]" if double else f"[{header['name']}]"
        yield f"[[{header['name']}]]"
        yield f"[slip-{index}]"
        return
    entry = _ENTRY.match(line)
    if entry is None:
        return
    head = f"{entry['space']}{entry['key']} = "
    if message.startswith(("Cannot overwrite", "Duplicate", "Cannot mutate")):
        yield f"{entry['space']}slip-{entry['key'].strip(chr(34))} = {entry['rest']}"
        return
    if not entry["sign"] and not _VALUE_STARTS.match(entry["rest"]):
        return
    if entry["sign"] != "=":
        yield head + entry["rest"]
    if _CURLY.search(entry["rest"]):
        yield head + entry["rest"].translate(_QUOTES)
    value, comment = _value_and_comment(entry["rest"])
    if value.casefold() in _YES_NO:
        yield head + _YES_NO[value.casefold()] + comment
    if value.startswith("["):
        yield f"{head}{value}]{comment}"
    elif value.startswith("{"):
        yield f"{head}{value} }}{comment}"
    elif (text := _TEXT_AND_MORE.match(value)) and not value.endswith(('"', "'")):
        yield f"{entry['space']}slip-{index} = {text[1]}"
    else:
        yield head + _quoted(value) + comment


def _value_and_comment(rest: str) -> tuple[str, str]:
    """The value, and the comment with the blanks before it; a # right behind other characters is part of the value."""
    found = re.search(r"[ \t]+#.*$", rest)
    inside = found is not None and rest[: found.start()].count('"') % 2 and rest[found.start() :].count('"') % 2
    if found is None or inside:
        return rest.strip(), ""
    return rest[: found.start()].strip(), found[0]


def _quoted(value: str) -> str:
    """The value as one text in quotes; quotes at its ends are taken for the text's own, and so is a lone one."""
    plain = value.translate(_QUOTES)
    for quote in ('"', "'"):
        if len(plain) > 1 and plain.startswith(quote) and plain.endswith(quote):
            return json.dumps(plain[1:-1], ensure_ascii=False)
    if plain[:1] in ('"', "'"):
        plain = plain[1:]
    elif plain[-1:] in ('"', "'") and not re.search(r"""[0-9]["']$""", plain):
        plain = plain[:-1]
    return json.dumps(plain.strip(), ensure_ascii=False)
