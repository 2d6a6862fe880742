"""The one-line diagram as lines of plain text, for forms without drawings and for whoever reads with the ears."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitcheck.note.one_line import LineRow, Rail, RowKind
from circuitcheck.paper.columns import filled

WIDTH = 76

_RAIL = {Rail.NONE: "   ", Rail.EXISTING: "|  ", Rail.ADDED: ":  "}
_MARK = {
    RowKind.PANEL: "[panel] ",
    RowKind.RUN: "",
    RowKind.BOX: "[] ",
    RowKind.CONTROL: "-S- ",
    RowKind.LOAD: "-o ",
    RowKind.DRIVER: "-[/] ",
    RowKind.LOW_RUN: "   ",
    RowKind.LOW_LOAD: "   o ",
    RowKind.ALIKE: "~ ",
}


def one_line_words(rows: Sequence[LineRow]) -> tuple[str, ...]:
    """The lines: ``|`` runs along what is there already, ``:`` along what is added."""
    return (
        *(line for row in rows for line in _lines(row)),
        "",
        *filled("| existing   : new   [] box   -o load   -S- switch   V: at worst", WIDTH),
    )


def _lines(row: LineRow) -> Iterator[str]:
    before = "".join(_RAIL[rail] for rail in row.rails)
    own = _RAIL[row.below if row.kind is RowKind.RUN else row.above].rstrip() or " "
    on = _RAIL[row.below].rstrip() or " "
    words = _words(row)
    if row.kind is RowKind.PANEL:
        first, rest = "", "|  "
    elif row.side:
        first, rest = f"{before[:-3]}+--{own} ", f"{before}{own} "
    elif row.kind is RowKind.BOX:
        first, rest = f"{before}[] ", f"{before}{on}  "
    else:
        indent = "   " * (row.strokes - 1) if row.kind in (RowKind.LOW_RUN, RowKind.LOW_LOAD) else ""
        mark = "" if row.kind is RowKind.DEVICE else _MARK[row.kind]
        first, rest = f"{before}{own}{indent}{mark or ' '}", f"{before}{on}{indent}{' ' * max(1, len(mark))}"
    yield from filled(words, WIDTH, first=first, rest=rest + "  ")


def _words(row: LineRow) -> str:
    if row.kind is RowKind.PANEL:
        text = f"panel {row.does}".strip()
    elif row.kind in (RowKind.DEVICE, RowKind.ALIKE):
        text = f"{row.name}: {row.does}"
    else:
        state = "NEW" if row.added else "existing"
        text = f"{row.called}: {state}, {row.does}" if row.does else f"{row.called}: {state}"
    return f"{text} [{row.volts}]" if row.volts else text
