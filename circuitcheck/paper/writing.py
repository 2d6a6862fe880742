"""Writing a sheet: the ending of the file's name chooses the form, and the file appears whole or not at all."""

from __future__ import annotations

import os
import tempfile
import time
from contextlib import suppress
from functools import cache
from pathlib import Path

from circuitcheck.errors import CommandError
from circuitcheck.paper.outline import Outline

ENDINGS = (".html", ".pdf", ".md", ".txt")
PAPERS = ("letter", "a4")

#: What a file is called until it is whole.
_PART_START, _PART_END = ".circuitcheck-", ".part"
#: One that is older than this [s] was left by a process that ended in the middle of writing.
STALE_S = 3600.0


def write_outline(outline: Outline, output: Path, *, replace: bool, paper: str) -> None:
    """Write the sheet in the form that the ending of ``output`` names.

    Raises: CommandError for another ending, a file that is there already (without ``replace``), a folder that is
    missing or not writable, and ``.pdf`` where the extra that makes it is not installed.
    """
    refuse_output(output, replace=replace)
    write_whole(output, rendered(outline, output, paper=paper), replace=replace)


def rendered(outline: Outline, output: Path, *, paper: str) -> bytes:
    """The bytes of the sheet in the form that the ending of ``output`` names. Raises: CommandError."""
    ending = output.suffix.lower()
    if ending == ".html":
        from circuitcheck.paper.html_form import html_text

        return html_text(outline, paper=paper).encode("utf-8")
    if ending == ".pdf":
        from circuitcheck.paper.pdf_form import pdf_bytes

        return pdf_bytes(outline, paper=paper)
    if ending == ".md":
        from circuitcheck.paper.markdown_form import markdown_text

        return markdown_text(outline).encode("utf-8")
    if ending == ".txt":
        from circuitcheck.paper.text_form import plain_text_of

        return plain_text_of(outline).encode("utf-8")
    raise CommandError(f"{output}: the ending chooses the form; it is one of {', '.join(ENDINGS)}")


def refuse_output(output: Path, *, replace: bool) -> None:
    """Say at once what will not work, before anything is computed. Raises: CommandError."""
    if output.suffix.lower() not in ENDINGS:
        raise CommandError(f"{output}: the ending chooses the form; it is one of {', '.join(ENDINGS)}")
    try:
        _refuse_place(output, replace=replace)
    except OSError as error:  # a folder that may not be looked into, a name that is too long
        raise CommandError(f"{output} cannot be written: {error.strerror or error}") from error


def _refuse_place(output: Path, *, replace: bool) -> None:
    folder = output.parent
    if not folder.is_dir():
        raise CommandError(f"{output}: there is no folder {folder}")
    if output.is_dir():
        raise CommandError(f"{output} is a folder")
    refuse_existing(output, replace=replace)


def refuse_existing(output: Path, *, replace: bool) -> None:
    """Keep what has that name already, unless it may be replaced. Raises: CommandError."""
    try:
        is_there = not replace and (output.exists() or output.is_symlink())
    except OSError as error:
        raise CommandError(f"{output} cannot be written: {error.strerror or error}") from error
    if is_there:
        raise CommandError(f"{output} already exists; --replace replaces it")


def refuse_own_source(source: Path, output: Path) -> None:
    """Keep the circuit file that a sheet is made from, whatever name it has. Raises: CommandError."""
    try:
        same = output.samefile(source)
    except (OSError, ValueError):  # one of them is not there, so they are two
        return
    if same:
        raise CommandError(f"{output} is the circuit file itself; write the sheet under another name")


def write_whole(output: Path, data: bytes, *, replace: bool) -> None:
    """Write beside, then put in place in one step. Raises: CommandError when the disk or the folder refuses."""
    target = output.resolve() if replace and output.is_symlink() else output
    beside: Path | None = None
    try:
        _sweep(target.parent)
        handle, name = tempfile.mkstemp(prefix=_PART_START, suffix=_PART_END, dir=target.parent)
        beside = Path(name)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        _give_usual_rights(beside, target)
        if replace:
            os.replace(beside, target)
        else:
            _put_if_absent(beside, target)
        beside = None
    except FileExistsError as error:
        raise CommandError(f"{output} already exists; --replace replaces it") from error
    except OSError as error:
        raise CommandError(f"{output} cannot be written: {error.strerror or error}") from error
    finally:
        if beside is not None:
            beside.unlink(missing_ok=True)


@cache
def _sweep(folder: Path) -> None:
    """Take away what a process that was killed while it wrote has left in this folder; once a folder is enough."""
    for part in folder.glob(f"{_PART_START}*{_PART_END}"):
        with suppress(OSError):
            if time.time() - part.stat().st_mtime > STALE_S:
                part.unlink()


def _put_if_absent(beside: Path, target: Path) -> None:
    """Give the finished file its name unless something took it meanwhile. Raises: FileExistsError."""
    try:
        os.link(beside, target)
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links: look, then rename
        if target.exists() or target.is_symlink():
            raise FileExistsError(str(target)) from None
        os.replace(beside, target)
    else:
        beside.unlink()


def _give_usual_rights(beside: Path, target: Path) -> None:
    """The rights that the file it replaces has, else those of any new file: a temporary one is for its owner only."""
    if target.exists():
        beside.chmod(target.stat().st_mode & 0o777)
        return
    mask = os.umask(0)
    os.umask(mask)
    beside.chmod(0o666 & ~mask)
