"""Fixes on screen: found in the background, each seen whole before anything is written; Enter takes one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from circuitcheck.advice.fixes import Fix
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Report
from circuitcheck.outcomes import VERDICT_WORD
from circuitcheck.safety import SHORT
from circuitcheck.ui.differences import finding_name
from circuitcheck.ui.fixing import FixSearch, Found, fix_page, fix_title
from circuitcheck.ui.rows import Row
from circuitcheck.ui.screens.page import PageText
from circuitcheck.ui.spans import Line, user_span, wrapped_lines
from circuitcheck.ui.widgets.caution_line import CautionLine
from circuitcheck.ui.widgets.key_line import KeyLine
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.shown import shown


class FixesScreen(Screen[Fix | None]):
    """The fixes above, below all that the one stood on would do. Returns the fix that is taken, or None."""

    CSS_PATH = "fixes.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "take", "Take into the plan", key_display="Enter", priority=True),
        Binding("escape,q", "leave", "As it was", key_display="Esc"),
        Binding("pagedown,space", "scroll(1)", "More", key_display="PgDn", priority=True),
        Binding("pageup", "scroll(-1)", "Up", show=False, priority=True),
    ]

    class Looked(Message):
        """So many changes have been looked at."""

        def __init__(self, count: int) -> None:
            """Takes the number."""
            super().__init__()
            self.count = count

    class Done(Message):
        """The search has ended: with what it found, or with what went wrong."""

        def __init__(self, found: Found | str) -> None:
            """Takes either."""
            super().__init__()
            self.found = found

    def __init__(self, circuit: Circuit, report: Report, finding: Finding | None) -> None:
        """Takes the circuit, its report, and the finding to clear; None: all that fails or is open."""
        super().__init__(classes="try-page")
        self._circuit, self._report, self._finding = circuit, report, finding
        self._found: Found | None = None
        self._search: FixSearch | None = None

    def compose(self) -> ComposeResult:
        """What is looked for, how far it is, the fixes, and the one stood on."""
        about = finding_name(self._finding) if self._finding else "all that fails or is open"
        yield Static(shown(f"Fixes for: {about}", "strong"), id="about")
        yield Static("Looking for changes that clear it …", id="progress", markup=False)
        yield LineList(id="fixes")
        yield PageText(self._no_page, id="fix")
        yield CautionLine()
        yield KeyLine()

    def on_mount(self) -> None:
        """Begins to look."""
        self.query_one(LineList).focus()
        self._search = FixSearch(
            self._circuit,
            self._report,
            self._finding,
            lambda count: None if not count else self._post(self.Looked(count)),
            lambda found: self._post(self.Done(found)),
        )

    def _post(self, message: Message) -> None:
        """Called in the thread of the search."""
        self.post_message(message)

    def on_unmount(self) -> None:
        """Nobody waits for the search any more."""
        if self._search is not None:
            self._search.leave()

    @on(Looked)
    def _looked(self, event: Looked) -> None:
        if self._found is None:
            says = f"Looking: {event.count} changes tried. Esc leaves it; nothing is written."
            self.query_one("#progress", Static).update(shown(says, "dim"))

    @on(Done)
    def _done(self, event: Done) -> None:
        progress = self.query_one("#progress", Static)
        if isinstance(event.found, str):
            progress.update(shown(event.found, "fail"))
            return
        self._found = event.found
        fixes = event.found.fixes
        if fixes.fixes:
            progress.update(shown("Each was carried out and checked again in full. Nothing is written yet.", "dim"))
        else:
            progress.update(shown("No fix.", "fail"))
        self.query_one(LineList).show_rows([self._row(n, fix) for n, fix in enumerate(fixes.fixes, start=1)])
        self.query_one("#fixes").display = bool(fixes.fixes)
        self._show()
        if not fixes.fixes:
            self.query_one(PageText).focus()

    @staticmethod
    def _row(number: int, fix: Fix) -> Row:
        head: Line = ((f"{number}. ", "added"), (f"then {VERDICT_WORD[fix.report.verdict]}: ", "strong"))
        title = user_span(fix_title(fix), "value")

        def whole(width: int) -> Sequence[Line]:
            return wrapped_lines(title[0], width, "value", "   ")

        return Row(
            number, (*head, title), whole, opened=(*head, (f"{len(fix.steps)} together" * (len(fix.steps) > 1), "dim"))
        )

    @property
    def fix(self) -> Fix | None:
        """The fix that one stands on."""
        number = self.query_one(LineList).item
        fixes = self._found.fixes.fixes if self._found else ()
        return fixes[number - 1] if isinstance(number, int) and 0 < number <= len(fixes) else None

    @on(LineList.Moved)
    def _show(self) -> None:
        self.query_one(PageText).show(self._page)

    def _no_page(self, _: int) -> Sequence[Line]:
        return ()

    def _page(self, width: int) -> Sequence[Line]:
        found, fix = self._found, self.fix
        if found is None:
            return ()
        lines: list[Line] = []
        for fault in found.fixes.faults:
            lines += wrapped_lines(user_span(fault.line)[0], width, "fail")
        if fix is not None:
            room = found.room[found.fixes.fixes.index(fix)]
            lines += fix_page(fix, room, self._report, self._circuit, width)
        elif found.fixes.why_none:
            lines += wrapped_lines(user_span(found.fixes.why_none)[0], width, "fail")
        if found.fixes.other_ways and not self._report.stop:
            lines += [(("", "plain"),), (("Other ways", "strong"),)]
            for way in found.fixes.other_ways:
                lines += wrapped_lines(way, width, "value", "  ")
        lines += [(("", "plain"),), (("Before any of it is done", "strong"),)]
        for sentence in SHORT:
            lines += wrapped_lines(sentence, width, "caution", "  ")
        return lines

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        self.action_take()

    def action_take(self) -> None:
        """Takes the fix that one stands on."""
        if self.fix is not None:
            self.dismiss(self.fix)

    def action_leave(self) -> None:
        """Leaves the plan as it was."""
        self.dismiss(None)

    def action_scroll(self, step: int) -> None:
        """Scrolls what the fix does by nearly its height."""
        page = self.query_one(PageText)
        page.scroll_relative(y=step * max(page.size.height - 1, 1), animate=False)
