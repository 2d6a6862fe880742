"""Fixes searched in a thread of their own, which can be left at any time, and taken into the plan as one step."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from circuitcheck.advice.fixes import Fix, Fixes, fixes_for, fixes_of
from circuitcheck.advice.fixes.changes import changes_of
from circuitcheck.advice.room_left import room_left_at
from circuitcheck.advice.room_words import room_sentences
from circuitcheck.circuit.edits import Edit
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.written.edited_text import with_edits
from circuitcheck.findings import Finding, Outcome, Report, RoomLeft
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from circuitcheck.ui.differences import difference, difference_lines
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.entry import value_text
from circuitcheck.ui.spans import Line, user_span, wrapped_lines
from circuitcheck.ui.titles import entry_title

#: Findings that a fix can be looked for.
FIXABLE = (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION)

#: What the file says of a thing that the fix changes, where it says nothing.
_UNKNOWN = "unknown"
_NOTHING: Line = (("", "plain"),)


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found, and of each fix how much room is left at the parts that it touches."""

    fixes: Fixes
    room: tuple[tuple[RoomLeft, ...], ...] = ()


class _LeftError(Exception):
    """Nobody waits for the answer any more."""


class FixSearch:
    """Searches once. ``progress`` and ``done`` are called in its thread."""

    def __init__(
        self,
        circuit: Circuit,
        report: Report,
        finding: Finding | None,
        progress: Callable[[int], None],
        done: Callable[[Found | str], None],
    ) -> None:
        """Takes the circuit, its report, the finding to clear (None: all that fails or is open). Begins at once."""
        self._circuit, self._report, self._finding = circuit, report, finding
        self._progress, self._done = progress, done
        self._left = threading.Event()
        self._thread = threading.Thread(target=self._work, name="fixes", daemon=True)
        self._thread.start()

    def leave(self) -> None:
        """Ends the search at its next step."""
        self._left.set()

    def _told(self, looked_at: int) -> None:
        if self._left.is_set():
            raise _LeftError
        self._progress(looked_at)

    def _work(self) -> None:
        try:
            found: Found | str = search_fixes(self._circuit, self._report, self._finding, self._told)
        except _LeftError:
            return
        except Exception as fault:  # told on screen as what it is; the work on the file must not be lost with it
            found = f"Fault of the program while looking for fixes: {type(fault).__name__}: {fault}"
        if not self._left.is_set():
            self._done(found)


def search_fixes(circuit: Circuit, report: Report, finding: Finding | None, told: Callable[[int], None]) -> Found:
    """Looks for fixes, and for the room left with each. ``told`` is called now and then; what it raises ends it."""
    book = load_rulebook(circuit.job.rulebook)
    if finding is None:
        fixes = fixes_of(circuit, book, report, progress=told)
    else:
        fixes = fixes_for(circuit, book, report, finding, progress=told)
    room: list[tuple[RoomLeft, ...]] = []
    for fix in fixes.fixes:
        told(0)
        planned = as_planned(fix.circuit)
        touched = list(dict.fromkeys(ref.part for step in fix.steps for ref, _ in step.entries))
        parts = dict.fromkeys([Ref("supply"), *touched[:2]])
        room.append(tuple(left for ref in parts for left in room_left_at(ref, fix.report, planned, book)))
    return Found(fixes, tuple(room))


def fix_title(fix: Fix) -> str:
    """The fix on one line."""
    return " And: ".join(step.says for step in fix.steps)


def fix_page(fix: Fix, room: tuple[RoomLeft, ...], before: Report, found: Circuit, width: int) -> list[Line]:
    """All that taking a fix does: what is done, what the plan says then, what goes, comes and stays, and room left."""
    lines: list[Line] = [*difference_lines(difference(before, fix.report), width), _NOTHING]
    lines.append((("What is done", "strong"),))
    for step in fix.steps:
        first, *rest = wrapped_lines(user_span(step.says)[0], width - 4, "value")
        lines += [(("  - ", "dim"), *first), *((("    ", "plain"), *line) for line in rest)]
    as_found = found.before.circuit if found.before is not None else found
    lines += [_NOTHING, (("What the plan says then", "strong"),)]
    for change in changes_of(fix.steps, as_found):
        lines += wrapped_lines(user_span(change_says(change))[0], width, "value", "  ")
    unset = sorted({key for step in fix.steps for key in step.unsets})
    if unset:
        named = ", ".join(dict.fromkeys(entry_title(key).lower() for key in unset))
        lines += wrapped_lines(f"To be found out again, since it goes another way: {named}.", width, "unknown", "  ")
    if room:
        lines += [_NOTHING, (("Room left then", "strong"),)]
        for sentence in room_sentences(room):
            lines += wrapped_lines(user_span(sentence)[0], width, "value", "  ")
    return lines


def change_says(change: dict[str, object]) -> str:
    """One entry of the plan, before and after."""
    section, name, _ = Ref.of_part(str(change["part"]))
    part = f'{section.replace("_", " ")} "{name}"' if name else "panel" if section == "supply" else section
    if change["action"] == "leave out":
        return f"{part}: left out of the plan"
    key = str(change["key"] or "")
    title = entry_title(f"{section}.{name}.{key}" if name else f"{section}.{key}").lower()
    after = value_text(change["to"]) or _UNKNOWN
    if change["action"] == "add":
        return f"{part}, added: {title} {after}"
    before = value_text(change["from"]) or _UNKNOWN
    planned = {"replace": ", another one put in its place", "remove": ", taken away", "move": ", moved"}
    return f"{part}{planned.get(str(change['action']), '')}: {title} {before} → {after}"


def carry_out(document: Document, edits: tuple[Edit, ...], says: str) -> None:
    """Writes edits into the plan as one step of undo; comments stay, and what is there keeps its facts.

    Raises: EditError; ValueError.
    """
    document.replace_all(says, with_edits(document.text, edits, vocabulary()))
