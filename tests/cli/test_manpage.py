"""docs/circuitcheck.1 is current and names every command, every option and every exit status."""

import argparse
import sys
from pathlib import Path

import pytest

from circuitcheck.cli.commands import COMMANDS
from circuitcheck.cli.parser import parser_of

PAGE = Path(__file__).parents[2] / "docs" / "circuitcheck.1"


def test_it_names_every_command_and_option() -> None:
    text = PAGE.read_text("utf-8").replace("\\-", "-")
    subparsers = next(action for action in parser_of(COMMANDS)._actions if action.dest == "command")
    for name, subparser in subparsers.choices.items():
        assert f"circuitcheck {name}" in text, "run: make docs"
        for action in subparser._actions:
            if action.dest != "help" and action.help != argparse.SUPPRESS:
                assert all(option in text for option in action.option_strings), name
    for status in range(5):
        assert f".B {status}\n" in text
    assert "licensed electrician" in text


@pytest.mark.skipif(sys.version_info[:2] not in {(3, 11), (3, 12)}, reason="a later Python words usage otherwise")
def test_it_is_current() -> None:
    pytest.importorskip("argparse_manpage", reason="in the dev group of pyproject.toml")
    from making import make_manpage

    assert PAGE.read_text("utf-8") == make_manpage.page(), "run: make docs"
