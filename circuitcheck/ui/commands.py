"""What the command palette offers: every action of the page by name with its key, and the looks."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.app import SystemCommand
from textual.screen import Screen

from circuitcheck.ui.screens.start import StartScreen
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.themes import DARK, HIGH_CONTRAST, LIGHT

if TYPE_CHECKING:
    from circuitcheck.ui.app import CircuitApp

_WORKING: tuple[tuple[str, str, str, str], ...] = (
    ("Save", "Write the file", "pane('file-line', 'save')", "s"),
    ("Save under another name", "Write the file elsewhere and go on with that one", "pane('file-line', 'save_as')", ""),
    ("Write the note", "For an electrician or inspector", "pane('file-line', 'write_note')", "w"),
    ("Undo", "Undo the latest step", "undo", "z"),
    ("Redo", "Redo the step that was undone last", "redo", "y"),
    ("Add a part", "A light, box, load, switch or driver at the selected part", "pane('circuit', 'add')", "a"),
    ("Duplicate the part", "One more like it", "pane('circuit', 'duplicate')", "d"),
    (
        "Use one of your own products",
        "Out of products.toml, into this part",
        "pane('circuit', 'product')",
        "r",
    ),
    ("Copy the part", "To put it in elsewhere", "pane('circuit', 'copy')", "c"),
    ("Paste the copy", "At the selected part", "pane('circuit', 'paste')", "v"),
    ("Delete the part", "With everything fed from it", "pane('circuit', 'take_out')", "x"),
    ("Move the part earlier", "Ahead of the one before it of the same kind", "pane('circuit', 'reorder(-1)')", "-"),
    ("Move the part later", "After the next one of the same kind", "pane('circuit', 'reorder(1)')", "+"),
    ("Find out next", "The unknown entry that settles the most open answers", "pane('circuit', 'next_unknown')", "n"),
    ("Find a part", "By its name", "pane('circuit', 'find')", "/"),
    ("Show only what decides, or all", "In the list of findings", "pane('findings', 'only_deciding')", "o"),
    ("Show or fold what passes", "In the list of findings", "pane('findings', 'passes')", "p"),
    ("Plan a change", "Replace, take away, move or alter a part that is there", "pane('circuit', 'plan')", "C"),
    ("What if", "Begin one, or see it side by side with what was", "what_if", "W"),
    ("Keep the what-if", "As one step that undo takes back", "keep", "K"),
    ("Drop the what-if", "As if nothing had been changed", "drop", "X"),
    ("Fixes", "Changes to the plan that were checked again in full", "pane('findings', 'fixes')", "F"),
    ("Go to the circuit", "The drawing", "focus_pane('circuit')", "t"),
    ("Go to the findings", "Worst first", "focus_pane('findings')", "f"),
    ("Go to the entries", "Of the selected part", "focus_pane('entries')", "e"),
    ("Help", "The keys of this page", "help", "?"),
    ("Leave the file", "Back to the start page", "pane('file-line', 'leave')", "q"),
)

_START: tuple[tuple[str, str, str, str], ...] = (
    ("New circuit", "A few questions", "begin('new')", "n"),
    ("Open a file", "A circuit file", "begin('open')", "o"),
    ("Look at an example", "In an invented house", "begin('example')", "x"),
    ("Count one box", "Is it big enough? The worksheet at once", "begin('box')", "b"),
)

_LOOKS = (
    (DARK.name, "Dark look", "Light letters on dark"),
    (LIGHT.name, "Light look", "Dark letters on light"),
    (HIGH_CONTRAST.name, "High contrast look", "White on black"),
)


def page_commands(app: CircuitApp, screen: Screen[object]) -> Iterable[SystemCommand]:
    """The commands of a page, then those that work everywhere."""
    listed = _WORKING if isinstance(screen, WorkingScreen) else _START if isinstance(screen, StartScreen) else ()
    for title, about, action, key in listed:
        yield SystemCommand(f"{title} ({key})" if key else title, about, partial(screen.run_action, action))
    for name, title, about in _LOOKS:
        yield SystemCommand(title, about, partial(app.take_theme, name))
    yield SystemCommand("Quit (Ctrl+Q)", "Leave the program; unsaved work is asked about", app.action_leave)
