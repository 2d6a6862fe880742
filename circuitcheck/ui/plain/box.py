"""Count one box in lines: a question an entry, then the worksheet; any entry can be changed."""

from __future__ import annotations

from typing import Any

from circuitcheck.circuit.keys import Key
from circuitcheck.circuit.keys.key import Form
from circuitcheck.tables.rulebook import vocabulary
from circuitcheck.ui.box_form import EDITION, EXAMPLES, KEYS, box_lines, read_entry
from circuitcheck.ui.entry import value_text, words_of
from circuitcheck.ui.plain.talk import Talk
from circuitcheck.ui.plain.trying import say_spoken

#: Asked one after the other at first; the others can be entered afterwards.
_FIRST = ("cable", "device", "leads", "size", "volume", "clamps")


def count_box(talk: Talk) -> None:
    """Asks what is in the box, says the answer, and does so again for every entry that is changed."""
    entries: dict[str, Any] = {"rulebook": EDITION}
    talk.heading("Count one box")
    talk.say("An empty answer means: I do not know.")
    for name in _FIRST:
        if not (name == "volume" and "size" in entries):
            _ask(talk, KEYS[name], entries)
    while True:
        talk.heading("The box")
        say_spoken(talk, box_lines(entries, talk.width))
        keys = list(KEYS.values())
        for number, key in enumerate(keys, start=1):
            talk.say(f"{number}. {key.title}: {value_text(entries.get(key.name)) or 'unknown'}")
        picked = talk.ask_number("Change which? An empty line goes back.", [key.title for key in keys])
        if picked is None:
            return
        _ask(talk, keys[picked - 1], entries)


def _ask(talk: Talk, key: Key, entries: dict[str, Any]) -> None:
    words = ("yes", "no") if key.form is Form.YES_NO else words_of(key, vocabulary())
    if words:
        talk.say("One of: " + ", ".join(words))
    example = f" ({EXAMPLES[key.name]})" if key.name in EXAMPLES else ""
    while True:
        written = talk.ask(f"{key.title}{example}:")
        if not written:
            if not key.required:
                entries.pop(key.name, None)
            return
        typed = read_entry(key.name, written)
        if not typed.problem:
            entries[key.name] = typed.value
            return
        meant = f" Did you mean {typed.suggestion}?" if typed.suggestion else ""
        talk.say(typed.problem + meant)
