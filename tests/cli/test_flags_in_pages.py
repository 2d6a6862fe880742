"""The flags that the pages name are those of the parser: none is missing, and none is told that is not there."""

import re
from pathlib import Path

import pytest

from making.make_readme import command_parsers

ROOT = Path(__file__).parents[2]
PAGES = (ROOT / "README.md", ROOT / "SAFETY.md", *sorted((ROOT / "docs").glob("*.md")))
FLAG = re.compile(r"(?<![\w-])--[a-z][a-z-]*|(?<![\w-])-[a-z]\b")
PARSERS = {
    name: {flag for action in parser._actions for flag in action.option_strings}
    for name, parser in command_parsers().items()
}
#: Flags of other programs, on lines that run them.
OTHERS = re.compile(r"^\s*(\$ )?(pip|pipx|uv|python|make|git|mkdir)\b")


def wrong_flags(text: str) -> set[str]:
    """Flags in code of a page that no command has, or that the command before them on the line has not."""
    wrong = set()
    for code in re.findall(r"`([^`\n]+)`|^((?: *\$ )?[a-z.][^|`\n]*)$", text, re.M):
        line = next(filter(None, code))
        if OTHERS.match(line):
            continue
        before, _, rest = line.partition("circuitcheck ")
        called = bool(rest) and not re.search(r"[a-z]", before)
        name = rest.split()[0] if called and rest.split()[0] in PARSERS else ""
        known = PARSERS[name] if called else set().union(*PARSERS.values())
        if called or line.startswith("-"):
            wrong |= {f"{flag} in {line}" for flag in FLAG.findall(line.partition("#")[0]) if flag not in known}
    return wrong


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_a_page_names_flags_that_there_are(page: Path) -> None:
    assert wrong_flags(page.read_text("utf-8")) == set()


def test_the_page_of_commands_names_every_flag_beside_its_command() -> None:
    rows = [line for line in (ROOT / "docs" / "commands.md").read_text("utf-8").splitlines() if line.startswith("| `")]
    for name, flags in PARSERS.items():
        told = "".join(row for row in rows if row.startswith(f"| `{f'circuitcheck {name}'.strip()}` | `-"))
        shown = {flag for flag in flags if flag not in ("-h", "--help", "--traceback")}
        assert {flag for flag in shown if f"`{flag}`" not in told} == set(), name


@pytest.mark.parametrize("line", ["`circuitcheck check --jsonn x`", "`--nothing`", "`circuitcheck tidy --brief x`"])
def test_a_flag_that_there_is_not_is_found(line: str) -> None:
    assert wrong_flags(line)
