"""The file on disk: noticed when someone else changes it, and a copy of unsaved work beside it for recovery."""

from __future__ import annotations

import hashlib
import os
import re
import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from glob import escape
from pathlib import Path

from circuitcheck.paper.writing import write_whole

_FIRST_LINE = "# circuitcheck recovery copy"

#: What tells this process's copies from those of any other, also of an earlier one that had the same number.
_OWN = f"{os.getpid()}-{secrets.token_hex(2)}"
_ENDING = ".recovery"
_COPY_NAME = re.compile(r"(\.\d+-[0-9a-f]{4})?\.recovery$")


def fingerprint(text: str) -> str:
    """A short fingerprint of a file's text."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


@dataclass(frozen=True, slots=True)
class Stamp:
    """How the file looked on disk when it was last read or written; None in both for a file that is not there."""

    modified_ns: int | None
    size: int | None


def stamp_of(path: Path) -> Stamp:
    """The file's stamp now."""
    try:
        state = path.stat()
    except OSError:
        return Stamp(None, None)
    return Stamp(state.st_mtime_ns, state.st_size)


@dataclass(frozen=True, slots=True)
class Recovery:
    """Work that was not saved: the text, what the file on disk was when it began, when, by which process, and where."""

    text: str
    base: str
    written: str
    process: int
    copy: Path
    draft: str = ""


def recovery_path(path: Path) -> Path:
    """Where this process keeps its recovery copy of a file: beside it, hidden, under a name that no other one uses."""
    return path.with_name(f".{path.name}.{_OWN}{_ENDING}")


def file_of_copy(copy: Path) -> Path:
    """The file that a recovery copy of this name belongs to."""
    return copy.with_name(_COPY_NAME.sub("", copy.name.removeprefix(".")))


def write_recovery(path: Path, text: str, base: str, draft: str = "") -> None:
    """Writes this process's recovery copy of ``path``. Raises CommandError.

    It is a circuit file itself, its first lines being comments, so that it can be used without this program.
    ``draft`` is text typed into a field that is not a value yet.
    """
    stamp = datetime.now().astimezone().isoformat(timespec="seconds")
    head = f"{_FIRST_LINE} | {base} | {stamp} | {os.getpid()}\n"
    if draft:
        head += "# typed and not finished: " + draft.encode("unicode_escape").decode("ascii") + "\n"
    write_whole(recovery_path(path), (head + text).encode(), replace=True)


def recoveries(path: Path) -> tuple[Recovery, ...]:
    """Every recovery copy of ``path`` that can be read, the newest first."""
    return _read_copies(_copies(path))


def _copies(path: Path) -> list[Path]:
    try:
        return [copy for copy in path.parent.glob(f".{escape(path.name)}.*") if file_of_copy(copy).name == path.name]
    except OSError:
        return []


def _read_copies(copies: Iterable[Path]) -> tuple[Recovery, ...]:
    read = [recovery for copy in copies if (recovery := _read_copy(copy)) is not None]
    return tuple(sorted(read, key=lambda recovery: recovery.written, reverse=True))


def left_behind(path: Path) -> tuple[Recovery, ...]:
    """The recovery copies of ``path`` whose process has ended, the newest first."""
    return tuple(recovery for recovery in recoveries(path) if not is_running(recovery.process))


def others_at(path: Path) -> tuple[Recovery, ...]:
    """The recovery copies of ``path`` that another running process keeps: it has the file open, and work not saved."""
    own = recovery_path(path)
    others = _read_copies(copy for copy in _copies(path) if copy != own)
    return tuple(recovery for recovery in others if is_running(recovery.process))


def _read_copy(copy: Path) -> Recovery | None:
    try:
        text = copy.read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    first, _, rest = text.partition("\n")
    fields = [field.strip() for field in first.split("|")]
    if len(fields) != 4 or fields[0] != _FIRST_LINE or not fields[3].isdigit():
        return None
    draft = ""
    if rest.startswith("# typed and not finished: "):
        line, _, rest = rest.partition("\n")
        draft = line.partition(": ")[2].encode("ascii", "replace").decode("unicode_escape")
    return Recovery(rest, fields[1], fields[2], int(fields[3]), copy, draft)


def drop_recovery(path: Path) -> None:
    """Removes this process's own recovery copy, if there is one; those of others stay."""
    recovery_path(path).unlink(missing_ok=True)


def is_running(process: int) -> bool:
    """Whether a process of this number runs on this machine (and is not this one)."""
    if process <= 0 or process == os.getpid() or os.name != "posix":
        return False  # elsewhere, asking with signal 0 may end the process that is asked about
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (PermissionError, OSError):
        return True
    return True
