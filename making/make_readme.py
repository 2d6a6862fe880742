"""Puts real output into README.md and docs/commands.md, between their markers. Run: python making/make_readme.py

A marker is an HTML comment: ``<!-- made: NAME -->`` opens what this script writes, ``<!-- end -->`` closes it.
"""

from __future__ import annotations

import argparse
import contextlib
import inspect
import io
import re
import shlex
from pathlib import Path

from circuitcheck.circuit.conversion import CLASSES
from circuitcheck.cli.commands import COMMANDS
from circuitcheck.cli.finding_page import finding_lines
from circuitcheck.cli.lines import PageStyle
from circuitcheck.cli.main import main as circuitcheck
from circuitcheck.cli.parser import parser_of
from circuitcheck.cli.sources import check_file
from circuitcheck.possible import declared
from circuitcheck.rules import ALL_RULES
from making.make_checks import parts_of

ROOT = Path(__file__).parents[1]
PAGES = (ROOT / "README.md", ROOT / "docs" / "commands.md", ROOT / "docs" / "what-is-covered.md")
EXAMPLE = "examples/hallway.circuit.toml"
OPEN_EXAMPLE = "examples/den.circuit.toml"

#: A result in the README has at most this many lines.
MOST_LINES = 12


def result() -> str:
    """The start of what ``circuitcheck check --brief`` prints on the example: the answer and its first findings."""
    out = io.StringIO()
    with contextlib.chdir(ROOT), contextlib.redirect_stdout(out):
        circuitcheck(["check", "--brief", EXAMPLE])
    lines = out.getvalue().splitlines()[:MOST_LINES]
    whole = max(index for index, line in enumerate(lines) if not line)  # whole findings only
    return "\n".join(["```text", f"$ circuitcheck check --brief {EXAMPLE}", *lines[:whole], "…", "```"])


def finding() -> str:
    """The finding on the overfull box, in full."""
    with contextlib.chdir(ROOT):
        report = check_file(EXAMPLE).report
    found = next(one for one in report.findings if one.check == "box-fill" and one.subject == "attic")
    text = "\n".join(finding_lines(found, PageStyle()))
    return f"```text\n{text}\n```"


def commands() -> str:
    """Every command with what it does."""
    lines = ["| command | does |", "|---|---|"]
    lines += [f"| `circuitcheck {name}` | {described.does} |" for name, described in COMMANDS.items()]
    return "\n".join(lines)


def options_of(parser: argparse.ArgumentParser) -> list[tuple[str, str]]:
    """The options of a command as its help shows them: flags with what they take, and what they do."""
    shown = (
        action for action in parser._actions if action.help not in (argparse.SUPPRESS, None) and action.dest != "help"
    )
    rows = []
    for action in shown:
        takes = action.metavar or ("" if action.nargs == 0 else action.dest.upper())
        choices = "\\|".join(map(str, action.choices)) if action.choices and not action.metavar else takes
        flags = ", ".join(f"`{flag}`" for flag in action.option_strings) or "(name)"
        rows.append((f"{flags} {choices}".strip(), " ".join((action.help or "").split()).replace("%%", "%")))
    return rows


def command_parsers() -> dict[str, argparse.ArgumentParser]:
    """The parser of each command, by its name; the whole program's under an empty one."""
    whole = parser_of(COMMANDS)
    subparsers = next(action for action in whole._actions if isinstance(action, argparse._SubParsersAction))
    return {"": whole, **subparsers.choices}


def options() -> str:
    """Every option of every command, from the parser."""
    lines = ["| command | option | does |", "|---|---|---|"]
    for name, parser in command_parsers().items():
        lines += [
            f"| `{f'circuitcheck {name}'.strip()}` | {option} | {does} |"
            for option, does in options_of(parser)
            if not option.startswith("(name)")
        ]
    return "\n".join(lines)


def one_box() -> str:
    """The answer about one box, as the command prints it up to the safety text."""
    words = ["box", "--size", "4 x 1-1/2 octagon", "--cable", "14/2", "14/2", "14/2", "--ground", "--clamps"]
    words += ["--leads", "none"]
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        circuitcheck(words)
    answer = out.getvalue().partition("\nBefore you open anything")[0].rstrip()
    return "\n".join(["```text", f"$ circuitcheck {shlex.join(words)}", answer, "```"])


def questions() -> str:
    """What to find out first, as the page of an open example begins."""
    out = io.StringIO()
    with contextlib.chdir(ROOT), contextlib.redirect_stdout(out):
        circuitcheck(["check", OPEN_EXAMPLE])
    head = out.getvalue().partition("\n\n? CANNOT TELL")[0]
    return "\n".join(["```text", f"$ circuitcheck check {OPEN_EXAMPLE}", head, "…", "```"])


def blind_spots() -> str:
    """Every check with what it cannot see, from its own page."""
    told = ((rule.name, parts_of(rule)["Cannot see"].replace("`", "").split()) for rule in ALL_RULES)
    return "\n".join(
        ["| check | cannot see |", "|---|---|", *(f"| `{name}` | {' '.join(says)} |" for name, says in told)]
    )


def taken_for_granted() -> str:
    """Every entry that counts as one thing until somebody says otherwise, with how it is told."""
    lines = ["| entry | while it is left out |", "|---|---|"]
    for row in declared().values():
        only = isinstance(row.may_be, list) and len(row.may_be) == 1
        if row.assumed and (row.presumed or only):
            lines.append(f"| `{row.key}` | {row.assumed} |")
    counts = (
        (name, field) for name, section in CLASSES.items() for field in inspect.signature(section).parameters.values()
    )
    lines += [
        f"| `{name}.{field.name}` | {field.default} is counted, and nothing asks |"
        for name, field in counts
        if isinstance(field.default, int)
    ]
    return "\n".join(lines)


MAKERS = {
    "questions": questions,
    "blind-spots": blind_spots,
    "taken-for-granted": taken_for_granted,
    "box": one_box,
    "result": result,
    "finding": finding,
    "commands": commands,
    "options": options,
}


def filled(text: str) -> str:
    """The page's text with every marked part made anew. Raises: ValueError for a marker that nothing makes."""

    def made(found: re.Match[str]) -> str:
        if found[1] not in MAKERS:
            raise ValueError(f"nothing makes {found[1]}")
        return f"<!-- made: {found[1]} -->\n{MAKERS[found[1]]()}\n<!-- end -->"

    return re.sub(r"<!-- made: ([\w-]+) -->\n.*?<!-- end -->", made, text, flags=re.DOTALL)


if __name__ == "__main__":
    for page in PAGES:
        page.write_text(filled(page.read_text("utf-8")), "utf-8")
