"""Saying lines and asking for lines."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterable, Sequence
from typing import TextIO

from circuitcheck.text import plain_text, shown_text
from circuitcheck.ui.spans import Line, line_text, wrapped

_WIDTH = 78


class EndedError(Exception):
    """The input has ended: whoever kept work has a recovery copy of it."""


class StoppedError(EndedError):
    """Ctrl+C: the conversation ends as when its input has ended, but the program says so by its status."""


class Talk:
    """One conversation over a pair of text streams."""

    def __init__(self, source: TextIO | None = None, target: TextIO | None = None) -> None:
        """Takes the streams; the standard ones when left out."""
        self._source = source or sys.stdin
        self._target = target or sys.stdout
        self.width = min(_WIDTH, max(shutil.get_terminal_size((_WIDTH, 24)).columns - 1, 40))

    def say(self, text: str, indent: str = "") -> None:
        """Says a text, wrapped, user text made visible."""
        for paragraph in text.split("\n"):
            pieces = wrapped(shown_text(paragraph), self.width - len(indent))
            self._put("\n".join(indent + piece for piece in pieces) + "\n")

    def say_lines(self, lines: Iterable[Line]) -> None:
        """Says lines that are wrapped already."""
        self._put("".join(line_text(line).rstrip() + "\n" for line in lines))

    def heading(self, text: str) -> None:
        """Says a heading: an empty line before it, none of the strokes that are read aloud."""
        self._put(f"\n{shown_text(text)}\n")

    def ask(self, prompt: str) -> str:
        """The answer, without blanks around it. Raises EndedError when there is no more input."""
        self._put(prompt + " ")
        try:
            answer = self._source.readline()
        except KeyboardInterrupt:
            raise StoppedError from None
        if not answer:
            raise EndedError
        return answer.strip()

    def ask_yes(self, prompt: str) -> bool:
        """Whether the answer is yes; asks again until it is yes or no."""
        while True:
            answer = self.ask(f"{prompt} (yes or no)").casefold()
            if answer in ("y", "yes"):
                return True
            if answer in ("n", "no", ""):
                return False

    def ask_number(self, prompt: str, offered: Sequence[str]) -> int | None:
        """The number of one of the things offered, from 1 on, or None for an empty answer; asks again until it is one.

        What is offered may be told by its number, with a dot or without, or by its first words.
        """
        while True:
            answer = self.ask(prompt)
            if not answer:
                return None
            number = answer.rstrip(".")
            if number.isascii() and number.isdigit() and 1 <= int(number) <= len(offered):
                return int(number)
            folded = answer.casefold()
            for fits in (str.__eq__, str.startswith):
                near = [place for place, text in enumerate(offered, start=1) if fits(text.casefold(), folded)]
                if len(near) == 1:
                    return near[0]
            self.say(f"Write a number from 1 to {len(offered)} or its words, or an empty line to go back.")

    def _put(self, text: str) -> None:
        try:
            self._target.write(plain_text(text, self._target.encoding or "utf-8"))
            self._target.flush()
        except BrokenPipeError:
            raise StoppedError from None
