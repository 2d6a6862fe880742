"""The file on disk: noticed when someone else changes it, and a copy of unsaved work beside it for recovery."""

from __future__ import annotations

import hashlib
import os
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from circuitcheck.paper.writing import write_whole

_FIRST_LINE = "# circuitcheck recovery copy"


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
    """Work that was not saved: the text, what the file on disk was when it began, when, and by which process."""

    text: str
    base: str
    written: str
    process: int
    draft: str = ""


def recovery_path(path: Path) -> Path:
    """Where the recovery copy of a file stands: beside it, hidden."""
    return path.with_name(f".{path.name}.recovery")


def write_recovery(path: Path, text: str, base: str, draft: str = "") -> None:
    """Writes the recovery copy of ``path``. Raises CommandError.

    It is a circuit file itself, its first lines being comments, so that it can be used without this program.
    ``draft`` is text typed into a field that is not a value yet.
    """
    stamp = datetime.now().astimezone().isoformat(timespec="seconds")
    head = f"{_FIRST_LINE} | {base} | {stamp} | {os.getpid()}\n"
    if draft:
        head += "# typed and not finished: " + draft.encode("unicode_escape").decode("ascii") + "\n"
    write_whole(recovery_path(path), (head + text).encode(), replace=True)


def read_recovery(path: Path) -> Recovery | None:
    """The recovery copy of ``path``, or None where there is none that can be read."""
    try:
        text = recovery_path(path).read_bytes().decode("utf-8")
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
    return Recovery(rest, fields[1], fields[2], int(fields[3]), draft)


def drop_recovery(path: Path) -> None:
    """Removes the recovery copy, if there is one."""
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
