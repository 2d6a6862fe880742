"""Puts real output and the list of checks into README.md, between its markers. Run: python making/make_readme.py

A marker is an HTML comment: ``<!-- made: NAME -->`` opens what this script writes, ``<!-- end -->`` closes it.
"""

from __future__ import annotations

import contextlib
import io
import re
from pathlib import Path

from circuitcheck.cli.finding_page import finding_lines
from circuitcheck.cli.lines import PageStyle
from circuitcheck.cli.main import main as circuitcheck
from circuitcheck.cli.sources import check_file
from circuitcheck.rules import ALL_RULES

ROOT = Path(__file__).parents[1]
README = ROOT / "README.md"
EXAMPLE = "examples/hallway.circuit.toml"
FAMILIES = {"capacity": "Is there capacity", "site": "What else the work sets off", "low voltage": "Low-voltage lights"}


def result() -> str:
    """What ``circuitcheck check --brief`` prints on the example."""
    out = io.StringIO()
    with contextlib.chdir(ROOT), contextlib.redirect_stdout(out):
        circuitcheck(["check", "--brief", EXAMPLE])
    return f"```text\n$ circuitcheck check --brief {EXAMPLE}\n{out.getvalue()}```"


def finding() -> str:
    """The finding on the overfull box, in full."""
    with contextlib.chdir(ROOT):
        report = check_file(EXAMPLE).report
    found = next(one for one in report.findings if one.check == "box-fill" and one.subject == "attic")
    text = "\n".join(finding_lines(found, PageStyle()))
    return f"```text\n{text}\n```"


def checks() -> str:
    """Every check with its title, by family."""
    lines: list[str] = []
    for family, title in FAMILIES.items():
        lines += [f"**{title}**", "", "| check | what it asks |", "|---|---|"]
        lines += [
            f"| [{rule.name}](docs/checks/{rule.name}.md) | {rule.title} |"
            for rule in ALL_RULES
            if rule.family == family
        ]
        lines.append("")
    return "\n".join(lines).rstrip()


MAKERS = {"result": result, "finding": finding, "checks": checks}


def filled(text: str) -> str:
    """The README's text with every marked part made anew. Raises: ValueError when a marker is missing."""
    for name, make in MAKERS.items():
        pattern = re.compile(rf"(<!-- made: {name} -->\n).*?(<!-- end -->)", re.DOTALL)
        if not pattern.search(text):
            raise ValueError(f"README.md has no marker for {name}")
        made = make()
        text = pattern.sub(lambda found, made=made: f"{found[1]}{made}\n{found[2]}", text)  # type: ignore[misc]
    return text


if __name__ == "__main__":
    README.write_text(filled(README.read_text("utf-8")), "utf-8")
