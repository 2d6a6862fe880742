"""The circuit as it runs: parts stood on, added, copied, moved, deleted and found."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import on
from textual.binding import Binding, BindingType

from circuitcheck.circuit.change import MOVE, REMOVE, REPLACE
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.written.block import Block
from circuitcheck.errors import CircuitFileError, CommandError
from circuitcheck.safety import ONE_LINE
from circuitcheck.ui.panes.page import Page
from circuitcheck.ui.part_text import part_details, part_title
from circuitcheck.ui.parts.adding import add, additions_at
from circuitcheck.ui.parts.planning import (
    ACTION_SAYS,
    actions_for,
    change_of,
    changed_part,
    ends_of,
    is_change,
    is_there,
    plan,
    ref_of,
    why_no_change,
)
from circuitcheck.ui.parts.removing import below, feeding
from circuitcheck.ui.products import PRODUCTS, copy_product, products_for
from circuitcheck.ui.screens.ask import Answer, AskScreen
from circuitcheck.ui.screens.choose import Choice, ChooseScreen
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.line_list import LineList


class CircuitPane(LineList):
    """Stands on a part, and does what its keys say with it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,right", "choose", "Edit", key_display="Enter"),
        Binding("f", "screen.focus_pane('findings')", "Findings"),
        Binding("question_mark", "screen.help", "Help", key_display="?"),
        Binding("a", "add", "Add"),
        Binding("n", "next_unknown", "Next"),
        Binding("C", "plan", "Plan", key_display="C"),
        Binding("W", "screen.what_if", "What if", key_display="W"),
        Binding("s", "screen.pane('file-line', 'save')", "Save"),
        Binding("x,delete", "take_out", "Delete", show=False),
        Binding("z", "screen.undo", "Undo"),
    ]

    def __init__(self, page: Page, *, id: str | None = None, classes: str | None = None) -> None:
        """Takes the page that it stands on."""
        super().__init__(id=id, classes=classes)
        self.page = page
        self.bench = page.bench
        self.border_title = "Circuit, as it runs"

    @on(LineList.Moved)
    def _stands(self, event: LineList.Moved) -> None:
        event.stop()
        if isinstance(event.item, int) and event.item != self.bench.standing:
            self.bench.standing = event.item
            self.page.show_part()

    @on(LineList.Chosen)
    def _into_part(self, event: LineList.Chosen) -> None:
        event.stop()
        self._to_entries()

    def _to_entries(self) -> None:
        self.screen.query_one(EntryList).focus()

    def action_add(self) -> None:
        """Asks what to add where one stands, adds it and goes into its form."""
        part = changed_part(self.bench.document, self.bench.part) or self.bench.part
        possible = {addition.name: addition for addition in additions_at(part)}
        choices = [Choice(addition.name, addition.says) for addition in possible.values()]

        def taken(picked: str | None) -> None:
            if picked is None:
                return
            self.bench.standing = add(self.bench.document, possible[picked], part).part
            self.page.changed()
            self._to_entries()

        where = part_title(part.section, part.data)
        self.app.push_screen(ChooseScreen(f"Add at {where}", choices, choices[0].value), taken)

    def action_duplicate(self) -> None:
        """One more like it."""
        if self.bench.duplicate():
            self.page.tell("Duplicated; this is the new one.")
            self.page.changed()
        else:
            self.page.tell("There can be only one of this.")

    def action_product(self) -> None:
        """Asks which product of your own the part is, and copies what its label says."""
        try:
            products = products_for(self.bench)
        except (CommandError, CircuitFileError) as trouble:
            self.page.tell(str(trouble))
            return
        title = part_title(self.bench.part.section, self.bench.part.data)
        if not products:
            self.page.tell(f"No product in {PRODUCTS} fits {title}.")
            return
        choices = [Choice(name, name, ", ".join(product.entries)) for name, product in products.items()]

        def taken(picked: str | None) -> None:
            if picked is None:
                return
            try:
                self.page.tell(copy_product(self.bench, products[picked]))
            except (CommandError, CircuitFileError, ValueError) as trouble:
                self.page.tell(str(trouble))
            self.page.changed()

        self.app.push_screen(ChooseScreen(f"Which product is {title}?", choices), taken)

    def action_copy(self) -> None:
        """Copies the part."""
        title = self.bench.copy()
        self.page.tell(f"Copied {title}. Select a box and press v." if title else "There can be only one of this.")

    def action_paste(self) -> None:
        """Puts the copied part in."""
        if self.bench.paste():
            self.page.changed()
        else:
            self.page.tell("Nothing is copied yet: c copies.")

    def action_reorder(self, step: int) -> None:
        """Moves the part among its like."""
        if self.bench.move(step):
            self.page.changed()
        else:
            self.page.tell("It is already at the end of its kind.")

    def action_take_out(self) -> None:
        """Takes the part out; asks first when more hangs on it."""
        part = self.bench.part
        if not part.repeated:
            self.page.tell("The circuit needs this part. To make an entry unknown, press u.")
            return
        if is_there(part) and change_of(self.bench.document, part) is None:
            self._ask_removal(part)
        else:
            self._ask_take_out(part)

    def _ask_removal(self, part: Block) -> None:
        """Of a part that is there: whether the work takes it away, or it never was there."""
        answers = [
            Answer("plan", "p", "Plan to take it away: the file keeps what is there"),
            Answer("delete", "y", "It is not there: delete it from the file"),
            Answer("stay", "n", "No, leave it"),
        ]

        def taken(answer: str | None) -> None:
            if answer == "plan":
                self._plan(part, REMOVE)
            elif answer == "delete":
                self._ask_take_out(part)

        title = part_title(part.section, part.data)
        sentences = ["This part is there already."]
        self.app.push_screen(AskScreen(f"Take away {title}?", sentences, answers), taken)

    def _ask_take_out(self, part: Block) -> None:
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
            self.page.tell(f"Deleted: {title} (z brings it back)")
        self.page.changed()

    def action_plan(self) -> None:
        """Asks what is planned for the part that is there, and goes into the entries of the new one."""
        part, document = self.bench.part, self.bench.document
        if is_change(part):
            self.page.tell("This is the planned change: enter what the new part is like, or press x to drop it.")
        elif (planned := change_of(document, part)) is not None:
            self._stand(planned.number)
        elif not is_there(part):
            self.page.tell(why_no_change(part))
        else:
            choices = [Choice(action, ACTION_SAYS[action]) for action in actions_for(part)]
            if part.section == "supply":
                choices = [Choice(REPLACE, "Another device of the same rating, by an electrician")]
            title = f"Plan a change: {part_title(part.section, part.data)}"

            def taken(action: str | None) -> None:
                if action == MOVE and ends_of(part):
                    self._ask_place(part)
                elif action is not None:
                    self._plan(part, action)

            self.app.push_screen(ChooseScreen(title, choices, about=ONE_LINE), taken)

    def _ask_place(self, part: Block) -> None:
        """Asks where a part goes that is moved."""
        ends = ends_of(part)
        keys = SECTIONS[ref_of(part).section].keys
        names = {end: self.bench.document.ids(keys[end].refers) for end in ends}
        choices = [
            Choice(f"{end} {name}", f'{keys[end].title}: "{name}"')
            for end in ends
            for name in names[end]
            if name not in (part.data.get(end), part.id)
        ]

        def taken(picked: str | None) -> None:
            if picked is not None:
                end, _, name = picked.partition(" ")
                self._plan(part, MOVE, {end: name})

        self.app.push_screen(ChooseScreen("Where does it go?", choices), taken)

    def _plan(self, part: Block, action: str, new: Mapping[str, object] | None = None) -> None:
        number = plan(self.bench.document, part, action, new).part
        title = part_title(part.section, part.data)
        self.page.tell(f"Planned for {title}; what is there stays in the file (z takes the plan back)")
        self._stand(number, entries=action != REMOVE)

    def _stand(self, number: int, *, entries: bool = True) -> None:
        self.bench.standing = number
        self.page.changed()
        if entries:
            self._to_entries()

    def action_next_unknown(self) -> None:
        """Goes to the unknown entry that settles most, then to the next."""
        found = self.bench.next_unknown()
        if found is not None:
            self.page.jump(found[0])
            self.page.tell(found[1])
        elif self.bench.given_up:
            self.page.tell("Only what you cannot find out is left. An electrician can.")
        else:
            self.page.tell("Nothing is left that an open answer waits for.")

    def action_find(self) -> None:
        """Finds a part by words."""
        choices = [
            Choice(str(block.number), part_title(block.section, block.data), part_details(block.section, block.data))
            for block in self.bench.document.blocks
            if block.section
        ]

        def taken(picked: str | None) -> None:
            if picked is not None:
                self.bench.standing = int(picked)
                self.stand_on(int(picked))
                self.page.changed()
                self.focus()

        self.app.push_screen(ChooseScreen("Find a part", choices, str(self.bench.part.number)), taken)
