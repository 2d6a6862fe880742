"""The working page's answers to adding, copying, moving, taking out and finding parts, and to undo."""

from __future__ import annotations

from textual.screen import Screen

from circuitcheck.errors import CircuitFileError, CommandError
from circuitcheck.findings import Finding
from circuitcheck.outcomes import OUTCOME_WORD
from circuitcheck.ui.part_text import part_details, part_title
from circuitcheck.ui.parts.adding import add, additions_at
from circuitcheck.ui.parts.removing import below, feeding
from circuitcheck.ui.products import PRODUCTS, copy_product, products_for
from circuitcheck.ui.screens.ask import Answer, AskScreen
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.line_list import LineList
from circuitcheck.ui.widgets.part_form import PartForm
from circuitcheck.ui.workbench import Workbench


class PartActions(Screen[None]):
    """Actions on the part one stands on."""

    bench: Workbench

    def changed(self, key: str | None = None) -> None:
        """What the page does after a change."""
        raise NotImplementedError

    def tell(self, text: str) -> None:
        """Says what was done."""
        raise NotImplementedError

    def stand_on_finding(self, finding: Finding) -> None:
        """Stands on the row of a finding."""
        raise NotImplementedError

    def action_add(self) -> None:
        """Asks what to add where one stands, adds it and goes into its form."""
        part = self.bench.part
        possible = {addition.name: addition for addition in additions_at(part)}
        choices = [Choice(addition.name, addition.says) for addition in possible.values()]

        def taken(picked: str | None) -> None:
            if picked is None:
                return
            self.bench.standing = add(self.bench.document, possible[picked], part).part
            self.changed()
            self.query_one(EntryList).focus()

        where = part_title(part.section, part.data)
        self.app.push_screen(ChooseScreen(f"Add at {where}", choices, choices[0].value), taken)

    def action_duplicate(self) -> None:
        """One more like it."""
        if self.bench.duplicate():
            self.tell("Duplicated; this is the new one.")
            self.changed()
        else:
            self.tell("There can be only one of this.")

    def action_product(self) -> None:
        """Asks which product of your own the part is, and copies what its label says."""
        try:
            products = products_for(self.bench)
        except (CommandError, CircuitFileError) as trouble:
            self.tell(str(trouble))
            return
        title = part_title(self.bench.part.section, self.bench.part.data)
        if not products:
            self.tell(f"No product in {PRODUCTS} fits {title}.")
            return
        choices = [Choice(name, name, ", ".join(product.entries)) for name, product in products.items()]

        def taken(picked: str | None) -> None:
            if picked is None:
                return
            try:
                self.tell(copy_product(self.bench, products[picked]))
            except (CommandError, CircuitFileError, ValueError) as trouble:
                self.tell(str(trouble))
            self.changed()

        self.app.push_screen(ChooseScreen(f"Which product is {title}?", choices), taken)

    def action_copy(self) -> None:
        """Copies the part."""
        title = self.bench.copy()
        self.tell(f"Copied {title}. Select a box and press v." if title else "There can be only one of this.")

    def action_paste(self) -> None:
        """Puts the copied part in."""
        if self.bench.paste():
            self.changed()
        else:
            self.tell("Nothing is copied yet: c copies.")

    def action_move(self, step: int) -> None:
        """Moves the part among its like."""
        if self.bench.move(step):
            self.changed()
        else:
            self.tell("It is already at the end of its kind.")

    def action_take_out(self) -> None:
        """Takes the part out; asks first when more hangs on it."""
        part = self.bench.part
        if not part.repeated:
            self.tell("The circuit needs this part. To make an entry unknown, press u.")
            return
        gone = below(self.bench.document, part)
        feed = feeding(self.bench.document, part)
        others = [block for block in gone if block.number != part.number]
        if not others:
            self._take_out()
            return
        named = [part_title(block.section, block.data) for block in others[:6]]
        more = f" and {len(others) - 6} more" if len(others) > 6 else ""
        sentences = [f"This also deletes what is fed from it: {', '.join(named)}{more}."]
        if feed is not None:
            sentences.append(f"And the cable that feeds it: {feed.id}.")
        answers = [Answer("take", "y", "Yes, delete it all (z brings it back)"), Answer("stay", "n", "No, leave it")]

        def taken(answer: str | None) -> None:
            if answer == "take":
                self._take_out()

        self.app.push_screen(AskScreen(f"Delete {part_title(part.section, part.data)}?", sentences, answers), taken)

    def _take_out(self) -> None:
        title = self.bench.take_out()
        if title:
            self.tell(f"Deleted: {title} (z brings it back)")
        self.changed()

    def action_undo(self) -> None:
        """Takes the latest step back; in an open field, what was typed there and nothing else."""
        form = self.query_one(PartForm)
        if form.editing:
            form.give_up()
        else:
            self._after_undo("Undone", self.bench.undo())

    def action_redo(self) -> None:
        """Makes the step last taken back again; an open field is none to go on from."""
        if self.query_one(PartForm).editing:
            self.tell("Keep or drop what you typed first: Enter or Esc.")
        else:
            self._after_undo("Done again", self.bench.redo())

    def _after_undo(self, word: str, says: str | None) -> None:
        if says is None:
            self.tell("Nothing to undo." if word == "Undone" else "Nothing to do again.")
            return
        self.tell(f"{word}: {says}")
        self.changed()
        self.query_one("#circuit", LineList).stand_on(self.bench.standing)

    def action_next_unknown(self) -> None:
        """Goes to the unknown entry that settles most, then to the next."""
        found = self.bench.next_unknown()
        if found is not None:
            self.jump(found[0])
            self.tell(found[1])
        elif self.bench.given_up:
            self.tell("Only what you cannot find out is left. An electrician can.")
        else:
            self.tell("Nothing is left that an open answer waits for.")

    def jump(self, key_path: str) -> None:
        """Goes to the entry that a key path names."""
        raise NotImplementedError

    def action_find(self) -> None:
        """Finds by words what the pane one is in is about: a part, a finding, or an entry."""
        focused = self.focused
        if focused is not None and focused.id == "findings":
            self._find_finding()
        elif isinstance(focused, EntryList):
            self._find_entry(focused)
        else:
            self._find_part()

    def _find_finding(self) -> None:
        findings = self.bench.checked.findings if self.bench.checked else ()
        if not findings:
            self.tell("There are no findings to look through yet.")
            return
        choices = [
            Choice(str(place), f"{finding.check}, {finding.subject} ({OUTCOME_WORD[finding.outcome]})", finding.says)
            for place, finding in enumerate(findings)
        ]

        def taken(picked: str | None) -> None:
            if picked is not None:
                self.stand_on_finding(findings[int(picked)])

        self.app.push_screen(ChooseScreen("Find a finding", choices), taken)

    def _find_entry(self, listed: EntryList) -> None:
        entries = self.bench.shown_part().entries
        choices = [Choice(entry.key.name, entry.key.title, entry.text or "unknown") for entry in entries]

        def taken(picked: str | None) -> None:
            if picked is not None:
                listed.stand_on(picked)
                listed.focus()

        self.app.push_screen(ChooseScreen("Find an entry", choices, str(listed.item)), taken)

    def _find_part(self) -> None:
        choices = [
            Choice(str(block.number), part_title(block.section, block.data), part_details(block.section, block.data))
            for block in self.bench.document.blocks
            if block.section
        ]

        def taken(picked: str | None) -> None:
            if picked is not None:
                self.bench.standing = int(picked)
                circuit = self.query_one("#circuit", LineList)
                circuit.stand_on(int(picked))
                self.changed()
                circuit.focus()

        self.app.push_screen(ChooseScreen("Find a part", choices, str(self.bench.part.number)), taken)
