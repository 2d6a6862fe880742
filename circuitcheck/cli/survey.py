"""``circuitcheck survey -o sheet.pdf``: a sheet to walk the house with, blank or with only the unknowns left open."""

from __future__ import annotations

import argparse
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.check_faults import status_after
from circuitcheck.cli.sheets import add_output_arguments, checked_source, put_written
from circuitcheck.errors import CommandError


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file, which may be left out, the output, and the form to type into."""
    parser.add_argument(
        "file",
        metavar="FILE",
        nargs="?",
        help="circuit file: only its unknowns stay blank; none gives a blank sheet",
    )
    add_output_arguments(parser)
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--form", action="store_true", help="write an .html form to type into, which saves its answers")
    form.add_argument(
        "--fill",
        metavar="ANSWERS",
        type=Path,
        help="make OUT, a circuit file, of FILE and the answers that a form saved",
    )


def run(arguments: argparse.Namespace) -> int:
    """Write the sheet, the form, or the circuit file that its answers make."""
    if arguments.fill is not None:
        return _fill(arguments)
    from circuitcheck.sheets import write_survey

    checked = checked_source(arguments) if arguments.file is not None else None
    stopped = checked is not None and bool(checked.report.stop)
    if arguments.form and not stopped:
        return _form(arguments)
    write_survey(
        checked.report if checked else None,
        checked.circuit if checked else None,
        arguments.output,
        replace=arguments.replace,
        paper=arguments.paper,
    )
    put_written(f"{arguments.output}: STOP, call a licensed electrician first." if stopped else f"{arguments.output}")
    return status_after(statuses.FITS, *([checked.report] if checked else []))


def _form(arguments: argparse.Namespace) -> int:
    """Write the form to type into."""
    from circuitcheck.sheets.survey_form import write_form

    if arguments.output.suffix.lower() != ".html":
        raise CommandError(f"{arguments.output}: a form to type into is an .html file")
    checked = checked_source(arguments) if arguments.file is not None else None
    write_form(
        checked.circuit if checked else None,
        checked.data if checked else b"",
        arguments.output,
        replace=arguments.replace,
    )
    put_written(f"{arguments.output}")
    return status_after(statuses.FITS, *([checked.report] if checked else []))


def _fill(arguments: argparse.Namespace) -> int:
    """Make a circuit file of the answers; what it cannot be read as is told, and nothing written."""
    from circuitcheck.circuit.reader import read_circuit
    from circuitcheck.circuit.toml_text import decoded, read_bytes
    from circuitcheck.paper.writing import refuse_existing, write_whole
    from circuitcheck.sheets.survey_fill import filled_text
    from circuitcheck.tables.rulebook import vocabulary

    output: Path = arguments.output
    refuse_existing(output, replace=arguments.replace)
    answers = read_bytes(arguments.fill)
    before = decoded(read_bytes(Path(arguments.file)), arguments.file) if arguments.file is not None else None
    text = filled_text(answers, before, str(arguments.fill))
    read_circuit(text, str(output), vocabulary())
    write_whole(output, text.encode(), replace=arguments.replace)
    put_written(f"{output}")
    return statuses.FITS
