"""The same pages as plain lines with questions and answers, for screen readers, simple terminals and scripts.

No full screen, no boxes, no colour, nothing redrawn; it imports no screen library.
"""

from __future__ import annotations

import contextlib
from pathlib import Path

from circuitcheck.safety import SHORT
from circuitcheck.ui.plain.start import begin
from circuitcheck.ui.plain.talk import EndedError, StoppedError, Talk

#: What Ctrl+C leaves behind: 128 and the number of that signal.
STOPPED = 130


def run(path: Path | None) -> int:
    """Runs the conversation until it is left or its input ends. Returns the exit status."""
    talk = Talk()
    status = 0
    try:
        begin(talk, path)
    except StoppedError:
        status = STOPPED
    except EndedError:
        pass
    with contextlib.suppress(EndedError):
        say_cautions(talk)
    return status


def say_cautions(talk: Talk) -> None:
    """The last words of every conversation, since what follows it may be work on wires."""
    talk.heading("Before you open anything")
    for sentence in SHORT:
        talk.say(sentence)
