"""``circuitcheck schema``: the JSON schema of the circuit file, for an editor, or of the report, for a script."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

from circuitcheck.circuit.keys import SCHEMA_FILE
from circuitcheck.cli import statuses
from circuitcheck.cli.streams import put, tell
from circuitcheck.text import shown_text

CIRCUIT_FILE = "circuit-file"
REPORT = "report"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare which schema and where it goes."""
    parser.add_argument(
        "of",
        nargs="?",
        choices=(CIRCUIT_FILE, REPORT),
        default=CIRCUIT_FILE,
        help="what it describes (default: circuit-file)",
    )
    parser.add_argument(
        "-o", "--output", metavar="OUT", type=Path, help=f"file to write; beside circuit files: {SCHEMA_FILE}"
    )
    parser.add_argument("--replace", action="store_true", help="replace OUT if it already exists")


def run(arguments: argparse.Namespace) -> int:
    """Print the schema, or write it."""
    text = json.dumps(_schema(arguments.of), indent=1) + "\n"
    if arguments.output is None:
        put(text)
        return statuses.FITS
    from circuitcheck.paper.writing import write_whole

    write_whole(arguments.output, text.encode("utf-8"), replace=arguments.replace)
    tell(f"Wrote {shown_text(str(arguments.output))}")
    return statuses.FITS


def _schema(of: str) -> dict[str, Any]:
    if of == REPORT:
        from circuitcheck.api.report_shape import report_schema

        return report_schema()
    from circuitcheck.circuit.file_schema import file_schema
    from circuitcheck.tables.rulebook import vocabulary

    return file_schema(vocabulary())
