"""A file's text in the long form: every short form written out, comments kept."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from circuitcheck.circuit.faults import Faults
from circuitcheck.circuit.short.cable_print import PRINTED_KEYS, SAID_KEYS
from circuitcheck.circuit.short.expansion import Expansion, Vocabulary, expand, has_short_forms
from circuitcheck.circuit.short.light_keys import NAME_IN_LIGHT
from circuitcheck.circuit.short.planned import SECTIONS_OF_PARTS
from circuitcheck.circuit.toml_text import parsed
from circuitcheck.circuit.written.block import Block, blocks_of, data_of
from circuitcheck.circuit.written.pieces import Piece, Pieces, comments_of, entry, pieces_of

#: The parts of a light in the order in which they are written.
_ORDER = ("cable", "box", "load")

_FROM_PRINT = (*PRINTED_KEYS, *SAID_KEYS)

_Tables = dict[str, tuple[int, dict[str, Any]]]


def long_text(text: str, vocabulary: Vocabulary) -> str:
    """The text with every short form written out. The file must be one that can be read.

    Raises: CircuitFileError for text that is no TOML; ValueError for tables written on one line or with dots.
    """
    blocks = blocks_of(text, parsed(text, ""))
    data = data_of(blocks)
    if not has_short_forms(data):
        return text
    long = expand(data, vocabulary, Faults("", text, data), text)
    tables = _tables_by_block(blocks, long)
    return "".join(_block_in_full(block, tables.get(block.number, {}), long) for block in blocks)


def _tables_by_block(blocks: tuple[Block, ...], long: Expansion) -> dict[int, _Tables]:
    """Block number -> section -> index and long table of the part that the block stands for."""
    written: dict[str, list[Block]] = {}
    for block in blocks:
        written.setdefault(block.section, []).append(block)
    tables: dict[int, _Tables] = {}
    for section in SECTIONS_OF_PARTS:
        for index, table in enumerate(long.document.get(section, ())):
            name, number = long.written_place((section, index))[:2]
            if isinstance(number, int):
                tables.setdefault(written[str(name)][number].number, {})[section] = (index, table)
    return tables


def _block_in_full(block: Block, tables: _Tables, long: Expansion) -> str:
    if block.section.startswith("defaults"):
        pieces = pieces_of(block)
        kept = [*comments_of(pieces.above), *comments_of(pieces.header)]
        for piece in pieces.entries:
            kept += comments_of(piece.above + piece.text)
        return "".join(f"{comment}\n" for comment in kept) + pieces.behind
    if block.section == "light":
        return _light_in_full(block, tables, long)
    if block.section in tables:
        return _part_in_full(block, tables[block.section][1], long)
    return block.text


def _part_in_full(block: Block, table: Mapping[str, Any], long: Expansion) -> str:
    pieces = pieces_of(block)
    entries: list[Piece] = []
    loose = ""
    for piece in pieces.entries:
        piece = Piece(piece.key, piece.text, loose + piece.above)
        loose = ""
        if piece.key == "like" or (piece.key == "cable" and block.section == "cable"):
            comments = "".join(f"{comment}\n" for comment in comments_of(piece.above + piece.text))
            entries += _from_print(piece, block, table, comments) if piece.key == "cable" else []
            loose = comments if piece.key == "like" else ""
        elif piece.key in table and table[piece.key] != block.data[piece.key]:
            entries.append(piece.with_value(table[piece.key]))
        else:
            entries.append(piece)
    present = {piece.key for piece in entries}
    missing = [
        entry(key, value, _reason(long, f"{block.path}.{key}")) for key, value in table.items() if key not in present
    ]
    if missing and loose:
        missing[0] = Piece(missing[0].key, missing[0].text, loose)
        loose = ""
    return Pieces(pieces.above, pieces.header, (*entries, *missing), loose + pieces.behind).text


def _from_print(piece: Piece, block: Block, table: Mapping[str, Any], comments: str) -> list[Piece]:
    """The entries that a print of the part's own stands for, its comments above them."""
    keys = [key for key in _FROM_PRINT if key in table and key not in block.data]
    return [Piece(key, entry(key, table[key]).text, comments if index == 0 else "") for index, key in enumerate(keys)]


def _light_in_full(block: Block, tables: _Tables, long: Expansion) -> str:
    pieces = pieces_of(block)
    used: set[str] = set()
    texts: list[str] = []
    for section in _ORDER:
        table = tables[section][1]
        entries: list[Piece] = []
        for key, value in table.items():
            name = "known_by" if key == "known_by" else NAME_IN_LIGHT.get((section, key), "")
            if key in _FROM_PRINT and section == "cable" and name not in block.data and "cable" in block.data:
                name = "cable"
            piece = pieces.named(name) if name else None
            if piece is None or name in used:
                entries.append(entry(key, value, _reason(long, f"{section}.{table['id']}.{key}")))
                continue
            used.add(name)
            same = name != "cable" and block.data[name] == value
            comments = "".join(f"{comment}\n" for comment in comments_of(piece.above + piece.text))
            entries.append(piece.renamed(key) if same else Piece(key, entry(key, value).text, comments))
        texts.append(f"[[{section}]]\n" + "".join(piece.above + piece.text for piece in entries))
    left = [piece for piece in pieces.entries if piece.key not in used]
    loose = [*comments_of(pieces.header), *(c for piece in left for c in comments_of(piece.above + piece.text))]
    above = pieces.above + "".join(f"{comment}\n" for comment in loose)
    return above + "\n".join(texts) + pieces.behind


def _reason(long: Expansion, path: str) -> str:
    """Where an inherited entry comes from, for a comment; a print of the part's own needs none."""
    reason = long.reasons.get(path, "")
    return "" if reason.startswith('"') else reason
