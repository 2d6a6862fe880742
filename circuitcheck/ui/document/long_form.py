"""The blocks of a file with its short forms spelled out, each part under the number of the block that stands for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from circuitcheck.circuit.faults import Faults
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.short.expansion import Expansion, expand, has_short_forms
from circuitcheck.circuit.written.block import Block, data_of
from circuitcheck.tables.rulebook import vocabulary


@dataclass(frozen=True, slots=True)
class LongForm:
    """``parts``: what ``blocks`` stand for; the blocks themselves where nothing is short.

    reasons: key path of an entry that the file does not say itself -> where it comes from and what it is.
    """

    blocks: Sequence[Block]
    parts: tuple[Block, ...] = ()
    reasons: Mapping[str, str] = field(default_factory=dict)


def long_form(blocks: tuple[Block, ...]) -> LongForm:
    """The long form of these blocks. What is wrong with a short form is left out: the examination tells it."""
    data = data_of(blocks)
    if not has_short_forms(data):
        return LongForm(blocks, blocks)
    long = expand(data, vocabulary(), Faults("", "", data))
    written: dict[str, list[Block]] = {}
    for block in blocks:
        written.setdefault(block.section, []).append(block)
    parts = [block for block in blocks if block.section != "light"]
    place = {id(block): index for index, block in enumerate(parts)}
    for section in SECTIONS:
        tables = long.document.get(section)
        for index, table in enumerate(tables if isinstance(tables, list) else ()):
            source = _standing_for(long, section, index, written)
            if source is None or not isinstance(table, dict):
                continue
            part = Block(source.text, section, True, table, source.number)
            if source.section == section:
                parts[place[id(source)]] = part
            else:
                parts.append(part)
    return LongForm(blocks, tuple(parts), long.reasons)


def _standing_for(long: Expansion, section: str, index: int, written: Mapping[str, list[Block]]) -> Block | None:
    name, number = (*long.written_place((section, index)), None)[:2]
    same = written.get(str(name), [])
    return same[number] if isinstance(number, int) and number < len(same) else None
