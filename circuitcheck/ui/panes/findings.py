"""The findings, worst first: shown, folded, filtered, found and opened."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType

from circuitcheck.advice.fixes import Fix
from circuitcheck.checking.titles import check_title
from circuitcheck.circuit.edits import EditError
from circuitcheck.errors import Problem
from circuitcheck.findings import Finding, Outcome
from circuitcheck.outcomes import OUTCOME_WORD, answer_words
from circuitcheck.ui.fixing import FIXABLE, carry_out, fix_title
from circuitcheck.ui.panes.page import Page
from circuitcheck.ui.rows import PASSES, FindingRows, nothing_row
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.screens.finding import FindingScreen
from circuitcheck.ui.screens.fixes import FixesScreen
from circuitcheck.ui.titles import entry_title
from circuitcheck.ui.widgets.line_list import LineList

#: Outcomes that decide the answer.
_DECIDING = (Outcome.FAIL, Outcome.UNDETERMINED)


class FindingsPane(LineList):
    """What the checks say of the file as it stands."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,right", "choose", "Open", key_display="Enter"),
        Binding("t", "screen.focus_pane('circuit')", "Circuit"),
        Binding("e", "screen.focus_pane('entries')", "Entry"),
        Binding("question_mark", "screen.help", "Help", key_display="?"),
        Binding("F", "fixes", "Fix", key_display="F"),
        Binding("n", "screen.pane('circuit', 'next_unknown')", "Next"),
        Binding("o", "only_deciding", "Decides"),
        Binding("slash", "find", "Find", key_display="/"),
    ]

    def __init__(self, page: Page, *, id: str | None = None, classes: str | None = None) -> None:
        """Takes the page that it stands on."""
        super().__init__(id=id, classes=classes)
        self.page = page
        self.bench = page.bench
        self.border_title = "Findings, worst first"
        self._passes = False
        self._only_deciding = False

    def show_findings(self, item: object | None = None) -> None:
        """Shows what was found last; stands on ``item``."""
        checked = self.bench.checked
        if checked is None:
            return
        unfolded = self._passes and bool(checked.findings)
        rows = FindingRows(checked.findings, passes=True) if unfolded else checked.finding_rows
        if self._only_deciding and checked.report is not None:
            deciding = [finding for finding in checked.findings if finding.outcome in _DECIDING]
            rows = FindingRows(deciding) if deciding else (nothing_row("Nothing fails, and no answer is open."),)
        self.border_title = "Only what decides (o shows all)" if self._only_deciding else "Findings, worst first"
        self.show_rows(rows, item)

    def action_passes(self) -> None:
        """Shows what passes, check by check, or folds it into one row again."""
        self._passes = not self._passes
        self.show_findings(None if self._passes else PASSES)

    def action_only_deciding(self) -> None:
        """Shows only the findings that decide the answer, those that fail or are open; or all of them again."""
        self._only_deciding = not self._only_deciding
        self.show_findings()
        self.focus()

    def stand_on_finding(self, finding: Finding) -> None:
        """Stands on the row of a finding, unfolded where it is one that passes."""
        self._only_deciding = self._only_deciding and finding.outcome in _DECIDING
        self._passes = self._passes or finding.outcome is Outcome.PASS
        self.show_findings()
        if isinstance(self.rows, FindingRows):
            self.stand_on(self.rows.item_of(finding))
        self.focus()

    @property
    def finding(self) -> Finding | None:
        """The finding that one stands on; None on a problem of the file, or on what passes."""
        findings = self.bench.checked.findings if self.bench.checked else ()
        return next((found for found in findings if (found.check, found.subject) == self.item), None)

    @on(LineList.Chosen)
    def _chosen(self, event: LineList.Chosen) -> None:
        event.stop()
        if isinstance(event.item, Problem):
            self.page.jump(event.item.key)
        elif event.item == PASSES:
            self.action_passes()
        elif self.finding is not None:
            self.open_finding(self.finding)

    def open_finding(self, finding: Finding) -> None:
        """Opens a finding of the file as it stands; its page may lead to an entry."""
        findings = self.bench.checked.findings if self.bench.checked else ()
        if finding in findings:
            page = FindingScreen(findings, findings.index(finding), check_title, entry_title)
            self.app.push_screen(page, self._led)

    def _led(self, to: str | Finding | None) -> None:
        if isinstance(to, Finding):
            self.show_fixes(to)
        elif to:
            self.page.jump(to)

    def action_fixes(self) -> None:
        """The fixes of the finding one stands on; from another pane, of all that fails or is open."""
        finding = self.finding if self.has_focus else None
        if finding is not None and finding.outcome not in FIXABLE:
            self.page.tell("This passes: there is nothing to fix.")
            return
        self.show_fixes(finding)

    def show_fixes(self, finding: Finding | None) -> None:
        """Looks for fixes, shows what each would do, and takes the one that is picked into the plan."""
        self.page.finish_typing()
        checked = self.bench.checked
        if checked is None or checked.report is None or checked.circuit is None:
            self.page.tell("No fixes yet: correct what the findings name first.")
            return
        if checked.blocks is not self.bench.document.blocks:
            self.page.tell("This is still being checked: ask again in a moment.")
            return
        self.app.push_screen(FixesScreen(checked.circuit, checked.report, finding), self._take)

    def _take(self, fix: Fix | None) -> None:
        if fix is None:
            return
        says = fix_title(fix)
        try:
            carry_out(self.bench.document, tuple(edit for step in fix.steps for edit in step.edits), f"plan: {says}")
        except (EditError, ValueError) as trouble:
            self.page.tell(f"Not taken: {trouble}")
            return
        self.page.tell(f"In the plan, not done yet (z takes it back): {says}")
        self.page.changed()

    def action_find(self) -> None:
        """Finds a finding by words."""
        findings = self.bench.checked.findings if self.bench.checked else ()
        if not findings:
            self.page.tell("There are no findings to look through yet.")
            return
        choices = [
            Choice(str(place), f"{answer_words(finding)} ({OUTCOME_WORD[finding.outcome]})", finding.says)
            for place, finding in enumerate(findings)
        ]

        def taken(picked: str | None) -> None:
            if picked is not None:
                self.stand_on_finding(findings[int(picked)])

        self.app.push_screen(ChooseScreen("Find a finding", choices), taken)
