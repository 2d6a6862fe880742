"""Prints what a rulebook has not got though others have: for whoever types in another country's book.

Run: python making/missing_in_book.py NAME

First what every circuit needs and what the papers print, which no book can be without; then what each check asks for,
as recorded while the other books judge every circuit that we ship; last what no check asked for, which is mostly what
advice asks for. Of what stands after the first two, what the book's ``lacks`` names is left out.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Set
from datetime import date

from circuitcheck.case.making import case_of
from circuitcheck.checking import check
from circuitcheck.note.sheet import note_outline
from circuitcheck.rules import ALL_RULES
from circuitcheck.sheets.plan import plan_outline
from circuitcheck.tables.rulebook import all_table_names, all_value_names, editions, load_rulebook
from making.recorded import circuits, uses_of


def main(name: str) -> None:
    """Print the names, a group a paragraph."""
    book = load_rulebook(name)
    held = {*book.tables, *(f"value:{value}" for value in book.values)}
    missing = {use: None for use in _all_names() if use not in held}
    for heading, uses in _needed(name):
        _tell(heading, missing, uses)
    missing = {use: None for use in missing if use.removeprefix("value:") not in book.lacks}
    for rule in ALL_RULES:
        _tell(f"{rule.name} (and perhaps checks further down)", missing, set(uses_of(rule)))
    _tell("asked for by no check that was tried", missing, set(missing))


def _tell(heading: str, missing: dict[str, None], uses: Set[str]) -> None:
    """Print what is missing of these, and take it off the list."""
    here = [use for use in missing if use in uses]
    if here:
        print(heading, *(f"  {use.removeprefix('value:')}" for use in here), "", sep="\n")
    for use in here:
        del missing[use]


def _all_names() -> list[str]:
    return [*all_table_names(), *(f"value:{value}" for value in all_value_names())]


def _needed(name: str) -> Iterator[tuple[str, Set[str]]]:
    """What is asked for under the other books whatever is checked: by what an entry can be, and by the papers."""
    entries: set[str] = set()
    papers: set[str] = set()
    for circuit, under in circuits():
        for other in under:
            if other == name:
                continue
            book = load_rulebook(other)
            for entry in case_of(circuit, book.recording(entries)).entries:
                tuple(entry.possible.options)
            report = check(circuit, book)
            recording = book.recording(papers)
            for outline in (note_outline, plan_outline):
                outline(report, circuit, recording, digest="", tool="", made=date.min)
    yield "what each circuit needs, whatever is checked", entries
    yield "what the note and the work plan print", papers - entries


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1] not in editions():
        sys.exit(f"{__doc__}\nThe rulebooks: {', '.join(editions())}")
    main(sys.argv[1])
