"""The application: opens pages in turn and keeps what outlives them. The work is done in the screens."""

from __future__ import annotations

import asyncio
import os
import signal
import threading
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path
from typing import ClassVar

from textual import events, on
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from circuitcheck.ui.collecting import collect_seldom
from circuitcheck.ui.commands import page_commands
from circuitcheck.ui.opening import OpeningFlow
from circuitcheck.ui.pasting import paste_refusal, pasted_line
from circuitcheck.ui.screens.cautions import CautionsScreen
from circuitcheck.ui.screens.start import StartScreen
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.settings import read_settings, write_settings
from circuitcheck.ui.terminal_gone import has_hung_up, key_input
from circuitcheck.ui.themes import DARK, THEMES, VARIABLE_DEFAULTS

#: How often to check whether the terminal is still there [s]; the recovery copy is written well within that time.
LOOK_FOR_TERMINAL_S = 2.0
#: What a program that a hang-up ended leaves behind: 128 and the number of that signal.
HUNG_UP = 129


class CircuitApp(OpeningFlow):
    """Start page, guided questions, working page."""

    TITLE = "circuitcheck"
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = True
    HORIZONTAL_BREAKPOINTS = [(0, "-phone"), (50, "-page")]  # noqa: RUF012  (declared so by its base)

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "leave", "Quit", show=False, priority=True, system=True),
    ]

    def __init__(self, path: Path | None = None) -> None:
        """Takes the file to open, or None for the start page."""
        super().__init__()
        self._path = path
        self._cautions_read = False
        self._screens_left = threading.Event()
        for theme in THEMES:
            self.register_theme(theme)
        known = {theme.name for theme in THEMES}
        self.theme = self.settings.theme if self.settings.theme in known else DARK.name

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our own variables, known before a theme is chosen."""
        return VARIABLE_DEFAULTS

    def on_mount(self) -> None:
        """Shows the start page, and the file over it when one was named."""
        self.push_screen(StartScreen(self.settings.recent, Path.cwd()))
        if self._path is not None:
            self.open_path(self._path)
        self._listen_to_signals()
        terminal = None if self.is_headless else key_input()
        if terminal is not None:
            watching = threading.Thread(target=self._end_when_gone, args=(terminal,), name="terminal", daemon=True)
            watching.start()

    def _listen_to_signals(self) -> None:
        """Ends in good order when told to from outside: the screen as it was, the recovery copy beside the file."""
        if self.is_headless or threading.current_thread() is not threading.main_thread():
            return
        for number in (signal.SIGINT, signal.SIGTERM):
            with suppress(NotImplementedError):  # some systems know no such signals
                asyncio.get_running_loop().add_signal_handler(number, self._stopped, 128 + number)

    def _stopped(self, status: int) -> None:
        for screen in self.screen_stack:
            if isinstance(screen, WorkingScreen):
                screen.keep_now()
        self.exit(status)

    def _end_when_gone(self, terminal: int) -> None:
        """Ends at once, a look after the terminal was first found gone; the recovery copy stays beside the file.

        In a thread of its own: the toolkit's writer ends with a terminal that is gone, and what still waits to be drawn
        then holds the loop for ever.
        """
        gone = False
        while not self._screens_left.wait(LOOK_FOR_TERMINAL_S):
            if gone:
                os._exit(HUNG_UP)
            gone = has_hung_up(terminal)

    def look_no_more(self) -> None:
        """Ends the looks for the terminal: the screens were left."""
        self._screens_left.set()

    async def on_event(self, event: events.Event) -> None:
        """Says aloud when pasted text is not taken; everything else goes on as it comes."""
        if isinstance(event, events.Paste) and not event.is_forwarded:
            if refusal := paste_refusal(event.text, self.focused):
                self.notify(refusal, severity="warning", markup=False, timeout=8)
                return
            event = events.Paste(pasted_line(event.text))
        await super().on_event(event)

    @on(StartScreen.Begun)
    def _begun(self, event: StartScreen.Begun) -> None:
        self.begin(event.way, event.path)

    def after_cautions(self, then: Callable[[], object]) -> None:
        """Does ``then`` once the cautions have been read in this session."""
        if self._cautions_read:
            then()
            return

        def read(accepted: bool | None) -> None:
            if accepted:
                self._cautions_read = True
                then()

        self.push_screen(CautionsScreen(), read)

    def take_theme(self, name: str) -> None:
        """Another look, kept for next time."""
        self.theme = name
        self.settings = read_settings().with_theme(name)
        write_settings(self.settings)

    def action_leave(self) -> None:
        """Leaves the program; a page with unsaved work asks first."""
        working = next((screen for screen in self.screen_stack if isinstance(screen, WorkingScreen)), None)
        if working is None:
            self.exit(0)
            return
        while self.screen is not working:
            self.pop_screen()
        working.finish_typing()
        working.file.leave(lambda: self.exit(0))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """What the command palette offers on this page."""
        yield from page_commands(self, screen)


def run(path: Path | None) -> int:
    """Runs the screens until they are left. Returns the exit status."""
    collect_seldom()
    app = CircuitApp(path)
    status = app.run()
    app.look_no_more()
    return 4 if status is None else status
