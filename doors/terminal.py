"""A real terminal for the trials: the program behind a pty, its screen kept by an emulator, and pictures of it."""

from __future__ import annotations

import contextlib
import fcntl
import os
import pty
import select
import signal
import struct
import termios
import time
from pathlib import Path

import pyte
from rich.console import Console
from rich.style import Style
from rich.text import Text

#: How long a screen may take on a busy machine [s].
PATIENCE = 60.0


class Terminal:
    """A program in a terminal of one size. What it shows is read as a person would: the screen as it is now."""

    def __init__(self, command: list[str], columns: int, lines: int, folder: Path) -> None:
        self.keys = 0
        self._screen = pyte.Screen(columns, lines)
        self._stream = pyte.ByteStream(self._screen)
        self._process, self._end = pty.fork()
        if self._process == 0:
            os.chdir(folder)
            settings = {"TERM": "xterm-256color", "COLORTERM": "truecolor", "LANG": "C.UTF-8", "HOME": str(folder)}
            os.execve(command[0], command, {**settings, "PATH": os.environ["PATH"]})
        fcntl.ioctl(self._end, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))

    @property
    def text(self) -> str:
        """The screen, line by line."""
        return "\n".join(line.rstrip() for line in self._screen.display)

    def hear(self, seconds: float = 0.1) -> bool:
        """Takes in what is shown within a little while; whether anything came."""
        if not select.select([self._end], [], [], seconds)[0]:
            return False
        try:
            shown = os.read(self._end, 65536)
        except OSError:  # the other end is gone
            return False
        # the emulator knows no private marks on these two; they change no letter on the screen
        for private in (b"\x1b[>1u", b"\x1b[<u", b"\x1b[?u"):
            shown = shown.replace(private, b"")
        self._stream.feed(shown)
        return True

    def wait_for(self, *words: str) -> None:
        """Waits until one of the words is on the screen, and then until the screen is quiet."""
        end = time.monotonic() + PATIENCE
        while not any(word in self.text for word in words):
            assert time.monotonic() < end, f"none of {words} came:\n{self.text}"
            self.hear()
        self.settle()

    def settle(self) -> None:
        """Waits until nothing more is drawn."""
        end = time.monotonic() + PATIENCE
        while self.hear(0.25) and time.monotonic() < end:
            pass

    def press(self, keys: str) -> None:
        """Presses keys, one after the other: letters as they are, a return for Enter, an escape for Esc."""
        for key in keys:
            self.keys += 1
            os.write(self._end, key.encode())
            self.hear(0.02)

    def picture(self, path: Path) -> None:
        """The screen with its colors, as an SVG and as text."""
        columns, lines = self._screen.columns, self._screen.lines
        console = Console(width=columns, height=lines, record=True, file=open(os.devnull, "w"))  # noqa: SIM115
        for number in range(lines):
            row = Text(end="")
            for column in range(columns):
                shown = self._screen.buffer[number][column]
                style = Style(color=_color(shown.fg), bgcolor=_color(shown.bg), bold=shown.bold, reverse=shown.reverse)
                row.append(shown.data, style)
            console.print(row, overflow="crop", no_wrap=True)
        path.with_suffix(".svg").write_text(console.export_svg(title=path.stem), "utf-8")
        path.with_suffix(".txt").write_text(self.text + "\n", "utf-8")

    def ended(self) -> int:
        """The exit status, once the program has ended."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            self.hear()
            done, status = os.waitpid(self._process, os.WNOHANG)
            if done:
                return os.waitstatus_to_exitcode(status)
        raise AssertionError("the program did not end")

    def close(self) -> None:
        """Lets go of the terminal, and ends the program where it still runs."""
        os.close(self._end)
        with contextlib.suppress(ProcessLookupError, ChildProcessError):
            os.kill(self._process, signal.SIGKILL)
            os.waitpid(self._process, 0)


def _color(name: str) -> str | None:
    if name == "default":
        return None
    if len(name) == 6 and all(letter in "0123456789abcdefABCDEF" for letter in name):
        return f"#{name}"
    return {"brown": "yellow"}.get(name, name.replace("bright", "bright_"))
