"""A list of small tables (the switches in a box, the wires of a luminaire) in lines."""

from __future__ import annotations

from typing import Any

from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.ui.entry import read_typed, value_text, words_of
from circuitcheck.ui.plain.talk import Talk
from circuitcheck.ui.workbench import Workbench


def change_tables(talk: Talk, bench: Workbench, key: Key) -> None:
    """Adds to the list or takes out of it until nothing is asked for."""
    while True:
        tables: list[dict[str, Any]] = [dict(table) for table in bench.entries.get(key.name) or ()]
        for number, table in enumerate(tables, start=1):
            talk.say(f"{number}. {value_text(table)}")
        answer = talk.ask("Write add, a number to take that one out, or an empty line to go back:").casefold()
        if not answer:
            return
        if answer == "add":
            asked = _asked_table(talk, bench, key)
            if asked is None:
                continue
            tables.append(asked)
        elif answer.isascii() and answer.isdigit() and 1 <= int(answer) <= len(tables):
            del tables[int(answer) - 1]
        else:
            continue
        if tables:
            bench.put(key.name, tables)
        else:
            bench.clear(key.name)


def _asked_table(talk: Talk, bench: Workbench, key: Key) -> dict[str, Any] | None:
    """A table, entry by entry; None when one that is needed was left out."""
    table: dict[str, Any] = {}
    for part in key.parts.values():
        words = ("yes", "no") if part.form is Form.YES_NO else words_of(part, bench.vocabulary)
        if words:
            talk.say("One of: " + ", ".join(words))
        while True:
            text = talk.ask(f"{part.title}{'' if part.required else ', nothing when unknown'}:")
            if not text:
                break
            typed = read_typed(part, text, bench.vocabulary)
            if not typed.problem:
                table[part.name] = typed.value
                break
            talk.say(typed.problem)
        if part.required and part.name not in table:
            talk.say(f"{part.title} is needed, so nothing was added.")
            return None
    return table
