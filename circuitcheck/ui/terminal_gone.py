"""Whether the terminal or browser that the screens are drawn on is still there.

A window that is closed mostly ends the program by a signal. Where none comes (a session cut off, ``nohup``, a killed
server for browsers), the toolkit's reader would spin on the end of its input, so the program looks for itself.
"""

from __future__ import annotations

import os
import select
import stat
import sys


def key_input() -> int | None:
    """The file descriptor that keys come from, or None where that is no terminal and no server's pipe."""
    try:
        descriptor = sys.__stdin__.fileno() if sys.__stdin__ is not None else None
    except (OSError, ValueError):
        return None
    if descriptor is None:
        return None
    kind = os.fstat(descriptor).st_mode
    return descriptor if os.isatty(descriptor) or stat.S_ISFIFO(kind) or stat.S_ISSOCK(kind) else None


def has_hung_up(descriptor: int) -> bool:
    """Whether nothing can come from this descriptor any more; False where the system cannot tell."""
    if not hasattr(select, "poll"):
        return False
    poll = select.poll()
    poll.register(descriptor, select.POLLIN)
    gone = select.POLLHUP | select.POLLERR | select.POLLNVAL
    return any(event & gone for _, event in poll.poll(0))
