"""Looking again and again whether files have changed, for ``circuitcheck check --watch`` beside an editor."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

#: How often files are looked at [s]: soon enough for a person, and too seldom to be felt by the machine.
EVERY_S = 0.3

#: Size and time of a file's last change, or None where it is not there: editors take a file away and put it back.
_Stamp = tuple[int, int] | None


def changes(files: Sequence[Path], wait: Callable[[float], None] = time.sleep) -> Iterator[None]:
    """Comes back at once, and then after each change of any of the files. It never ends by itself.

    A change counts when two looks in a row agree, so that a file that is half written is not read.
    """
    seen = [_stamp(file) for file in files]
    yield
    while True:
        wait(EVERY_S)
        now = [_stamp(file) for file in files]
        if now == seen:
            continue
        while True:
            wait(EVERY_S)
            again = [_stamp(file) for file in files]
            if again == now:
                break
            now = again
        seen = now
        yield


def _stamp(file: Path) -> _Stamp:
    try:
        status = file.stat()
    except OSError:
        return None
    return status.st_mtime_ns, status.st_size
