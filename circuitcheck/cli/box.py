"""``circuitcheck box``: counts one box from what is said on the command line, without a circuit file."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from circuitcheck.circuit.guide import entry_ref
from circuitcheck.cli import statuses
from circuitcheck.cli.streams import page_style, put
from circuitcheck.errors import CommandError
from circuitcheck.findings import Fault, Verdict
from circuitcheck.text import shown_text

if TYPE_CHECKING:
    from circuitcheck.advice.one_box import OneBox
    from circuitcheck.cli.lines import PageStyle
    from circuitcheck.tables.rulebook import Rulebook

_EXAMPLE = """\
example: circuitcheck box --size "4 x 1-1/2 octagon" --cable 14/2 14/2 14/3 --clamps

What is left out is unknown: the worst case is assumed, and where it decides
the answer is "cannot tell yet"."""

#: The last name of a key that is still unknown -> the flags that say it.
_FLAGS = {
    "internal_clamps": "--clamps or --no-clamps",
    "fixture_wires": '--leads "2 x 18 AWG" or --leads none',
    "fixture_ground": '--lead-ground "18 AWG" or --lead-ground none',
    "canopy": "--canopy or --no-canopy",
    "volume": '--size or --volume, such as --volume "18 in^3"',
    "trade_size": "--size or --volume",
    "ground": "--ground or --no-ground",
    "size": "--cable",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what may be in a box."""
    parser.epilog = _EXAMPLE
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    add = parser.add_argument
    add("--size", metavar="SIZE", help='trade size of a metal box, such as "4 x 1-1/2 octagon"')
    add("--volume", metavar="VOLUME", help='volume marked in the box, such as "18 in^3"; it counts before --size')
    add("--cable", metavar="CABLE", nargs="+", action="extend", default=[], help='each cable: 14/2, "3 x 12/2", 14/3')
    add("--device", metavar="DEVICE", nargs="+", action="extend", default=[], help='switch, receptacle, "2 x switch"')
    yes_no = argparse.BooleanOptionalAction
    add(
        "--ground", action=yes_no, default=None, help="whether the cables have a ground, where their print says nothing"
    )
    add("--clamps", action=yes_no, default=None, help="whether there are cable clamps inside the box")
    add("--leads", metavar="LEADS", nargs="+", action="extend", help='leads of the light: "2 x 18 AWG", or none')
    add("--lead-ground", metavar="WIRE", help='the light\'s own ground lead: "18 AWG", or none')
    add("--canopy", action=yes_no, default=None, help="whether the light has a domed canopy over the box")
    add("--fitting", metavar="FITTING", nargs="+", action="extend", default=[], help="stud or hickey in the box")
    add("--extension", metavar="VOLUME", nargs="+", action="extend", default=[], help="volume marked on a ring")
    add("--rulebook", metavar="NAME", help="the edition to count by (default: the newest)")
    add("--json", action="store_true", help="print the answer as JSON")


def run(arguments: argparse.Namespace) -> int:
    """Count the box. Returns the status that ``check`` has for that answer. Raises: CommandError."""
    from circuitcheck.advice.box_words import BoxWords, contents_of
    from circuitcheck.advice.one_box import CountFaultError, one_box
    from circuitcheck.tables.rulebook import editions, load_rulebook, newest_edition

    name = arguments.rulebook or newest_edition()
    if name not in editions():
        raise CommandError(f'there is no rulebook "{name}"; the rulebooks are {", ".join(editions())}')
    if not (arguments.cable or arguments.device or arguments.leads):
        raise CommandError("say what is in the box: --cable 14/2 for each cable, --device switch, --leads")
    book = load_rulebook(name)
    words = BoxWords(**{field.name: getattr(arguments, field.name) for field in fields(BoxWords)})
    try:
        answer = one_box(contents_of(words), book)
    except CountFaultError as lost:
        return _without_answer(lost.fault, book, as_json=arguments.json)
    put(json.dumps(_document(answer, book)) + "\n" if arguments.json else _page(answer, book, page_style()))
    return statuses.status_of(answer.verdict)


def _without_answer(fault: Fault, book: Rulebook, *, as_json: bool) -> int:
    """What is told where the box could not be counted through a fault of the program."""
    from circuitcheck.cli.check_faults import status_after
    from circuitcheck.cli.lines import ruled, wrapped
    from circuitcheck.cli.page import safety_page

    if as_json:
        document = {"rulebook": book.edition, "verdict": Verdict.UNDETERMINED, "findings": [], "room_left": []}
        put(json.dumps(document | {"smallest": None, "faults": [{"check": fault.check, "says": fault.says}]}) + "\n")
    else:
        style = page_style()
        lines = [
            *ruled(f"Count one box, rulebook {book.edition}", style),
            *wrapped(f"{shown_text(fault.line)}.", style),
        ]
        lines += wrapped("The box is not counted, so nothing is said about it.", style)
        put("\n".join(lines) + "\n" + safety_page(style))
    return status_after(statuses.FAULT, faults=(fault,))


def _document(answer: OneBox, book: Rulebook) -> dict[str, Any]:
    from circuitcheck.api.json_report import finding_entry, room_entry

    return {
        "rulebook": book.edition,
        "verdict": answer.verdict,
        "findings": [finding_entry(answer.finding)],
        "room_left": [room_entry(room) for room in answer.room_left],
        "smallest": answer.smallest,
        "faults": [],
    }


def _page(answer: OneBox, book: Rulebook, style: PageStyle) -> str:
    from circuitcheck.advice.one_box_words import room_says, smallest_says, worksheet
    from circuitcheck.cli.lines import ruled, wrapped, wrapped_all
    from circuitcheck.cli.page import safety_page

    lines = [*ruled(f"Count one box, rulebook {book.edition}", style), *_answer_lines(answer, style), ""]
    lines += [*ruled("Worksheet", style), *worksheet(answer), ""]
    lines += wrapped_all("assumed: ", answer.finding.assumed, style, indent="")
    flags = dict.fromkeys(_FLAGS.get(entry_ref(key).key, key) for key in answer.finding.needs)
    lines += wrapped_all("say: ", flags, style, indent="")
    lines += wrapped(smallest_says(answer), style)
    lines += wrapped_all("", room_says(answer), style, indent="")
    return "\n".join(lines) + "\n" + safety_page(style)


def _answer_lines(answer: OneBox, style: PageStyle) -> Iterator[str]:
    from circuitcheck.cli.colors import color_of
    from circuitcheck.cli.lines import wrapped
    from circuitcheck.outcomes import heading_word

    finding = answer.finding
    yield from wrapped(finding.says, style, bullet=f"{heading_word(finding)}  ", color=color_of(finding))
