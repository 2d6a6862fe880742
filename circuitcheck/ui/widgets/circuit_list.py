"""The lists of the working page: the circuit with the keys for its parts, and the findings."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from circuitcheck.ui.widgets.line_list import LineList


class CircuitList(LineList):
    """Stands on a part; the screen does what its keys say."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,right", "choose", "Edit", key_display="Enter"),
        Binding("f", "screen.focus_pane('findings')", "Findings"),
        Binding("question_mark", "screen.help", "Help", key_display="?"),
        Binding("a", "screen.add", "Add"),
        Binding("n", "screen.next_unknown", "Next unknown"),
        Binding("s", "screen.save", "Save"),
        Binding("x,delete", "screen.take_out", "Delete", key_display="x"),
        Binding("z", "screen.undo", "Undo"),
    ]


class FindingList(LineList):
    """The findings, worst first."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,right", "choose", "Open", key_display="Enter"),
        Binding("t", "screen.focus_pane('circuit')", "Circuit"),
        Binding("e", "screen.focus_pane('entries')", "Entries"),
        Binding("question_mark", "screen.help", "Help", key_display="?"),
        Binding("n", "screen.next_unknown", "Next"),
        Binding("o", "screen.only_deciding", "Decides"),
        Binding("slash", "screen.find", "Filter", key_display="/"),
    ]
