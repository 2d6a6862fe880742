"""``circuitcheck fixes FILE``: changes that were re-checked, smallest first; ``--apply N -o NEW`` writes one down."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from circuitcheck.cli import statuses
from circuitcheck.cli.check_faults import status_after
from circuitcheck.cli.lines import PageStyle, ruled, wrapped
from circuitcheck.cli.sheets import add_file_argument
from circuitcheck.cli.sources import Checked, check_file
from circuitcheck.cli.streams import page_style, put
from circuitcheck.errors import CommandError
from circuitcheck.outcomes import VERDICT_WORD, check_words
from circuitcheck.text import shown_text

if TYPE_CHECKING:
    from circuitcheck.api.found_fixes import Fix, Fixes


#: So many answers are named by check and part; of more the checks.
MOST_NAMED = 6


#: What a fault means here: of the circuit as it is, and of one that was changed.
_MISSING = "Its answer is missing; the others stand."
_NOT_TRIED = "A change after which it came up is not among the fixes; the others stand."


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file, the form of output, and which fix to write."""
    add_file_argument(parser)
    parser.add_argument("--json", action="store_true", help="print the fixes as one line of JSON")
    parser.add_argument("--rulebook", metavar="NAME", help="check under this rulebook instead of the file's own")
    parser.add_argument("--apply", metavar="N", type=int, help="write the file with fix N in it to NEW")
    parser.add_argument("-o", "--output", metavar="NEW", type=Path, help="circuit file to write, with --apply")
    parser.add_argument("--replace", action="store_true", help="replace NEW if it already exists")


def run(arguments: argparse.Namespace) -> int:
    """List the fixes, or write one. Returns the status that ``check`` has for FILE."""
    from circuitcheck.advice.fixes import fixes_of
    from circuitcheck.api.found_fixes import Fixes

    if (arguments.apply is None) != (arguments.output is None):
        raise CommandError("--apply N and -o NEW go together: which fix, and the file to write")
    checked = check_file(arguments.file, arguments.rulebook)
    found = Fixes(fixes_of(checked.circuit, checked.book, checked.report), checked.circuit)
    if arguments.apply is not None:
        _write(checked, found, arguments)
    elif arguments.json:
        put(found.to_json() + "\n")
    else:
        put("\n".join(_page(checked, found, page_style())) + "\n")
    if not arguments.json:
        from circuitcheck.cli.page import safety_page

        put(safety_page(page_style()))
    return status_after(statuses.status_of(checked.report.verdict), checked.report, faults=found.faults)


def _write(checked: Checked, found: Fixes, arguments: argparse.Namespace) -> None:
    """The file with a fix in it, read again and found to be what was checked. Raises: CommandError."""
    from circuitcheck.circuit.edits import EditError
    from circuitcheck.circuit.toml_text import decoded
    from circuitcheck.circuit.written.edited_text import with_edits
    from circuitcheck.paper.writing import refuse_existing, write_whole
    from circuitcheck.tables.rulebook import vocabulary

    number, output = arguments.apply, arguments.output
    if not 1 <= number <= len(found):
        there = f"the fixes of this file are 1 to {len(found)}" if len(found) else "this file has none"
        raise CommandError(f"there is no fix {number}: {there}")
    refuse_existing(output, replace=arguments.replace)
    fix = found[number - 1]
    written = decoded(checked.data, arguments.file)
    try:
        text = with_edits(written, fix.edits, vocabulary())
    except EditError as error:
        raise CommandError(f"{arguments.file}: {error}") from error
    except ValueError as error:
        raise CommandError(
            f"{arguments.file}: {error}; write each table under a header of its own, such as [[box]]"
        ) from error
    write_whole(output, text.encode(), replace=arguments.replace)
    if arguments.json:
        put(found.to_json() + "\n")
        return
    put(f"Wrote {shown_text(str(output))}: {fix.report.verdict}.\n")
    for says in fix.says:
        put(f"  {shown_text(says)}\n")


def _page(checked: Checked, found: Fixes, style: PageStyle) -> Iterator[str]:
    report = checked.report
    yield from ruled(f"Fixes: {report.title}", style)
    yield from wrapped(f"{report.file}, rulebook {report.rulebook}: {VERDICT_WORD[report.verdict]}", style)
    for fault in found.faults:
        yield from wrapped(f"{shown_text(fault.line)}. {_MISSING if fault in report.faults else _NOT_TRIED}", style)
    if found.why_none is not None:
        yield ""
        yield from wrapped(found.why_none, style)
    else:
        yield ""
        lead = "Each was carried out on this circuit and checked again in full. The smallest comes first."
        yield from wrapped(lead, style)
    for fix in found:
        yield ""
        yield from _fix_lines(fix, style)
    if found.other_ways and not report.stop:
        yield ""
        yield from ruled("Other ways", style)
        for way in found.other_ways:
            yield from wrapped(way, style, indent="  ", bullet="* ")
    if len(found):
        yield ""
        yield from wrapped("To write one into a new file: circuitcheck fixes FILE --apply N -o NEW", style)


def _fix_lines(fix: Fix, style: PageStyle) -> Iterator[str]:
    described = fix.to_dict()
    if len(fix.says) == 1:
        yield from wrapped(fix.says[0], style, indent="", bullet=f"{fix.n}. ")
    else:
        yield f"{fix.n}. Together:"
        for says in fix.says:
            yield from wrapped(says, style, indent="   ", bullet="* ")
    yield from wrapped(f"Then: {VERDICT_WORD[fix.report.verdict]}.", style, indent="   ")
    yield from _named("Clears", described["clears"], style)
    yield from _named("Leaves", described["leaves"], style)
    cautions = [each for each in described["brings"] if each["outcome"] == "caution"]
    opened = [each for each in described["brings"] if each["outcome"] != "caution"]
    yield from _named("Brings a new caution", cautions, style)
    yield from _named("Has to be found out then", opened, style)


def _named(lead: str, subjects: list[dict[str, str]], style: PageStyle) -> Iterator[str]:
    """Check and part, as people call them."""
    if subjects:
        names = [f"{check_words(each['check'])}{_subject(each['subject'])}" for each in subjects]
        if len(names) > MOST_NAMED:
            names = [*dict.fromkeys(check_words(each["check"]) for each in subjects)]
            more = f" and {len(names) - MOST_NAMED} more checks" if len(names) > MOST_NAMED else ""
            names = [f"{len(subjects)} answers ({', '.join(names[:MOST_NAMED])}{more})"]
        yield from wrapped(f"{lead}: {'; '.join(names)}.", style, indent="   ")


def _subject(subject: str) -> str:
    return "" if subject == "circuit" else f', "{subject}"'
