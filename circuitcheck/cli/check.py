"""``circuitcheck check FILE…``: the findings for people, or the report as JSON."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.check_faults import tell_check_fault
from circuitcheck.cli.problems import problem_entries, problem_lines
from circuitcheck.cli.sources import STANDARD_INPUT, Checked, check_file
from circuitcheck.cli.streams import finish, fresh_page, page_style, put, talk_style, tell
from circuitcheck.cli.watching import changes
from circuitcheck.errors import CircuitcheckError, CircuitFileError, CommandError
from circuitcheck.findings import Report, Verdict
from circuitcheck.text import shown_text


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare files and form of output."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="circuit file (*.circuit.toml); - is standard input")
    parser.add_argument("--json", action="store_true", help="print the report as JSON, one document a line")
    amount = parser.add_mutually_exclusive_group()
    amount.add_argument("--working", action="store_true", help="show working and sources of findings that pass as well")
    amount.add_argument("--brief", action="store_true", help="show the sentence of each finding only")
    parser.add_argument("--rulebook", metavar="NAME", help="check under this rulebook instead of the file's own")
    parser.add_argument(
        "--advice", action="store_true", help="what to find out first and what room is left, also of several files"
    )
    parser.add_argument("--watch", action="store_true", help="check again after each change, until Ctrl+C")


def run(arguments: argparse.Namespace) -> int:
    """Check every file, with ``--watch`` after each change of one."""
    return _watch(arguments) if arguments.watch else _check(arguments)


def _watch(arguments: argparse.Namespace) -> int:
    """Check until interrupted. Returns the status of the last check. Raises: CommandError for standard input."""
    if STANDARD_INPUT in arguments.files:
        raise CommandError("--watch looks at files again, and standard input can be read once only")
    status = statuses.FITS
    with suppress(KeyboardInterrupt):
        for _ in changes([Path(name) for name in arguments.files]):
            put(fresh_page())
            status = _check(arguments)
            finish()
            tell("circuitcheck: looking for changes; Ctrl+C ends it")
    return status


def _check(arguments: argparse.Namespace) -> int:
    """Check every file; what is wrong with one goes to standard error and does not stop the others."""
    found: list[int] = []
    reports: list[Report] = []
    for report in _reports(arguments, found):
        found.append(statuses.FAULT if report.faults else statuses.status_of(report.verdict))
        for fault in report.faults:
            tell_check_fault(fault, show_traceback=getattr(arguments, "traceback", False))
        if arguments.json:
            _put_json(report, alone=len(arguments.files) == 1)
        else:
            _put_page(report, arguments, first=not reports)
        reports.append(report)
    if reports and not arguments.json:
        _put_end(reports, arguments)
    return statuses.worst(found)


def _reports(arguments: argparse.Namespace, found: list[int]) -> Iterator[Report]:
    """The reports of the files that can be checked; statuses of the others go to ``found``."""
    for name in arguments.files:
        try:
            checked = check_file(name, arguments.rulebook)
            yield _advised(checked, arguments) if arguments.advice or len(arguments.files) == 1 else checked.report
        except CircuitFileError as wrong:
            if arguments.json:
                _put_problems(name, wrong)
            for line in problem_lines(wrong.problems, talk_style()):
                tell(line)
            found.append(statuses.WRONG_INPUT)
        except CircuitcheckError as wrong:
            tell(f"circuitcheck: {shown_text(str(wrong))}")
            found.append(statuses.WRONG_INPUT)
        except MemoryError:
            tell(f"circuitcheck: this machine has not enough memory for {shown_text(name)}")
            found.append(statuses.WRONG_INPUT)


def _advised(checked: Checked, arguments: argparse.Namespace) -> Report:
    """The report with its advice: all of it in JSON or where it is asked for.

    A page for people has what to find out, where anything is open: an answer that stands costs no time.
    """
    report = checked.report
    whole = arguments.json or arguments.advice
    if not whole and report.verdict is not Verdict.UNDETERMINED:
        return report
    from circuitcheck.advice.advised import advised

    return advised(report, checked.circuit, checked.book, room=whole)


def _put_json(report: Report, *, alone: bool) -> None:
    from circuitcheck.api.json_report import report_json

    for piece in report_json(report, finding_a_line=alone):
        put(piece)
    put("\n")


def _put_problems(name: str, wrong: CircuitFileError) -> None:
    """The document of a file that cannot be used: every problem, also of those that are too many to tell a person."""
    import json

    file = wrong.problems[0].file if wrong.problems else name
    put(json.dumps({"report": 1, "file": file, "problems": problem_entries(wrong.problems)}) + "\n")


def _put_page(report: Report, arguments: argparse.Namespace, *, first: bool) -> None:
    from circuitcheck.cli.page import report_page

    style = page_style(working=arguments.working, brief=arguments.brief)
    put(("" if first else "\n\n") + report_page(report, style))


def _put_end(reports: list[Report], arguments: argparse.Namespace) -> None:
    from circuitcheck.cli.page import safety_page, summary_page

    style = page_style()
    if len(arguments.files) > 1:
        put(summary_page(reports, style))
    put(safety_page(style))
