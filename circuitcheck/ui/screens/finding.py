"""A finding opened: sentence, numbers, working, sources, what to do, and a jump to the entries that decide it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.widgets import Static

from circuitcheck.findings import Finding
from circuitcheck.ui.drawing import part_and_entry
from circuitcheck.ui.finding_text import finding_page
from circuitcheck.ui.fixing import FIXABLE
from circuitcheck.ui.rows import Row
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.spans import Line, user_span
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList


class FindingScreen(Screen["str | Finding | None"]):
    """One finding at a time; Left and Right go to its neighbours.

    Returns the key path to jump to, the finding whose fixes are wanted, or None.
    """

    CSS_PATH = "finding.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "back", "Back", key_display="Esc"),
        Binding("p,left", "turn(-1)", "Finding before", priority=True, key_display="Left"),
        Binding("n,right", "turn(1)", "Next finding", priority=True, key_display="Right"),
        Binding("F", "fixes", "Fixes", key_display="F"),
        Binding("pagedown,space", "scroll(1)", "More", priority=True, key_display="PgDn"),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
    ]

    def __init__(
        self,
        findings: Sequence[Finding],
        place: int,
        title_of: Callable[[str], str],
        entry_title: Callable[[str], str],
    ) -> None:
        """Takes the findings in their order, which one to open, and what gives a check and an entry their titles."""
        super().__init__()
        self._findings = findings
        self._place = place
        self._title_of = title_of
        self._entry_title = entry_title

    def compose(self) -> ComposeResult:
        """Place, page, jumps."""
        yield Static(id="place", markup=False)
        yield PageText(self._lines, id="finding")
        yield Static("Go to the entry that decides it (Enter):", id="jump-title", markup=False)
        yield LineList(id="jumps")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Shows the finding."""
        self._show()

    @property
    def finding(self) -> Finding:
        """The finding that is open."""
        return self._findings[self._place]

    def _lines(self, width: int) -> Sequence[Line]:
        return finding_page(self.finding, self._title_of(self.finding.check), width)

    def _show(self) -> None:
        self.query_one("#place", Static).update(f"Finding {self._place + 1} of {len(self._findings)}, worst first")
        self.query_one(PageText).show(self._lines)
        self.refresh_bindings()
        keys = dict.fromkeys((*self.finding.needs, *self.finding.keys, *self.finding.assumed_keys))
        jumps = self.query_one(LineList)
        jumps.show_rows([Row(key, self._jump(key)) for key in keys])
        jumps.cursor = 0
        jumps.display = self.query_one("#jump-title").display = bool(keys)
        if keys:
            jumps.focus()
        else:
            self.query_one(PageText).focus()

    def _jump(self, key: str) -> Line:
        part, _ = part_and_entry(key)
        needed = key in self.finding.needs
        mark = ("? ", "unknown") if needed else ("→ ", "added")
        why = "  (unknown: decides)" if needed else "  (unknown)" if key in self.finding.assumed_keys else ""
        return (
            mark,
            user_span(part.replace(".", " ", 1), "name"),
            (": ", "plain"),
            user_span(self._entry_title(key)),
            (why, "unknown"),
        )

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self.dismiss(str(event.item))

    def action_turn(self, step: int) -> None:
        """Goes to the finding before or after."""
        self._place = (self._place + step) % len(self._findings)
        self._show()

    def action_scroll(self, step: int) -> None:
        """Scrolls the page by nearly its height."""
        page = self.query_one(PageText)
        page.scroll_relative(y=step * max(page.size.height - 2, 1), animate=False)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What passes has no fixes."""
        return action != "fixes" or self.finding.outcome in FIXABLE

    def action_fixes(self) -> None:
        """Goes to the fixes of this finding."""
        self.dismiss(self.finding)

    def action_back(self) -> None:
        """Goes back without a jump."""
        self.dismiss(None)
