"""How much room is left, as lines of a page: the breaker, each light, each box, and along each cable."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.advice.room_words import room_sentences
from circuitcheck.cli.lines import PageStyle, ruled, wrapped
from circuitcheck.findings import Report


def room_lines(report: Report, style: PageStyle) -> Iterator[str]:
    """The section; nothing where nobody asked for it."""
    if report.room_left:
        yield ""
        yield from ruled("Room left: so much more passes for certain", style)
        for sentence in room_sentences(report.room_left):
            yield from wrapped(sentence, style, indent="  ", bullet="* ")
