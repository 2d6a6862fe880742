"""A file's text in the short form. Every step is kept only where the circuit stays exactly the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.circuit.short.cable_print import PRINTED_KEYS, SAID_KEYS, cable_print, read_cable_print
from circuitcheck.circuit.short.expansion import Vocabulary
from circuitcheck.circuit.short.light_keys import NAME_IN_LIGHT
from circuitcheck.circuit.short.lights import WIRED
from circuitcheck.circuit.short.parts import KNOWN_BY, owner_of
from circuitcheck.circuit.short.planned import (
    SECTIONS_OF_PARTS,
    SECTIONS_WITH_DEFAULTS,
    as_planned,
    may_be_copied,
    may_be_default,
)
from circuitcheck.circuit.toml_text import parsed
from circuitcheck.circuit.written.block import Block, blocks_of
from circuitcheck.circuit.written.entry_text import table_text
from circuitcheck.circuit.written.pieces import Piece, Pieces, comments_of, entry, pieces_of
from circuitcheck.errors import CircuitFileError
from circuitcheck.quantities import QuantityError

#: A part is called like another only where that saves more than the entry that says so.
_LEAST_SAVED = 2

#: What stands first in the table of a light.
_PLACE = {key: place for place, key in enumerate(("id", "box_id", "cable_id", "from", "origin", "cable", "length"))}

_Step = Callable[[str, Vocabulary], str]


def short_text(text: str, vocabulary: Vocabulary) -> str:
    """The text with everything in its short form that has one. The file must be one that can be read.

    Raises: CircuitFileError for a file that cannot be read; ValueError for tables written on one line or with dots.
    """
    wanted = _by_id(read_circuit(text, "", vocabulary))
    steps: tuple[_Step, ...] = (_print_cables, _join_lights, _set_defaults, _name_alike)
    for step in steps:
        shorter = step(text, vocabulary)
        if shorter != text and _means(shorter, vocabulary) == wanted:
            text = shorter
    return text


def _means(text: str, vocabulary: Vocabulary) -> Mapping[str, Any] | None:
    try:
        return _by_id(read_circuit(text, "", vocabulary))
    except CircuitFileError:
        return None


def _by_id(circuit: Circuit) -> Mapping[str, Any]:
    """The circuit's parts by their ids: the order in which a file lists them means nothing."""
    parts: dict[str, Any] = {"change": {change.part: change for change in circuit.changes}}
    for section in SECTIONS.values():
        value = getattr(circuit, section.attribute)
        parts[section.name] = {part.id: part for part in value} if section.many else value
    return parts


def _blocks(text: str) -> tuple[Block, ...]:
    return blocks_of(text, parsed(text, ""))


def _without(entries: tuple[Piece, ...], keys: set[str]) -> tuple[tuple[Piece, ...], str]:
    """The entries without these keys; the comments of those that go stand above the next one, or are returned."""
    kept: list[Piece] = []
    loose = ""
    for piece in entries:
        if piece.key in keys:
            loose += _lines(comments_of(piece.above + piece.text))
        else:
            kept.append(Piece(piece.key, piece.text, loose + piece.above))
            loose = ""
    return tuple(kept), loose


def _lines(comments: list[str]) -> str:
    return "".join(f"{comment}\n" for comment in comments)


# -- what the sheath says


def _print_cables(text: str, vocabulary: Vocabulary) -> str:
    return "".join(
        _with_print(block, vocabulary) if block.section == "cable" and "cable" not in block.data else block.text
        for block in _blocks(text)
    )


def _with_print(block: Block, vocabulary: Vocabulary) -> str:
    entries = {key: block.data[key] for key in (*PRINTED_KEYS, *SAID_KEYS) if key in block.data}
    if not {"size", "conductors"} <= entries.keys() or not str(entries["size"]).endswith(" AWG"):
        return block.text
    printed = cable_print(entries)
    try:
        if dict(read_cable_print(printed, vocabulary.get("cable.type", ()))) != entries:
            return block.text
    except QuantityError:
        return block.text
    pieces = pieces_of(block)
    word, known = _how_printed(block.data.get(KNOWN_BY, {}), [key for key in entries if key in PRINTED_KEYS])
    first = next(piece.key for piece in pieces.entries if piece.key in entries)
    gone = {key for key in entries if key != first} | (set() if known else {KNOWN_BY})
    kept, behind = _without(pieces.entries, gone)
    made: list[Piece] = []
    for piece in kept:
        if piece.key == first:
            value = f"{word} {printed}".lstrip()
            made.append(Piece("cable", piece.renamed("cable").with_value(value).text, piece.above))
        elif piece.key == KNOWN_BY:
            made.append(piece if known == block.data[KNOWN_BY] else piece.with_value(known))
        else:
            made.append(piece)
    return Pieces(pieces.above, pieces.header, tuple(made), behind + pieces.behind).text


def _how_printed(known: Mapping[str, str], printed: list[str]) -> tuple[str, Mapping[str, str]]:
    """The word before the print, where all that is printed is known in one way, and what is left of ``known_by``."""
    words = {known.get(key, "") for key in printed}
    rest = {key: word for key, word in known.items() if key not in printed}
    if len(words) != 1 or "" in words:
        return "", known
    word = words.pop()
    return ("", {"cable": word, **rest}) if word == "guess" else (word, rest)


# -- a light with its box and cable


def _join_lights(text: str, _: Vocabulary) -> str:
    blocks = _blocks(text)
    joined = dict(_lights_in(blocks))
    gone = {part.number for cable, box, load in joined.values() for part in (cable, box, load)}
    box_of = {box.id: load.id for _, box, load in joined.values()}
    box_of.update({str(b.data.get("box_id", f"{b.id} box")): b.id for b in blocks if b.section == "light"})
    texts: list[str] = []
    for block in blocks:
        if block.number in joined:
            texts.append(_light(*joined[block.number], box_of))
        elif block.number in gone:
            behind = pieces_of(block).behind
            if comments_of(behind):
                texts.append(behind.lstrip("\n"))
        else:
            texts.append(block.text)
    return "".join(texts)


def _lights_in(blocks: tuple[Block, ...]) -> Iterator[tuple[int, tuple[Block, Block, Block]]]:
    """Number of a load's block -> cable, box and load, for lights with a box and a cable of the same origin."""
    boxes = {block.id: block for block in blocks if block.section == "box"}
    feeds: dict[str, list[Block]] = {}
    for block in blocks:
        if block.section == "cable":
            feeds.setdefault(str(block.data.get("to")), []).append(block)
    taken: set[str] = set()
    for load in blocks:
        box = boxes.get(str(load.data.get("box"))) if load.section == "load" else None
        cables = feeds.get(box.id, []) if box else []
        if box is None or len(cables) != 1 or box.id in taken or load.data.get("kind") != "light":
            continue
        if "connection" not in load.data:  # a [[light]] would say that it is hardwired
            continue
        three = (cables[0], box, load)
        origin = load.data.get("origin")
        same = all(part.data.get("origin") == origin and "like" not in part.data for part in three)
        nameless = any((p.section, key) not in NAME_IN_LIGHT for p in three for key in p.data.get(KNOWN_BY, ()))
        if same and not nameless and origin in ("added", "existing"):
            taken.add(box.id)
            yield load.number, three


def _light(cable: Block, box: Block, load: Block, box_of: Mapping[str, str]) -> str:
    entries: list[Piece] = []
    known: dict[str, Any] = {}
    above = ""
    first_known: Piece | None = None
    behind = ""
    wired = ("connection", WIRED) if "connection" not in load.data.get(KNOWN_BY, {}) else ("", "")
    for block in (load, cable, box):
        pieces = pieces_of(block)
        above += _lines([*comments_of(pieces.above), *comments_of(pieces.header)])
        loose = ""
        for piece in pieces.entries:
            name = NAME_IN_LIGHT.get((block.section, piece.key))
            comments = comments_of(piece.above + piece.text)
            default = {"box": f"{load.id} box", "cable": f"{load.id} cable"}.get(block.section)
            if piece.key == KNOWN_BY:
                known |= {
                    NAME_IN_LIGHT.get((block.section, key), key): word for key, word in block.data[KNOWN_BY].items()
                }
                first_known = first_known or piece
                loose += _lines(comments) if first_known is not piece else ""
            elif name is None or (piece.key, block.data[piece.key]) in (("id", default), ("origin", "added"), wired):
                loose += _lines(comments)
            else:
                renamed = piece.renamed(name)
                start = box_of.get(str(block.data["from"])) if name == "from" else None
                renamed = renamed if start is None else renamed.with_value(start)
                entries.append(Piece(name, renamed.text, loose + piece.above))
                loose = ""
        if block is load:
            behind = loose + pieces.behind
        elif loose:
            above += loose
    if first_known is not None:
        entries.append(first_known.with_value(known))
    entries.sort(key=lambda piece: _PLACE.get(piece.key, len(_PLACE)))
    return Pieces(above, "[[light]]\n", tuple(entries), behind).text


# -- defaults and likes


def _added(blocks: tuple[Block, ...], section: str) -> list[Block]:
    """The tables that say something of an added part of this section: its own, and those of lights."""
    return [block for block in blocks if block.section in ("light", section) and _is_added(block)]


def _is_added(block: Block) -> bool:
    return bool(block.data.get("origin", "added" if block.section == "light" else None) == "added")


def _set_defaults(text: str, _: Vocabulary) -> str:
    blocks = _blocks(text)
    if any(block.section.startswith("defaults") for block in blocks):
        return text
    gone: dict[int, set[str]] = {}
    tables: list[str] = []
    for section in SECTIONS_WITH_DEFAULTS:
        parts = _added(blocks, section)
        shared = _shared(parts, section) if len(parts) > 1 else {}
        if shared:
            tables.append(table_text(f"defaults.{section}", False, shared))
        for block in parts:
            gone.setdefault(block.number, set()).update(_name(block, section, key) for key in shared)
    if not tables:
        return text
    first = next(block for block in blocks if block.repeated)
    texts: list[str] = []
    for block in blocks:
        if block is first:
            # A heading such as "# what is to be added" stands before the parts, so the defaults go above it.
            head, gap, last = (texts[-1] if texts else "").rstrip("\n").rpartition("\n\n")
            heading = f"{last}\n\n" if gap and all(line.startswith("#") for line in last.split("\n")) else ""
            if heading:
                texts[-1] = f"{head}\n\n"
            texts += [*tables, heading]
        texts.append(_block_without(block, gone.get(block.number, set())))
    return "".join(texts)


def _name(block: Block, section: str, key: str) -> str:
    return NAME_IN_LIGHT.get((section, key), key) if block.section == "light" else key


def _shared(parts: list[Block], section: str) -> dict[str, Any]:
    keys = [*SECTIONS[section].keys, *(("cable",) if section == "cable" else ())]
    shared: dict[str, Any] = {}
    for key in keys:
        if not may_be_default(section, key):
            continue
        values = [block.data.get(_name(block, section, key)) for block in parts]
        known = any(_name(block, section, key) in block.data.get(KNOWN_BY, ()) for block in parts)
        if values[0] is not None and all(value == values[0] for value in values) and not known:
            shared[key] = values[0]
    return shared


def _block_without(block: Block, keys: set[str]) -> str:
    if not keys:
        return block.text
    pieces = pieces_of(block)
    kept, behind = _without(pieces.entries, keys)
    return Pieces(pieces.above, pieces.header, kept, behind + pieces.behind).text


def _name_alike(text: str, _: Vocabulary) -> str:
    models: dict[str, list[Block]] = {}
    texts: list[str] = []
    for block in _blocks(text):
        if block.section not in (*SECTIONS_OF_PARTS, "light") or not _is_added(block) or "like" in block.data:
            texts.append(block.text)
            continue
        earlier = models.setdefault(block.section, [])
        same = [(len(keys), model) for model in earlier if (keys := _taken_over(block, model)) is not None]
        most, model = max(same, key=lambda pair: pair[0], default=(0, block))
        if most < _LEAST_SAVED:
            earlier.append(block)
            texts.append(block.text)
            continue
        pieces = pieces_of(block)
        kept, behind = _without(pieces.entries, _taken_over(block, model) or set())
        place = 1 + max(
            (i for i, piece in enumerate(kept) if piece.key in ("id", "box_id", "cable_id", "from")), default=0
        )
        entries = (*kept[:place], entry("like", model.id), *kept[place:])
        texts.append(Pieces(pieces.above, pieces.header, entries, behind + pieces.behind).text)
    return "".join(texts)


def _taken_over(block: Block, model: Block) -> set[str] | None:
    """The entries that the part has from the model, or None where the model would bring it others."""
    known = model.data.get(KNOWN_BY, {})
    own_known = block.data.get(KNOWN_BY, {})
    same: set[str] = set()
    for key, value in model.data.items():
        section, name = owner_of(block.section, key)
        if key in ("like", KNOWN_BY) or not may_be_copied(section, name):
            continue
        copied = as_planned(value, known.get(key))
        if copied is None:
            continue
        if key not in block.data:
            return None
        if block.data[key] == copied and key not in own_known:
            same.add(key)
    return same
