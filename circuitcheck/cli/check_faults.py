"""A check that could not be done through a fault of the program: one line on standard error, and how to report it."""

from __future__ import annotations

from circuitcheck import __version__
from circuitcheck.cli.streams import tell
from circuitcheck.findings import Fault
from circuitcheck.text import shown_text


def tell_check_fault(fault: Fault, *, show_traceback: bool) -> None:
    """One line; before it the whole traceback when asked."""
    if show_traceback and fault.error is not None:
        import traceback

        tell("".join(traceback.format_exception(fault.error)).rstrip())
    tell(
        f"circuitcheck {__version__}: {shown_text(fault.line)}. The other answers are valid. Please report it: run the "
        "same command with --traceback and send what it prints, with the circuit file, to the project's issue list."
    )
