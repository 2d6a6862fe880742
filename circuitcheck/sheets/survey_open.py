"""What a file leaves open, with room for each answer: what decides first, then worst cases, the plan, then guesses."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from circuitcheck.advice.wiring import wiring_of
from circuitcheck.circuit.guide import entry_guide, key_of
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Guess, Report
from circuitcheck.note.causes import quoted
from circuitcheck.note.part_words import entry_words
from circuitcheck.paper import Cell, Column, Paragraph, Row, Section, Table
from circuitcheck.sheets.survey_parts import ASKED, PARTS

COLUMNS = (Column("What", 2.6), Column("How to find out, the cheapest way first", 4.6), Column("Found", 2.2))
GUESS_COLUMNS = (Column("Guessed", 3), Column("Written", 2), Column("It stands for", 2.4), Column("Found", 2.2))

#: So many entries have a line of their own; the rest is counted, for a second sheet.
MOST = 60

#: Parts that a row names one by one, and ways to find out that stand for an entry that only the plan asks.
MOST_NAMED, WAYS = 8, 2

EACH = "Where a row names several parts, write what holds for all of them, or each with its name."


def open_sections(report: Report, circuit: Circuit, places: Mapping[tuple[str, str], str]) -> Iterator[Section]:
    """Up to four sections; none where the file leaves nothing open.

    circuit: as planned. places: section and key of entries of the panel and the like -> the heading they stand under.
    """
    for decides, title in (
        (True, "Find out first: these decide an open answer"),
        (False, "Find out besides: so far the worst case is assumed"),
    ):
        asked = {one.key: one.how_to_find for one in report.unknowns if one.decides is decides}
        if asked:
            yield _unknowns(title, asked, circuit, places)
    told = {one.key for one in report.unknowns}
    rows = tuple(_plan_rows(told, circuit))
    if rows:
        yield Section("Only the plan of the work asks", (Table("", COLUMNS, rows),), together=False)
    if report.guesses:
        guesses = tuple(_guess_row(guess) for guess in report.guesses[:MOST])
        table = Table("", GUESS_COLUMNS, guesses)
        yield Section("Guesses to verify", (table, *_more(len(report.guesses))), together=False)


def asked_by_the_plan(circuit: Circuit) -> dict[str, list[str]]:
    """Keys without which it cannot be told what joins what, by the id of the first box that waits for them."""
    asked: dict[str, list[str]] = {}
    seen: set[str] = set()
    for one in wiring_of(circuit):
        for key in (untold.end.key for untold in one.joints.untold):
            if key and key not in seen:
                seen.add(key)
                asked.setdefault(one.box.id, []).append(key)
    return asked


def _unknowns(title: str, asked: dict[str, str], circuit: Circuit, places: Mapping[tuple[str, str], str]) -> Section:
    """A row for each kind of entry: the same question about several parts is asked once, and written in one place."""
    groups: dict[object, list[str]] = {}
    under: dict[str, str] = {key: _written_under(key, circuit, places) for key in asked}
    for key, how in asked.items():
        groups.setdefault((key_of(key) or key, how, under[key]), []).append(key)
    rows = [Row((_what(keys), Cell(asked[keys[0]]), _found(under[keys[0]]))) for keys in list(groups.values())[:MOST]]
    several = any(len(keys) > 1 and not under[keys[0]] for keys in groups.values())
    before = (Paragraph(EACH),) if several else ()
    return Section(title, (*before, Table("", COLUMNS, tuple(rows)), *_more(len(groups))), together=False)


def _found(under: str) -> Cell:
    """A blank, or where the sheet has one for each part."""
    return Cell(f"write it under “{under}”") if under else ASKED


def _written_under(key: str, circuit: Circuit, places: Mapping[tuple[str, str], str]) -> str:
    """The heading under which the sheet leaves this entry blank; empty where it has no place of its own."""
    section, name = key_of(key) or ("", "")
    if (section, name) in places:
        return places[section, name]
    for parts in PARTS:
        for asked in parts.asked if parts.section == section else ():
            if name in asked.keys:
                keys, held = SECTIONS[section].keys, getattr(circuit, SECTIONS[section].attribute)
                part = next((one for one in held if key == f"{section}.{one.id}.{name}"), None)
                blank = part is not None and all(getattr(part, keys[one].attribute) is None for one in asked.keys)
                return parts.title.partition(",")[0].partition(" (")[0] if blank else ""
    return ""


def _what(keys: Sequence[str], *more: str) -> Cell:
    """The title of the entry, with the parts that it is asked about."""
    found = key_of(keys[0])
    name = entry_guide(*found).title if found is not None else keys[0]
    kind, _, first = entry_words(keys[0]).rpartition(": ")[0].partition(" ")
    others = [entry_words(key).rpartition(": ")[0].partition(" ")[2].strip("“”") for key in keys]
    part = f"{kind} {quoted(others, MOST_NAMED)}" if first else kind
    return Cell(name, more=(part, *more))


def _plan_rows(told: Collection[str], circuit: Circuit) -> Iterator[Row]:
    """A row for each kind of entry that only the plan asks, with the boxes in which it settles what joins what."""
    groups: dict[tuple[tuple[str, str] | str, str], dict[str, str]] = {}
    for box, keys in asked_by_the_plan(circuit).items():
        for key in keys:
            if key not in told:
                groups.setdefault((key_of(key) or key, _written_under(key, circuit, {})), {})[key] = box
    for (found, under), asked in groups.items():
        read: Sequence[str] = entry_guide(*found).read[:WAYS] if isinstance(found, tuple) else ()
        settles = f"settles what joins what in {quoted(list(asked.values()), MOST_NAMED)}"
        yield Row((_what(list(asked), settles), Cell(" Or: ".join(read)), _found(under)))


def _guess_row(guess: Guess) -> Row:
    return Row((Cell(entry_words(guess.key)), Cell(guess.written), Cell(guess.stands_for), ASKED))


def _more(count: int) -> tuple[Paragraph, ...]:
    if count <= MOST:
        return ()
    return (
        Paragraph(f"And {count - MOST} more like these: write the first ones into the file and make the sheet again."),
    )
