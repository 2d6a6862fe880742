"""Standard output and standard error: data on the one, talk on the other, and neither ever fails on a character."""

from __future__ import annotations

import os
import shutil
import sys
from contextlib import suppress
from typing import TextIO

import circuitcheck.text  # noqa: F401  (registers the spelling that outputs fall back on)
from circuitcheck.cli.colors import has_colors
from circuitcheck.cli.lines import PageStyle
from circuitcheck.errors import CommandError

#: The page is made for this many columns; a narrower terminal gets narrower lines.
WIDTH = 80


def prepare_streams() -> None:
    """Let both streams spell out what their encoding cannot carry."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors="circuitcheck-nearest")


def page_width() -> int:
    """Columns to write to: 80, less on a terminal that has fewer."""
    on_screen = sys.stdout is not None and sys.stdout.isatty()
    return min(WIDTH, max(40, shutil.get_terminal_size((WIDTH, 24)).columns)) if on_screen else WIDTH


def page_style(*, working: bool = False, brief: bool = False) -> PageStyle:
    """How the page is written to standard output: to its width, with colors where it has them."""
    return PageStyle(width=page_width(), working=working, brief=brief, color=has_colors(sys.stdout))


def talk_style() -> PageStyle:
    """How lines are written to standard error."""
    on_screen = sys.stderr is not None and sys.stderr.isatty()
    width = min(WIDTH, max(40, shutil.get_terminal_size((WIDTH, 24)).columns)) if on_screen else WIDTH
    return PageStyle(width=width, color=has_colors(sys.stderr))


def fresh_page() -> str:
    """What begins a page anew: an empty screen on a terminal, nothing where the output goes to a file."""
    return "\x1b[2J\x1b[H" if sys.stdout is not None and sys.stdout.isatty() else ""


def put(text: str) -> None:
    """Write to standard output. A reader that has gone away (``| head``) is no fault: the rest goes nowhere.

    Raises: CommandError where it cannot be written (a full disk).
    """
    _put(text)


def tell(text: str) -> None:
    """Write a line to standard error. Where that cannot be done nobody is left to tell."""
    with suppress(OSError):
        _write(sys.stderr, text + "\n", flush=True)


def finish() -> None:
    """Flush both streams, so that a reader that has gone away is noticed here and not while Python shuts down.

    Raises: CommandError where what is left of the output cannot be written.
    """
    with suppress(OSError):
        _write(sys.stderr, "", flush=True)
    _put("", flush=True)


def _put(text: str, *, flush: bool = False) -> None:
    try:
        _write(sys.stdout, text, flush=flush)
    except OSError as cause:
        raise CommandError(f"the output could not be written: {cause.strerror}") from cause


def _write(stream: TextIO | None, text: str, *, flush: bool) -> None:
    """Write to a stream, None where it was closed before we began (``>&-``).

    After a failure all that is left goes nowhere, so that Python does not stumble over it while it shuts down.
    """
    if stream is None:
        return
    try:
        stream.write(text)
        if flush:
            stream.flush()
    except OSError as cause:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
        if not isinstance(cause, BrokenPipeError):
            raise
