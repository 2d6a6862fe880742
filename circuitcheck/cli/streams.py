"""Standard output and standard error: data on the one, talk on the other, and neither ever fails on a character."""

from __future__ import annotations

import os
import shutil
import sys
from typing import TextIO

import circuitcheck.text  # noqa: F401  (registers the spelling that outputs fall back on)

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
    return min(WIDTH, max(40, shutil.get_terminal_size((WIDTH, 24)).columns)) if sys.stdout.isatty() else WIDTH


def put(text: str) -> None:
    """Write to standard output. A reader that has gone away (``| head``) is no fault: the rest goes nowhere."""
    _write(sys.stdout, text)


def tell(text: str) -> None:
    """Write a line to standard error."""
    _write(sys.stderr, text + "\n")


def finish() -> None:
    """Flush standard output, so that a reader that has gone away is noticed here and not while Python shuts down."""
    _write(sys.stdout, "", flush=True)


def _write(stream: TextIO, text: str, *, flush: bool = False) -> None:
    try:
        stream.write(text)
        if flush:
            stream.flush()
    except BrokenPipeError:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
