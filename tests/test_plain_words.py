"""The words not to be used: what a user reads is plain American English, in the words of the trade.

Each phrase stands beside what to write instead. Read are the pages for users, the guide to the keys, the help of every
command, the pages of the checks (docstrings of the rules), and every text in the program's code that is no docstring.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from circuitcheck.cli.commands import COMMANDS
from circuitcheck.cli.parser import parser_of

ROOT = Path(__file__).parents[1]

#: What is not to be written (a pattern), and what to write instead.
INSTEAD = {
    r"\b(the book|rulebook) (says|recommends|asks|requires)": "the code requires; the code recommends",
    r"\bthe file does not say\b": "not given; unknown",
    r"\bnobody (said|spoke)\b": "unknown",
    r"\bhangs? on (a|the|this) circuit\b": "is fed from",
    r"\ball that hangs on\b": "everything fed from",
    r"\btaken at (the|its) worst\b|\bcounts at its worst\b|\bworst case was taken\b": "assumed worst case",
    r"\bheld to \d": "limited to",
    r"\bwhere it lies\b": "in these conditions",
    r"\bx (air|bundle)\b": "correction factor; adjustment factor",
    r"\bon for hours\b": "continuous (3 hours or more)",
    r"\bhangs on time\b|\bdepends on what is still open\b": "depends on unknowns",
    r"\bdearest\b": "largest drop",
    r"\b\d+ do not hold\b": "2 problems",
    r"\bcannot be told\b": "cannot tell yet; unknown",
    r"\bstands? open on paper\b": "nothing open on paper",
    r"\bfound out on \d": "date surveyed",
    r"\bsigns to stop\b": "danger signs",
    r"\bstraight to the terminal\b": "to the terminal",
    r"\bwhat goes dark with this breaker\b": "what this breaker turns off",
    r"\bproved on a live source\b": "checked on a known live outlet",
    r"\bwith the panel's cover on\b": "leave the panel cover on",
    r"\bthermometer with a memory\b": "a min/max thermometer",
    r"\btaken so\b": "assumed",
    r"\breckoned with\b": "code edition used",
    r"\bAny words will do\b": "Any title works.",
    r"\byou stand on\b|\bwhere you stand\b": "the selected part; the selected line",
    r"\bleaflets?\b": "the instructions",
    r"\bmade for each other\b": "compatible",
    r"\} (were measured|are lost|are left)\b": "a quantity is singular: was, is",
    r"\bis there already; --replace\b": "already exists",
    r"\bremedy in the trade\b": "usual remedy",
    r"\bby what is known\b": "from what is known",
    r"\b(Nothing goes back|Nothing ends the list)\b": "An empty line goes back",
    r"\b(un)?colour(ed|s)?\b|\bgrey\b|\bneighbour|\bstorey|\bmetres?\b|\blabelled\b": "American spelling",
}

#: Where units are spelled for a library, and where a source is quoted by its own name.
NOT_READ = ("circuitcheck/quantities/",)

PAGES = sorted(
    path
    for pattern in ("README.md", "SAFETY.md", "docs/*.md", "docs/circuit-file/*.md", "docs/checks/*.md")
    for path in ROOT.glob(pattern)
    if path.name != "tables.md"  # what was compared with what, in the words of the tables
)
MODULES = sorted(
    path for path in ROOT.glob("circuitcheck/**/*.py") if not str(path.relative_to(ROOT)).startswith(NOT_READ)
)
NAMES = {path: str(path.relative_to(ROOT)) for path in (*PAGES, *MODULES)}


def against(text: str) -> list[str]:
    """Each phrase of the text that is not to be used, with what to write instead."""
    flat = " ".join(text.split())
    return [f"{found[0]}: {instead}" for bad, instead in INSTEAD.items() if (found := re.search(bad, flat, re.I))]


def spoken(path: Path) -> Iterator[str]:
    """The texts of a module that are no docstrings; of a rule, its page too."""
    tree = ast.parse(path.read_text("utf-8"))
    said = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                said.add(id(first.value))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in said:
            yield node.value


@pytest.mark.parametrize("path", PAGES, ids=NAMES.get)
def test_a_page_is_in_plain_words(path: Path) -> None:
    assert against(path.read_text("utf-8")) == []


def test_the_program_speaks_in_plain_words() -> None:
    found = {NAMES[path]: bad for path in MODULES for text in spoken(path) if (bad := against(text))}
    assert found == {}


def test_the_guide_to_the_keys_is_in_plain_words() -> None:
    assert against((ROOT / "circuitcheck" / "circuit" / "key_guide.toml").read_text("utf-8")) == []


def test_the_help_of_every_command_is_in_plain_words() -> None:
    assert against(parser_of(COMMANDS).format_help()) == []


@pytest.mark.parametrize(
    "text", ["Nobody said where.", "The neutral cannot be told.", "Its colour.", "taken at its worst"]
)
def test_a_word_not_to_be_used_is_found(text: str) -> None:
    assert against(text)
