"""Colors of a terminal, where there is one. They only repeat what mark and word say already.

``NO_COLOR`` (set to anything) turns them off and ``FORCE_COLOR`` on, also where the output is no terminal; where both
are set ``NO_COLOR`` wins.
"""

from __future__ import annotations

import os
from enum import Enum
from typing import TextIO

from circuitcheck.findings import Finding, Outcome, Verdict

#: Terminals that cannot show colors.
_PLAIN_TERMINALS = ("dumb", "unknown")


class Color(Enum):
    """What is told apart, each with its code (ECMA-48, select graphic rendition)."""

    FAIL = "1;31"
    UNDETERMINED = "1;35"
    CAUTION = "1;33"
    PASS = "32"
    TITLE = "1"
    MARK = "36"


OUTCOME_COLOR = {
    Outcome.FAIL: Color.FAIL,
    Outcome.UNDETERMINED: Color.UNDETERMINED,
    Outcome.CAUTION: Color.CAUTION,
    Outcome.PASS: Color.PASS,
}

VERDICT_COLOR = {
    Verdict.DOES_NOT_FIT: Color.FAIL,
    Verdict.UNDETERMINED: Color.UNDETERMINED,
    Verdict.FITS: Color.PASS,
}


def has_colors(stream: TextIO | None) -> bool:
    """Whether what is written to this stream may carry colors."""
    if stream is None or os.environ.get("NO_COLOR"):
        return False
    forced = os.environ.get("FORCE_COLOR")
    if forced:
        return forced != "0"
    return stream.isatty() and os.environ.get("TERM", "") not in _PLAIN_TERMINALS


def painted(text: str, color: Color) -> str:
    """The text in this color."""
    return f"\x1b[{color.value}m{text}\x1b[0m"


def color_of(finding: Finding) -> Color:
    """The color of a finding's mark and word."""
    return Color.FAIL if finding.stop else OUTCOME_COLOR[finding.outcome]
