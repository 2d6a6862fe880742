"""Every section and key of the circuit file, each declared once."""

from __future__ import annotations

from collections.abc import Mapping

from circuitcheck.circuit.keys.box import BOX
from circuitcheck.circuit.keys.cable import CABLE
from circuitcheck.circuit.keys.job import JOB, SITE, SUPPLY
from circuitcheck.circuit.keys.key import Key, Section
from circuitcheck.circuit.keys.load import CONTROL, LOAD
from circuitcheck.circuit.keys.low_voltage import DRIVER, LOW_VOLTAGE_LOAD
from circuitcheck.circuit.keys.structure import FRAMING

#: The sections in the order in which a file is usually written.
SECTIONS: Mapping[str, Section] = {
    section.name: section
    for section in (JOB, SUPPLY, SITE, BOX, CABLE, LOAD, DRIVER, LOW_VOLTAGE_LOAD, CONTROL, FRAMING)
}

#: The only format so far; it stands at the top of every file.
FORMAT = 1

#: The name of the schema, and the first line of a file that we write: editors that know TOML look there for help.
SCHEMA_FILE = "circuit-file.schema.json"
SCHEMA_LINE = f"#:schema {SCHEMA_FILE}"

__all__ = ["FORMAT", "SCHEMA_FILE", "SCHEMA_LINE", "SECTIONS", "Key", "Section"]
