"""What the installed command and ``python -m circuitcheck`` call: quiet under Ctrl+C from the first moment on.

Most of a short run is reading modules, and an interruption there would end in a traceback. So this module reads next
to nothing and sees to the signal first; once the command line runs, an interruption is told in a sentence.
"""

from __future__ import annotations

import os
import signal
from types import FrameType

#: What a shell sees after a program that Ctrl+C ended: 128 and the number of that signal.
INTERRUPTED = 130


def _end_quietly(_: int, __: FrameType | None) -> None:
    os._exit(INTERRUPTED)


def entry() -> None:
    """Run the command line of this process, and end it with its status."""
    watched = signal.getsignal(signal.SIGINT) is signal.default_int_handler  # else whoever started us ignores it
    if watched:
        signal.signal(signal.SIGINT, _end_quietly)
    from circuitcheck.cli.main import run_and_end

    if watched:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        run_and_end()
    except KeyboardInterrupt:  # before the command line is read, or after it has been answered
        os._exit(INTERRUPTED)
