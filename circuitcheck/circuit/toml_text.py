"""From bytes to a parsed TOML document, with every way to go wrong told as a problem."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from circuitcheck.circuit.toml_slips import Mended, Slip, mended
from circuitcheck.errors import CircuitFileError, Problem

#: A circuit file of 10,000 loads has about 2 MB; whatever is larger than this is not a circuit file.
LARGEST_FILE = 10_000_000

#: Most keys that dots may join to one name; a circuit file needs two or three. The parser keeps every beginning of such
#: a name, so that 60 KB of a single one would take gigabytes.
LONGEST_NAME = 8

#: What a TOML text consists of, as far as telling names from texts and comments asks. Each piece takes all that it
#: looked at, so that walking over a text takes time in step with its length, also where it is no TOML.
_PIECE = re.compile(
    r"""(?P<other>"{3}(?:[^"\\]|\\.|"(?!""))*+"{0,5}|'{3}(?:[^']|'(?!''))*+'{0,5}|\#[^\n]*+|[^\w\-."'\# \t]++)"""
    r"""|(?P<key>[\w\-]++|"(?:[^"\\\n]|\\[^\n])*+"?|'[^'\n]*+'?)|(?P<dot>\.)|[ \t]++""",
    re.DOTALL,
)

#: How tomllib words its refusals, and how they are said here. The rest is told as it comes.
_SAID: tuple[tuple[str, str], ...] = (
    ("Cannot overwrite a value", "this key stands twice in its table"),
    (
        "Cannot declare",
        "this table stands twice: single brackets stand once, double ones before each of several",
    ),
    ("Cannot mutate immutable namespace", "this table was already closed and cannot be added to"),
    ("Expected '='", "an equals sign is missing after the key"),
    ("Invalid initial character for a key part", "a key is expected here: letters, digits, _ and - only, or in quotes"),
    ("Invalid value", "this is not a value: put text in quotes, and write yes and no as true and false"),
    ("Unterminated string", "a quote is missing at the end of this text"),
    ("Expected newline or end of document", "something is left over after the value"),
    ("Illegal character", "a quote is missing, or a control character stands in the text"),
    ("Unclosed array", "the closing ] of this list is missing"),
    ("Unclosed inline table", "the closing } of this table is missing"),
    ("Expected ']", "the section's closing bracket is missing"),
    ("Unescaped '\\' in a string", "a backslash in a text is written twice, or the text stands in single quotes"),
    ("Found invalid character", "a control character stands in a text"),
    ("Invalid statement", "this is not a key or a section in brackets"),
    ("Duplicate inline table key", "this key stands twice in its table"),
    ("Invalid date or datetime", "there is no such date"),
)


class TomlSlipsError(CircuitFileError):
    """A text that is not TOML: its slips as problems, and what could be read of it in ``rest``."""

    def __init__(self, rest: Mended, text: str, file: str) -> None:
        """Keep what was read for whoever looks for more."""
        super().__init__(slip_problems(rest.slips, text, file))
        self.rest = rest


def one_problem(file: str, line: int | None, says: str) -> CircuitFileError:
    """The error for a file of which nothing can be read."""
    return CircuitFileError([Problem(file, line, "", says)])


def read_bytes(path: Path) -> bytes:
    """The bytes of a file. Raises: CircuitFileError for a folder, a missing or unreadable or far too large file."""
    file = str(path)
    try:
        if path.is_dir():
            raise one_problem(file, None, "this is a folder, not a circuit file")
        size = path.stat().st_size
        if size > LARGEST_FILE:
            raise one_problem(file, None, _too_large(size))
        with path.open("rb") as opened:
            content = opened.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise one_problem(file, None, "there is no such file") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "its name cannot be used"
        raise one_problem(file, None, f"this file cannot be read: {reason}") from None
    if len(content) > LARGEST_FILE:
        raise one_problem(file, None, _too_large(len(content)))
    return content


def _too_large(size: int) -> str:
    return f"this file has {size / 1e6:.0f} MB or more; a circuit file has at most {LARGEST_FILE / 1e6:.0f} MB"


def decoded(content: bytes, file: str) -> str:
    """The bytes as text; a byte order mark is dropped. Raises: CircuitFileError for what is not UTF-8."""
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        if content[:2] in (b"\xff\xfe", b"\xfe\xff"):
            raise one_problem(file, None, "this file is UTF-16 text: save it as UTF-8") from None
        raise one_problem(file, line, "this is not UTF-8 text: save the file as UTF-8") from None


def parsed(text: str, file: str) -> dict[str, Any]:
    """The TOML document. Raises: CircuitFileError with the line where it stops being TOML."""
    if len(text) > LARGEST_FILE:
        raise one_problem(file, None, _too_large(len(text)))
    if not text.strip():
        raise one_problem(file, None, "this file is empty")
    _refuse_long_names(text, file)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        raise TomlSlipsError(mended(text), text, file) from None
    except RecursionError:
        raise one_problem(file, None, "lists or tables stand too deep inside one another") from None
    except ValueError:
        raise one_problem(file, None, "a number has far too many digits") from None


def _refuse_long_names(text: str, file: str) -> None:
    """Look for a dotted name that is too long before the text is parsed. Raises: CircuitFileError."""
    if all(line.count(".") < LONGEST_NAME for line in text.split("\n")):
        return
    dots, before = 0, ""
    for piece in _PIECE.finditer(text):
        kind = piece.lastgroup
        if kind is None:  # space
            continue
        dots = dots + 1 if kind == "dot" else dots if before == "dot" and kind == "key" else 0
        before = kind
        if dots >= LONGEST_NAME:
            line = text.count("\n", 0, piece.start()) + 1
            raise one_problem(file, line, f"more than {LONGEST_NAME} keys are joined by dots here")


def slip_problems(slips: Sequence[Slip], text: str, file: str) -> list[Problem]:
    """Each slip as a problem, with its line and a mark under the place."""
    lines = text.split("\n")
    return [
        Problem(
            file,
            slip.line,
            slip.key,
            _said(slip.message),
            nearest=slip.meant,
            source=lines[slip.line - 1].rstrip("\r"),
            column=slip.column,
        )
        for slip in slips
    ]


def _said(message: str) -> str:
    for start, says in _SAID:
        if message.startswith(start):
            return says
    return f"this is not TOML: {message.partition(' (at ')[0]}"
