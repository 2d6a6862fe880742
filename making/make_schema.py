"""Writes docs/report.schema.json, docs/problems.schema.json and docs/circuit-file.schema.json from their shapes.

Run: python making/make_schema.py
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from circuitcheck.api.report_shape import problems_schema, report_schema
from circuitcheck.circuit.file_schema import file_schema
from circuitcheck.circuit.keys import SCHEMA_FILE
from circuitcheck.tables.rulebook import vocabulary

DOCS = Path(__file__).parents[1] / "docs"


def schemas() -> dict[Path, dict[str, Any]]:
    """Every schema with its file."""
    return {
        DOCS / "report.schema.json": report_schema(),
        DOCS / "problems.schema.json": problems_schema(),
        DOCS / SCHEMA_FILE: file_schema(vocabulary()),
    }


if __name__ == "__main__":
    for path, schema in schemas().items():
        path.write_text(json.dumps(schema, indent=1 if path.name == SCHEMA_FILE else 2) + "\n", "utf-8")
