"""``circuitcheck compare FILE FILE…``: only what differs, between files, between editions, or between circuits."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from circuitcheck.cli import statuses
from circuitcheck.cli.check_faults import status_after
from circuitcheck.cli.sources import bytes_of, check_file, under_each_edition
from circuitcheck.cli.streams import put
from circuitcheck.errors import CommandError
from circuitcheck.text import shown_text

if TYPE_CHECKING:
    from circuitcheck.advice.comparing import Comparison
    from circuitcheck.advice.placing import Placed
    from circuitcheck.findings import Finding, Report
    from circuitcheck.paper import Outline

_HOW = """\
  circuitcheck compare a.circuit.toml b.circuit.toml     two plans side by side
  circuitcheck compare a.circuit.toml --rulebooks        one file under each edition
  circuitcheck compare lights.circuit.toml --on hall.circuit.toml --on den.circuit.toml
                                                         the added parts on other circuits
A cable with from = "?" in the first file is tried at each box that the rules allow."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the files and what is compared."""
    parser.epilog = _HOW
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("files", nargs="+", metavar="FILE", help="circuit file (*.circuit.toml)")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--rulebooks", action="store_true", help="one column for each edition of the code")
    what.add_argument(
        "--on",
        action="append",
        metavar="FILE",
        help="try the added parts of the first file on this circuit; repeatable",
    )
    parser.add_argument("--json", action="store_true", help="print the comparison as JSON")
    parser.add_argument("-o", "--output", metavar="OUT", type=Path, help="file to write: .html, .md, .txt or .pdf")
    parser.add_argument("--replace", action="store_true", help="replace OUT if it already exists")


def run(arguments: argparse.Namespace) -> int:
    """Compare. Returns 0 where that could be done. Raises: CircuitFileError, CommandError."""
    if arguments.on:
        return _compare_places(arguments)
    if arguments.rulebooks == (len(arguments.files) > 1):
        raise CommandError(
            "give one file with --rulebooks" if arguments.rulebooks else "give two files or more, --rulebooks, or --on"
        )
    from circuitcheck.advice.comparing import compared
    from circuitcheck.sheets import TOOL
    from circuitcheck.sheets.comparison import comparison_outline

    if arguments.rulebooks:
        by_edition = under_each_edition(check_file(arguments.files[0]))
        titles, reports = list(by_edition), list(by_edition.values())
    else:
        titles = _short_names(arguments.files)
        reports = [check_file(name).report for name in arguments.files]
    comparison = compared(reports)
    _give(arguments, _document(comparison), comparison_outline(comparison, titles, tool=TOOL, made=date.today()))
    return status_after(statuses.FITS, *reports)


def _compare_places(arguments: argparse.Namespace) -> int:
    from circuitcheck.advice.placing import placings, ranked, with_open_starts
    from circuitcheck.circuit.reader import read_circuit
    from circuitcheck.circuit.toml_text import decoded
    from circuitcheck.sheets import TOOL
    from circuitcheck.sheets.comparison import placing_outline
    from circuitcheck.tables.rulebook import load_rulebook, vocabulary

    if len(arguments.files) > 1:
        raise CommandError("--on tries the added parts of one file; give one file before it")
    (name,) = arguments.files
    job = read_circuit(with_open_starts(decoded(bytes_of(name), name)), name, vocabulary())
    book = load_rulebook(job.job.rulebook)
    places: list[Placed] = []
    for other in arguments.on:
        house = read_circuit(decoded(bytes_of(other), other), other, vocabulary())
        places.extend(placings(job, house, book))
    if not places:
        raise CommandError("none of these circuits has a box that is already there")
    best = [place for place in ranked(places) if not place.ruled_out]
    ruled_out = [place for place in places if place.ruled_out]
    _give(
        arguments,
        {
            "title": job.job.title,
            "rulebook": book.edition,
            "places": [_place(place) for place in best],
            "ruled_out": [{"file": each.file, "box": each.box, "says": each.ruled_out} for each in ruled_out],
        },
        placing_outline(job.job.title, best, ruled_out, tool=TOOL, made=date.today()),
    )
    return status_after(statuses.FITS, *(place.report for place in places))


def _give(arguments: argparse.Namespace, document: dict[str, Any], outline: Outline) -> None:
    """Print it, and write it where a file is named."""
    from circuitcheck.paper.text_form import plain_text_of
    from circuitcheck.paper.writing import refuse_own_source, write_outline

    if arguments.output is not None:
        for name in (*arguments.files, *(arguments.on or ())):
            refuse_own_source(Path(name), arguments.output)
        write_outline(outline, arguments.output, replace=arguments.replace, paper="letter")
    if arguments.json:
        put(json.dumps(document) + "\n")
    elif arguments.output is None:
        put(plain_text_of(outline))
    else:
        put(f"Wrote {shown_text(str(arguments.output))}\n")


def _short_names(files: Sequence[str]) -> list[str]:
    """The files without their endings, whole paths where two would be called the same."""
    names = [Path(name).name.removesuffix(".toml").removesuffix(".circuit") for name in files]
    return names if len(set(names)) == len(names) else list(files)


def _document(comparison: Comparison) -> dict[str, Any]:
    return {
        "reports": [_head(report) for report in comparison.reports],
        "differ": [
            {"check": line.check, "subject": line.subject, "answers": [_answer(each) for each in line.findings]}
            for line in comparison.lines
        ],
        "same": comparison.same,
        "only_passing": comparison.only_passing,
    }


def _head(report: Report) -> dict[str, Any]:
    from collections import Counter

    counts = Counter(str(finding.outcome) for finding in report.findings if not finding.to_come)
    return {
        "file": report.file,
        "title": report.title,
        "rulebook": report.rulebook,
        "verdict": report.verdict,
        "stop": bool(report.stop),
        "counts": dict(counts),
        "faults": [{"check": fault.check, "says": fault.says} for fault in report.faults],
    }


def _answer(finding: Finding | None) -> dict[str, Any] | None:
    if finding is None:
        return None
    return {
        "outcome": finding.outcome,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "chosen": finding.chosen,
        "says": finding.says,
    }


def _place(place: Placed) -> dict[str, Any]:
    from circuitcheck.findings import Outcome
    from circuitcheck.quantities import in_unit

    left, cable = place.load_left_a, place.new_cable_m
    return {
        **_head(place.report),
        "file": place.file,
        "circuit": place.title,
        "box": place.box,
        "fails": [each.says for each in place.report.findings if each.outcome is Outcome.FAIL],
        "load_left": None if left is None else {"amount": left, "unit": "A"},
        "new_cable": None if cable is None else {"amount": float(f"{in_unit(cable, 'ft'):.10g}"), "unit": "ft"},
    }
