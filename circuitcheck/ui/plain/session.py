"""The working page in lines: the answer, the circuit, a part, the findings, and commands by word."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from circuitcheck.circuit.change import REMOVE
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.written.block import text_of
from circuitcheck.errors import CircuitcheckError
from circuitcheck.safety import ONE_LINE, SHORT
from circuitcheck.ui.entry import words_of
from circuitcheck.ui.examining import Checked, examine
from circuitcheck.ui.guide_text import full_help, guide_for
from circuitcheck.ui.note_writing import note_path, write_note_of
from circuitcheck.ui.part_text import part_title
from circuitcheck.ui.parts.adding import add, additions_at
from circuitcheck.ui.parts.planning import change_of, is_there, plan
from circuitcheck.ui.plain.pages import (
    answer_page,
    circuit_page,
    entry_sentence,
    finding_page,
    findings_page,
    part_page,
)
from circuitcheck.ui.plain.tables import change_tables
from circuitcheck.ui.plain.talk import EndedError, Talk
from circuitcheck.ui.plain.trying import ask_plan, begin_what_if, end_what_if, offer_fixes, say_mark, say_room
from circuitcheck.ui.shown_part import ShownEntry
from circuitcheck.ui.workbench import Workbench

_HELP = """A number opens that part. Commands that work here:
circuit: the parts again. findings: all of them, worst first. finding 3: one with its working and sources.
passes: what found nothing wrong. next: the question that settles most. add: add at a part. duplicate, delete: a part.
fixes: changes that were checked, for everything, or fixes 3 for finding 3; each is shown before it is taken.
plan: a change of a part that is there, such as plan 5. room 5: how much room is left there.
what if: try something; then keep, drop, other (a second one), and what if again says them side by side.
undo, redo. save. note: write the note for an electrician or inspector. help. leave.
The letters of the screens work too: f, p, n, a, d, x, z, y, s, w, q, F, C, W, K, X."""

#: The keys of the screens, which mean the same here.
_LETTERS = {
    "t": "circuit", "f": "findings", "p": "passes", "n": "next", "a": "add", "d": "duplicate", "x": "delete",
    "F": "fixes", "C": "plan", "W": "what", "K": "keep", "X": "drop",
    "take": "delete", "z": "undo", "y": "redo", "s": "save", "w": "note", "?": "help",
}  # fmt: skip


class Session:
    """Talks about one file until it is left."""

    def __init__(self, talk: Talk, bench: Workbench) -> None:
        """Takes the conversation and the workbench."""
        self._talk = talk
        self._bench = bench
        self._cautions_read = False
        self._straight: Mapping[str, int] = {}
        self._commands: dict[str, Callable[[str], None]] = {
            "circuit": lambda _: self._say_circuit(),
            "findings": lambda _: self._say_findings(),
            "finding": self._say_finding,
            "next": lambda _: self._next(),
            "add": self._add,
            "duplicate": self._duplicate,
            "delete": self._take_out,
            "undo": lambda _: self._undo(self._bench.undo()),
            "redo": lambda _: self._undo(self._bench.redo()),
            "save": self._save_as_said,
            "note": lambda _: self._note(),
            "passes": lambda _: self._say_findings(passes=True),
            "fixes": self._fixes,
            "plan": self._plan,
            "room": self._room,
            "what": lambda _: begin_what_if(self._talk, self._bench, self._examine()),
            "keep": lambda _: self._end_what_if("keep"),
            "drop": lambda _: self._end_what_if("drop"),
            "other": lambda _: self._end_what_if("other"),
            "help": lambda _: self._talk.say(_HELP),
        }
        self._commands |= {letter: self._commands[word] for letter, word in _LETTERS.items()}

    def run(self) -> None:
        """Says the page and does what is asked until the file is left."""
        self._examine()
        self._say_circuit()
        self._talk.say("Type help for the commands that work here.")
        try:
            while True:
                words = self._talk.ask("What next?").split()
                if not words:
                    continue
                if words[0] not in self._commands:  # the capital letters of the screens are words of their own
                    words = [word.casefold() for word in words]
                if words[0] in ("leave", "quit", "q", "exit"):
                    if self._may_leave():
                        return
                elif words[0].isascii() and words[0].isdigit():
                    self._open_part(words[0])
                elif words[0] in self._commands:
                    self._commands[words[0]](" ".join(words[1:]))
                else:
                    self._talk.say(f"{words[0]} is not a command here. {_HELP}")
        except EndedError:
            if self._bench.document.changed:
                self._talk.say("")
                self._talk.say(
                    f"Not saved; a copy is kept beside {self._bench.document.path.name} and offered next time."
                )
            raise

    def _examine(self) -> Checked:
        document = self._bench.document
        checked = examine(document.blocks, str(document.path), self._straight)
        self._straight = checked.straight
        self._bench.checked = checked
        try:
            what_if = self._bench.what_if
            if what_if.on and what_if.changed_before:  # what is only tried must not come back as if it were so
                document.keep_recovery(text_of(what_if.blocks_before))
            elif document.changed and not what_if.on:
                document.keep_recovery(document.text)
            else:
                document.drop_recovery()
        except CircuitcheckError as trouble:
            self._talk.say(f"No recovery copy can be kept: {trouble}")
        return checked

    def _say_answer(self) -> None:
        checked = self._examine()
        if checked.fault:
            self._talk.say(f"A fault of the program itself: {checked.fault}")
        for line in answer_page(checked):
            self._talk.say(line)
        say_mark(self._talk, self._bench, checked)

    def _say_circuit(self) -> None:
        document = self._bench.document
        job = document.first("job")
        self._talk.heading(f"{job.data.get('title', '') if job else ''}, {document.path.name}")
        self._talk.say(ONE_LINE)
        self._say_answer()
        self._talk.heading("The circuit as it runs from the panel")
        if self._bench.checked is not None:
            for line in circuit_page(self._bench.checked):
                self._talk.say(line)

    def _say_findings(self, *, passes: bool = False) -> None:
        self._talk.heading("Findings, worst first")
        for line in findings_page(self._examine(), passes=passes):
            self._talk.say(line)

    def _say_finding(self, which: str) -> None:
        checked = self._examine()
        if which.isascii() and which.isdigit() and 1 <= int(which) <= len(checked.findings):
            for line in finding_page(checked, int(which) - 1):
                self._talk.say(line)
        else:
            self._talk.say("Type finding and its number.")

    def _parts(self) -> list[int]:
        drawing = self._bench.checked.drawing if self._bench.checked else ()
        return [drawn.part for drawn in drawing if drawn.part]

    def _stand_on(self, which: str) -> bool:
        """Stands on the part of that number; asks for it when none was said."""
        parts = self._parts()
        if not which:
            drawing = self._bench.checked.drawing if self._bench.checked else ()
            picked = self._talk.ask_number("At which part?", [drawn.name for drawn in drawing if drawn.part])
            which = str(picked or "")
        if not which.isascii() or not which.isdigit() or not 1 <= int(which) <= len(parts):
            return False
        self._bench.standing = parts[int(which) - 1]
        return True

    def _open_part(self, which: str) -> None:
        if not self._stand_on(which):
            self._talk.say("There is no part with that number. Type circuit for the list.")
            return
        self._enter_part()

    def _enter_part(self) -> None:
        """Shows the part one stands on and changes its entries until nothing is asked for."""
        while True:
            part = self._bench.shown_part()
            self._talk.heading(part.title)
            for line in part_page(part):
                self._talk.say(line)
            picked = self._talk.ask_number(
                "Which entry? An empty line goes back.", [entry.key.title for entry in part.entries]
            )
            if picked is None:
                self._say_answer()
                return
            self._change(part.entries[picked - 1])

    def _change(self, entry: ShownEntry) -> None:
        """Asks for a value until it is one; nothing leaves it as it is."""
        key = entry.key
        guide = guide_for(self._bench.section_of(key.name), key.name)
        self._talk.say(entry_sentence(entry))
        if guide:
            self._talk.say(guide.what)
        words = ("yes", "no") if key.form is Form.YES_NO else words_of(key, self._bench.vocabulary)
        if key.form is Form.REFERENCE:
            words = self._bench.references(key)
        if words and len(words) <= 60:
            self._talk.say("One of: " + ", ".join(words))
        if key.form is Form.TABLES:
            change_tables(self._talk, self._bench, key)
            return
        while True:
            text = self._talk.ask("Value, or unknown, cannot (find out), or ? for the whole explanation:")
            if not text:
                return
            if text == "?":
                self._talk.say_lines(full_help(guide, self._talk.width) if guide else [])
                continue
            if text.casefold() == "unknown":
                self._bench.clear(key.name)
                break
            if text.casefold().startswith("cannot"):
                if self._bench.give_up(key.name) is None:
                    self._talk.say("It has a value: type unknown first.")
                break
            how = next((how for how in ("measured", "label", "guess") if text.casefold() == how), "")
            if how:
                self._bench.mark(key.name, how)
                break
            typed = self._bench.read(key.name, text)
            if not typed.problem:
                self._bench.put(key.name, typed.value, also=typed.also)
                break
            meant = f" Did you mean {typed.suggestion}?" if typed.suggestion else ""
            self._talk.say(typed.problem + meant)
        self._examine()
        self._talk.say(entry_sentence(next(e for e in self._bench.shown_part().entries if e.key.name == key.name)))

    def _next(self) -> None:
        found = self._bench.next_unknown()
        if found is None:
            left = "Only what you cannot find out is left." if self._bench.given_up else "Nothing is left to find out."
            self._talk.say(left)
            return
        self._talk.say(found[1])
        entry = self._bench.stand_on_path(found[0])
        self._talk.heading(part_title(self._bench.part.section, self._bench.part.data))
        if entry is not None:
            self._change(entry)
            self._say_answer()

    def _add(self, which: str) -> None:
        if not self._stand_on(which):
            return
        possible = additions_at(self._bench.part)
        for number, addition in enumerate(possible, start=1):
            self._talk.say(f"{number}. {addition.says}")
        picked = self._talk.ask_number("Add which? An empty line goes back.", [addition.says for addition in possible])
        if picked is not None:
            self._bench.standing = add(self._bench.document, possible[picked - 1], self._bench.part).part
            self._say_circuit()

    def _duplicate(self, which: str) -> None:
        if self._stand_on(which):
            self._talk.say("Duplicated." if self._bench.duplicate() else "There can be only one of this.")
            self._say_circuit()

    def _take_out(self, which: str) -> None:
        if self._stand_on(which.removeprefix("out").strip()):
            title = part_title(self._bench.part.section, self._bench.part.data)
            part = self._bench.part
            there = part.repeated and is_there(part) and change_of(self._bench.document, part) is None
            asked = f"{title} is there. Does the work take it away? The file keeps what is there."
            if there and self._talk.ask_yes(asked):
                self._bench.standing = plan(self._bench.document, part, REMOVE).part
                self._say_circuit()
                return
            if self._talk.ask_yes(f"Delete {title} with everything fed from it?"):
                self._talk.say(f"Deleted: {title}." if self._bench.take_out() else "The circuit needs this part.")
                self._say_circuit()

    def _fixes(self, which: str) -> None:
        checked, number = self._examine(), which.removeprefix("finding").strip()
        place = int(number) - 1 if number.isascii() and number.isdigit() else -1
        finding = checked.findings[place] if 0 <= place < len(checked.findings) else None
        if number and finding is None:
            self._talk.say("There is no finding of that number. Write findings for the list.")
        elif offer_fixes(self._talk, self._bench, checked, finding):
            self._say_circuit()

    def _plan(self, which: str) -> None:
        if self._stand_on(which) and ask_plan(self._talk, self._bench):
            self._examine()
            self._enter_part()
        else:
            self._say_answer()

    def _room(self, which: str) -> None:
        if self._stand_on(which):
            say_room(self._talk, self._bench, self._examine())

    def _end_what_if(self, how: str) -> None:
        if end_what_if(self._talk, self._bench, self._examine(), how):
            self._say_answer()

    def _trying(self, what: str) -> bool:
        """Whether a what-if is on; says that it has to end first."""
        if self._bench.what_if.on:
            self._talk.say(f"A what-if is on: write keep or drop first, then {what}.")
        return self._bench.what_if.on

    def _undo(self, says: str | None) -> None:
        tried = " in this what-if: drop drops it" if self._bench.what_if.on else " there"
        self._talk.say(f"Done: {says.removesuffix('.')}." if says else f"Nothing to do{tried}.")
        self._say_answer()

    def _save_as_said(self, _: str) -> None:
        if not self._trying("save"):
            self._save()

    def _save(self) -> bool:
        document, path = self._bench.document, self._bench.document.path
        if document.changed_elsewhere() is not None:
            self._talk.say("The file was changed on disk by another program or person since it was read here.")
            if not self._talk.ask_yes("Replace what is on disk with what is here?"):
                return False
        elif document.is_new and document.path.exists():
            name = self._talk.ask(f"{document.path.name} already exists. Another name:")
            if not name or Path(name).expanduser().exists():
                return False
            path = Path(name).expanduser()
        try:
            document.save(path)
        except CircuitcheckError as trouble:
            self._talk.say(f"Not saved: {trouble}")
            return False
        self._bench.keep_given_up()
        self._talk.say(f"Saved {document.path}.")
        return True

    def _may_leave(self) -> bool:
        if self._trying("leave"):
            return False
        if not self._bench.document.changed:
            self._bench.document.drop_recovery()
            return True
        answer = self._talk.ask("Not saved. Type save, discard, or stay:").casefold()
        if answer == "save":
            return self._save()
        if answer == "discard":
            self._bench.document.drop_recovery()
            return True
        return False

    def _note(self) -> None:
        if self._trying("note"):
            return
        if not self._cautions_read:
            self._talk.heading("Before anyone opens anything")
            for sentence in SHORT:
                self._talk.say(sentence)
            self._cautions_read = self._talk.ask_yes("Have you read this?")
        if not self._cautions_read:
            return
        path = note_path(self._bench.document.path)
        name = self._talk.ask(f"Name of the note, nothing for {path.name}:")
        path = Path(name).expanduser() if name else path
        replace = path.exists() and self._talk.ask_yes(f"{path.name} already exists. Replace it?")
        try:
            write_note_of(self._bench, path, replace=replace)
        except CircuitcheckError as trouble:
            self._talk.say(f"Not written: {trouble}")
        else:
            self._talk.say(f"Wrote {path}.")
