"""``circuitcheck tidy FILE -o NEW``: the same circuit in the short or the long form, comments kept."""

from __future__ import annotations

import argparse
from pathlib import Path

from circuitcheck.cli import statuses
from circuitcheck.cli.sheets import add_file_argument
from circuitcheck.cli.sources import bytes_of
from circuitcheck.cli.streams import put
from circuitcheck.errors import CommandError
from circuitcheck.text import shown_text


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the file, where to write, and which form."""
    add_file_argument(parser)
    parser.add_argument("-o", "--output", metavar="NEW", type=Path, required=True, help="circuit file to write")
    parser.add_argument("--long", action="store_true", help="write every short form out; without it, shorten")
    parser.add_argument("--replace", action="store_true", help="replace NEW if it already exists")


def run(arguments: argparse.Namespace) -> int:
    """Write the file anew. Returns 0; a file that cannot be read is told as ``check`` tells it."""
    from circuitcheck.circuit.reader import read_circuit
    from circuitcheck.circuit.short.count import keys_in
    from circuitcheck.circuit.short.tidy_long import long_text
    from circuitcheck.circuit.short.tidy_short import short_text
    from circuitcheck.circuit.toml_text import decoded
    from circuitcheck.paper.writing import refuse_existing, write_whole
    from circuitcheck.tables.rulebook import vocabulary

    output: Path = arguments.output
    refuse_existing(output, replace=arguments.replace)
    written = decoded(bytes_of(arguments.file), arguments.file)
    text = written.replace("\r\n", "\n")
    read_circuit(text, arguments.file, vocabulary())
    try:
        tidied = long_text(text, vocabulary()) if arguments.long else short_text(text, vocabulary())
    except ValueError as error:
        raise CommandError(
            f"{arguments.file}: {error}; write each table under a header of its own, such as [[box]]"
        ) from error
    if "\r\n" in written:
        tidied = tidied.replace("\n", "\r\n")
    write_whole(output, tidied.encode(), replace=arguments.replace)
    put(f"Wrote {shown_text(str(output))}: {keys_in(tidied)} keys, {keys_in(text)} before.\n")
    return statuses.FITS
