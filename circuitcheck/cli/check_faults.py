"""A check that could not be done through a fault of the program: one line on standard error, and how to report it."""

from __future__ import annotations

from collections.abc import Iterable

from circuitcheck import __version__
from circuitcheck.cli.statuses import FAULT
from circuitcheck.cli.streams import tell
from circuitcheck.findings import Fault, Report
from circuitcheck.text import shown_text


def status_after(status: int, *reports: Report, faults: Iterable[Fault] = ()) -> int:
    """The status of a command that stands on these reports: a fault of the program goes before all else.

    faults: those that came up besides.
    """
    faults = tuple(dict.fromkeys((*(fault for report in reports for fault in report.faults), *faults)))
    for fault in faults:
        tell_check_fault(fault, show_traceback=False)
    return FAULT if faults else status


def tell_check_fault(fault: Fault, *, show_traceback: bool) -> None:
    """One line; before it the whole traceback when asked."""
    if show_traceback and fault.error is not None:
        import traceback

        tell("".join(traceback.format_exception(fault.error)).rstrip())
    tell(
        f"circuitcheck {__version__}: {shown_text(fault.line)}. The other answers are valid. Please report it: run the "
        "same command with --traceback and send what it prints, with the circuit file, to the project's issue list."
    )
