"""A document as TOML text, so that the reader can be shown what a user would have written."""

from __future__ import annotations

import datetime
from typing import Any

from circuitcheck.circuit.keys import SECTIONS

_ESCAPED = {'"': '\\"', "\\": "\\\\", "\t": "\\t", "\n": "\\n"}


def toml_text(document: dict[str, Any]) -> str:
    """The document as TOML: what stands above every section, then the sections in the order of the file."""
    lines = [f"{name} = {_value(value)}" for name, value in document.items() if name not in SECTIONS]
    for name, section in SECTIONS.items():
        if name not in document:
            continue
        if not section.many:
            lines += ["", f"[{name}]", *_entries(document[name])]
        elif not document[name]:
            lines.insert(1, f"{name} = []")
        else:
            for part in document[name]:
                lines += ["", f"[[{name}]]", *_entries(part)]
    return "\n".join(lines) + "\n"


def _entries(part: dict[str, Any]) -> list[str]:
    return [f"{name} = {_value(value)}" for name, value in part.items()]


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + "".join(_ESCAPED.get(sign, sign) for sign in value) + '"'
    if isinstance(value, list):
        return f"[{', '.join(_value(one) for one in value)}]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{name} = {_value(one)}" for name, one in value.items()) + " }" if value else "{}"
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, float):
        return repr(value)
    return str(value)
