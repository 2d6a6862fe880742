"""The page of what is covered names only rules that exist, and all the points that it promises."""

import re
from pathlib import Path

from circuitcheck.rules import ALL_RULES

PAGE = Path(__file__).parent.parent / "docs" / "what-is-covered.md"


def test_every_rule_it_names_exists():
    names = {rule.name for rule in ALL_RULES}
    words = set(re.findall(r"`([a-z0-9]+(?:-[a-z0-9]+)+)`", PAGE.read_text("utf-8")))
    assert words <= names, words - names


def test_the_twenty_and_the_twelve_are_all_there():
    text = PAGE.read_text("utf-8")
    changes = text.split("## What gets a red tag")[0].split("|---|---|\n")[1].strip().splitlines()
    assert len(changes) == 20
    ranks = re.findall(r"^\| (\d+) \|", text, re.MULTILINE)
    assert ranks == [str(rank) for rank in range(1, 13)]
