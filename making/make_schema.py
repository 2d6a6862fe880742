"""Writes docs/report.schema.json from the model of the report. Run: python making/make_schema.py"""

from __future__ import annotations

import json
from pathlib import Path

from circuitcheck.cli.report_shape import report_schema

SCHEMA = Path(__file__).parents[1] / "docs" / "report.schema.json"


def schema_text() -> str:
    """The schema as the file holds it."""
    return json.dumps(report_schema(), indent=2) + "\n"


if __name__ == "__main__":
    SCHEMA.write_text(schema_text(), "utf-8")
