"""The lists of the working page: the circuit with the keys for its parts, and the findings."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType

from circuitcheck.ui.widgets.line_list import LineList


class CircuitList(LineList):
    """Stands on a part; the screen does what its keys say."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,right", "choose", "Edit", key_display="Enter"),
        Binding("a", "screen.add", "Add"),
        Binding("x,delete", "screen.take_out", "Take out"),
        Binding("z", "screen.undo", "Undo"),
        Binding("n", "screen.next_unknown", "Find out next"),
    ]


class FindingList(LineList):
    """The findings, worst first."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,right", "choose", "Open", key_display="Enter"),
        Binding("t", "screen.focus_pane('circuit')", "Circuit"),
        Binding("e", "screen.focus_pane('entries')", "Entries"),
        Binding("n", "screen.next_unknown", "Find out next"),
    ]
