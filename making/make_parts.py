"""Writes circuitcheck/case/parts.py: the parts of a known circuit, from the keys and from what is possible."""

from __future__ import annotations

from pathlib import Path

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key, Section
from circuitcheck.possible import declared

FILE = Path(__file__).parents[1] / "circuitcheck" / "case" / "parts.py"

HEAD = '''"""The parts of a circuit in which every entry is known: floats in SI, words, yes or no, as rules see them.

Made by ``making/make_parts.py`` from the keys of the file and ``tables/possible/``; do not edit it by hand. ``None``
means that the circuit has no such thing (a reading that nobody took, a mark that is not there), never unknown.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from circuitcheck.circuit.model import Device, FixtureWires, OtherCable, Unbroken
from circuitcheck.circuit.part import Part as Part
'''

NAMES = {
    "job": "Job",
    "supply": "Supply",
    "site": "Site",
    "box": "Box",
    "cable": "Cable",
    "load": "Load",
    "driver": "Driver",
    "low_voltage_load": "LowVoltageLoad",
    "control": "Control",
    "framing": "Framing",
}
ITEMS = {"devices": "Device", "fixture_wires": "FixtureWires", "unbroken": "Unbroken", "other_cables": "OtherCable"}
FORMS = {
    Form.PHYSICAL: "float",
    Form.PHYSICAL_LIST: "tuple[float, ...]",
    Form.WORD_LIST: "tuple[str, ...]",
    Form.YES_NO: "bool",
    Form.WHOLE: "int",
}


def type_of(section: Section, key: Key) -> str:
    """The type of a key's value in a case."""
    kind = f"tuple[{ITEMS[key.name]}, ...]" if key.form is Form.TABLES else FORMS.get(key.form, "str")
    row = declared().get(f"{section.name}.{key.name}")
    optional = (
        row.may_be_absent
        if row is not None
        else not key.required and key.form in (Form.TEXT, Form.DATE, Form.REFERENCE)
    )
    if key.form is Form.TABLES or not optional:
        return kind
    return f"{kind} | None"


def text() -> str:
    """The module."""
    parts = [HEAD]
    for section in SECTIONS.values():
        lines = [
            "",
            "",
            "@dataclass(frozen=True, eq=False, kw_only=True)",
            f"class {NAMES[section.name]}(Part):",
            f'    """{section.title}. The keys are those of the file."""',
            "",
            f'    section: ClassVar[str] = "{section.name}"',
            "",
        ]
        lines += [f"    {key.attribute}: {type_of(section, key)}" for key in section.keys.values()]
        parts.append("\n".join(lines) + "\n")
    return "".join(parts)


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
