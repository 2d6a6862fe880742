"""What the commands that write a sheet share: where to write, on which paper, and what is said afterwards."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.check_faults import status_after
from circuitcheck.cli.page import safety_page
from circuitcheck.cli.sources import Checked, check_file
from circuitcheck.cli.streams import page_style, put
from circuitcheck.errors import CommandError
from circuitcheck.paper.writing import refuse_output, refuse_own_source
from circuitcheck.text import shown_text

#: What the sheet of a file is called in a folder, and the form where none is chosen.
FOLDER_FORMS = ("pdf", "html", "md", "txt")


def add_file_argument(parser: argparse.ArgumentParser) -> None:
    """Declare the one circuit file that the sheet is about."""
    parser.add_argument("file", metavar="FILE", help="circuit file (*.circuit.toml); - reads standard input")


def add_file_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the circuit files, one sheet each, and the form that several sheets in a folder have."""
    parser.add_argument("file", metavar="FILE", nargs="+", help="circuit file (*.circuit.toml); - reads standard input")
    parser.add_argument(
        "--form", choices=FOLDER_FORMS, default=FOLDER_FORMS[0], help="form of the sheets where OUT is a folder"
    )


def add_output_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare where to write and on which paper."""
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        type=Path,
        required=True,
        help="file to write: .html, .pdf, .md or .txt; of several files, the folder for their sheets",
    )
    parser.add_argument("--replace", action="store_true", help="replace OUT if it already exists")
    parser.add_argument("--paper", choices=("letter", "a4"), default="letter", help="paper for .pdf and print")


def checked_source(arguments: argparse.Namespace) -> Checked:
    """The circuit that the sheet is about, checked. Raises: CommandError where the sheet would replace that file."""
    refuse_own_source(Path(arguments.file), arguments.output)
    return check_file(arguments.file)


def each_sheet(arguments: argparse.Namespace, kind: str, write: Callable[[Checked, Path], tuple[str, int]]) -> int:
    """Write a sheet of each file. Returns the worst status: fails before cannot tell before fits.

    ``kind``: note or plan, for their names in a folder. ``write``: writes one, and returns what it says in a line and
    its status.

    Every file is read and every name looked at before the first sheet is written. Raises: CommandError.
    """
    sources: list[str] = arguments.file
    outputs = _outputs(sources, arguments.output, f".{kind}.{arguments.form}")
    for source, output in zip(sources, outputs, strict=True):
        refuse_own_source(Path(source), output)
        refuse_output(output, replace=arguments.replace)
    checked = [check_file(source) for source in sources]
    found: list[int] = []
    for one, output in zip(checked, outputs, strict=True):
        answer, status = write(one, output)
        put(f"Wrote {shown_text(f'{output}: {answer}.')}\n")
        found.append(status_after(status, one.report))
    put(safety_page(page_style()))
    return statuses.worst(found)


def _is_folder(output: Path) -> bool:
    try:
        return output.is_dir()
    except OSError:  # a name that is too long: writing it says so
        return False


def _outputs(sources: Sequence[str], output: Path, ending: str) -> list[Path]:
    """Where each sheet goes: the one output, or a name of its own in the folder. Raises: CommandError."""
    into = _is_folder(output)
    if len(sources) == 1 and not into:
        return [output]
    if not into:
        raise CommandError(f"{output}: several files need a folder that is there")
    names = [Path(source).name.removesuffix(".toml").removesuffix(".circuit") for source in sources]
    if "-" in names:
        raise CommandError("standard input goes to one file, not to a folder")
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise CommandError(f"two of the files are called {twice}: their sheets would have one name")
    return [output / f"{name}{ending}" for name in names]


def put_written(what: str) -> None:
    """Say what was written, with the cautions after it, since whoever reads it is about to touch wiring."""
    put(f"Wrote {shown_text(what)}\n")
    put(safety_page(page_style()))
