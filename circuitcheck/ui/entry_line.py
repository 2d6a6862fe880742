"""An entry of a part on one line: mark, label, value, and how it is known."""

from __future__ import annotations

from rich.cells import cell_len

from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.ui.entry import HOW_LETTER, HOW_WORD
from circuitcheck.ui.shown_part import ShownEntry
from circuitcheck.ui.spans import Line, cut, user_span

#: With at least this many cells for the value, how it is known is written out.
_ROOM_FOR_WORDS = 28
#: Cells that text which is no value keeps beside the value that counts.
_LEAST_DRAFT = 4


def entry_line(entry: ShownEntry, label_width: int, width: int) -> Line:
    """The line in at most ``width`` cells, the value starting at ``label_width``."""
    mark, mark_role = _mark(entry)
    value, role = user_span(entry.text, "value")
    if not value:
        value, role = _unknown(entry)
    room = width - label_width - 1
    if not entry.text and cell_len(value) > room:
        value = value.removeprefix("unknown: ")
    if entry.draft:
        return (
            (f"{mark} ", mark_role),
            (cut(entry.key.title, label_width - 3).ljust(label_width - 2), "plain"),
            *_with_draft(value if entry.text else "unknown", role, user_span(entry.draft)[0], room),
        )
    letter = HOW_LETTER.get(entry.how, "")
    how = (HOW_WORD[entry.how] if room >= _ROOM_FOR_WORDS else letter) if letter else ""
    known = bool(entry.text)
    if entry.planned:
        value = cut(value, max(room // 2 - 3, 4))
        how = f"→ {cut(entry.planned, max(room - cell_len(value) - 3, 4))}"
    return (
        (f"{mark} ", mark_role),
        (cut(entry.key.title, label_width - 3).ljust(label_width - 2), "plain" if known else "dim"),
        (cut(value, room - (len(how) + 1 if how else 0)), role),
        (f" {how}" if how else "", "added"),
    )


def is_cut(entry: ShownEntry, label_width: int, width: int) -> bool:
    """Whether the line has no room for the whole label or the whole value."""
    room = width - label_width - 1
    how = cell_len(HOW_LETTER.get(entry.how, "")) + 1 if entry.how else 0
    return cell_len(entry.key.title) > label_width - 3 or cell_len(user_span(entry.text)[0]) + how > room


def _with_draft(value: str, role: str, draft: str, room: int) -> Line:
    """The value that counts, and behind it the text that is none yet; the text gives way first."""
    shown = cut(value, room - _LEAST_DRAFT)
    return (shown, role), (" ✗ ", "fail"), (cut(draft, max(room - cell_len(shown) - 3, 1)), "fail")


def _mark(entry: ShownEntry) -> tuple[str, str]:
    if entry.says or entry.problem:
        return "✗", "fail"
    return ("?", "unknown") if entry.need == "decides" else (" ", "plain")


def _unknown(entry: ShownEntry) -> tuple[str, str]:
    if entry.inherited:
        return user_span(entry.inherited, "dim")
    if entry.need == "decides":
        return "unknown: decides", "unknown"
    if entry.need == "given up":
        return "cannot find out", "dim"
    return ("unknown: worst case", "dim") if entry.need else ("-", "dim")


def entry_example(key: Key) -> str:
    """How a value of this key is written."""
    if key.kind is not None:
        many = ", or a range: 35 to 60 ft, or: about 40 ft" if key.kind.unit == "ft" else ""
        return f"for example {key.kind.example}{many}"
    written = {
        Form.WHOLE: f"a whole number from {key.least} to {key.greatest}",
        Form.DATE: "for example 2026-03-14",
        Form.SIZE: "for example 14 AWG or 14/2",
    }
    return written.get(key.form, "any words")
