"""Typed names of parts: one that is free for a part, one that a reference may name."""

from __future__ import annotations

from collections.abc import Sequence

from circuitcheck.circuit.written.block import Block
from circuitcheck.ui.document.document import Document
from circuitcheck.ui.entry import Typed
from circuitcheck.ui.part_text import section_word


def free_id(document: Document, part: Block, wanted: str) -> Typed:
    """A name for a part, or why it cannot have that one."""
    if wanted == "panel":
        return Typed(problem="The name panel is taken: it stands for the panel itself.")
    other = next((b for b in document.blocks if b.id == wanted and b.number != part.number), None)
    if other is not None:
        word = section_word(other.section)
        return Typed(problem=f"This name is taken already, by a {word}: every part has its own.")
    return Typed(wanted)


def known_id(known: Sequence[str], wanted: str) -> Typed:
    """A name of a part that there is; where there is none, what may have been meant."""
    if wanted in known:
        return Typed(wanted)
    starting = [name for name in known if name.casefold().startswith(wanted.casefold())]
    return Typed(problem=f"Nothing is called {wanted}.", suggestion=starting[0] if len(starting) == 1 else "")
