"""Small HTML tables for notebooks. Every text is escaped, and nothing in them comes from elsewhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from circuitcheck.text import shown_text


def table_html(title: str, rows: Sequence[Mapping[str, Any]]) -> str:
    """A table with the keys of the first row as heads; empty for no rows."""
    if not rows:
        return ""
    heads = "".join(f'<th scope="col">{_cell(head.replace("_", " "))}</th>' for head in rows[0])
    body = "".join(f"<tr>{''.join(f'<td>{_cell(value)}</td>' for value in row.values())}</tr>" for row in rows)
    return f"<table><caption>{_cell(title)}</caption><thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"


def paragraphs_html(sentences: Sequence[str]) -> str:
    """Each sentence as a paragraph."""
    return "".join(f"<p>{_cell(sentence)}</p>" for sentence in sentences)


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return ", ".join(f"{escape(str(key))} {_cell(inner)}" for key, inner in value.items())
    if isinstance(value, list | tuple):
        return "; ".join(_cell(inner) for inner in value) or "none"
    return escape(shown_text(str(value)))
