"""Writes docs/checks/ and docs/rule-by-edition.md from the rules' own docstrings and the tables they use.

Run: python making/make_checks.py (or: make docs)
"""

from __future__ import annotations

import inspect
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from importlib import import_module
from pathlib import Path

from circuitcheck.case import AnyRule
from circuitcheck.findings import Source
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook, edition_details, load_rulebook
from making.recorded import uses_of

DOCS = Path(__file__).parents[1] / "docs"
PARTS = ("What it asks", "Why", "What to do", "Cannot see")
MADE = "<!-- Made by making/make_checks.py from the rule itself; edit the rule's docstring instead. -->\n"
FAMILIES = {
    "capacity": "Capacity",
    "site": "On site",
    "low voltage": "Low-voltage lights",
    "evidence": "What was seen, and who does it",
}


def books() -> list[Rulebook]:
    """Every rulebook, oldest first."""
    return [load_rulebook(edition.name) for edition in edition_details()]


def parts_of(rule: AnyRule) -> dict[str, str]:
    """The four parts of the rule's module docstring. Raises: ValueError when one is missing or out of order."""
    text = inspect.cleandoc(import_module(rule.module).__doc__ or "")
    pattern = "|".join(PARTS)
    found = re.findall(rf"^({pattern}):\s*(.*?)(?=^(?:{pattern}):|\Z)", text, re.MULTILINE | re.DOTALL)
    if [name for name, _ in found] != list(PARTS):
        raise ValueError(f"{rule.name}: the docstring has {[name for name, _ in found]}, not {list(PARTS)}")
    return {name: body.strip() for name, body in found}


def sources_of(use: str, book: Rulebook) -> tuple[Source, ...]:
    """Every source of a table or value that a rule uses, in one rulebook; empty where that rulebook has none."""
    if use.startswith("value:"):
        value = book.find_value(use.removeprefix("value:"))
        return (value.source,) if value else ()
    if use not in book.tables:
        return ()
    return tuple(row.source for row in book.tables[use].rows)


def status_of(sources: Iterable[Source]) -> str:
    """The statuses of a table's rows or of a value, commonest first: ``published``, ``published (3 from memory)``."""
    counts = Counter(str(source.status) for source in sources)
    if not counts:
        return "not in it"
    (main, _), *rest = counts.most_common()
    return main + (f" ({', '.join(f'{count} {status}' for status, count in rest)})" if rest else "")


def rule_page(rule: AnyRule) -> str:
    """The page of one rule."""
    lines = [MADE, f"# {rule.name}", "", f"{rule.title}.", ""]
    for name, body in parts_of(rule).items():
        lines += [f"## {name}", "", body[0].upper() + body[1:], ""]
    lines += ["## Sources", ""]
    if uses_of(rule):
        lines += ["| value | rulebook | where it stands | status | compared with |", "|---|---|---|---|---|"]
        lines += source_rows(rule)
    else:
        lines.append("None: this rule compares with no number of a book.")
    return "\n".join(lines) + "\n"


def source_rows(rule: AnyRule) -> Iterator[str]:
    """One row for each value and source, with the rulebooks that have it so."""
    for use in uses_of(rule):
        held: dict[Source | None, list[str]] = {}
        for book in books():
            sources = dict.fromkeys(map(without_edition, sources_of(use, book)))
            for source in sources or (None,):
                held.setdefault(source, []).append(book.edition)
        for source, editions in held.items():
            start = f"| {use.removeprefix('value:')} | {', '.join(editions)}"
            if source is None:
                yield f"{start} | not in it | | |"
            elif source.document == source.status:
                yield f"{start} | in no code | {source.status} | {cell(source.checked)} |"
            else:
                where = f"{cell(source.document)}, {cell(source.place)}"
                yield f"{start} | {where} | {source.status} | {cell(source.checked)} |"


def without_edition(source: Source) -> Source:
    """The source with the edition's year left out, so that several editions can share a line."""
    return replace(source, edition="", read=None)


def cell(text: str) -> str:
    """Text that cannot break a Markdown table or hide in it."""
    return text.replace("\\", "\\\\").replace("|", "\\|").replace("<", "&lt;").replace("\n", " ")


def index_page() -> str:
    """The list of all rules by family."""
    lines = [MADE, "# The checks", ""]
    for family, title in FAMILIES.items():
        lines += [f"## {title}", "", "| check | asks |", "|---|---|"]
        lines += [f"| [{rule.name}]({rule.name}.md) | {rule.title} |" for rule in ALL_RULES if rule.family == family]
        lines.append("")
    return "\n".join(lines)


def edition_page() -> str:
    """Rule by edition: the status of every table and value that each rule uses."""
    names = [book.edition for book in books()]
    lines = [
        MADE,
        "# Rule by edition",
        "",
        "How sure each value is that a rule compares with, in each rulebook. `published`: compared with a source that",
        "the table file names. `derived`: by a formula that it names. `common practice`: in no code. `from memory`:",
        "not compared with anything yet, and a caution in every report that uses it. `not in it`: no such rule there.",
        "",
        f"| check | table or value | {' | '.join(names)} |",
        f"|---|---|{'---|' * len(names)}",
    ]
    for rule in ALL_RULES:
        shown = f"[{rule.name}](checks/{rule.name}.md)"
        if not uses_of(rule):
            lines.append(f"| {shown} | none |{' |' * len(names)}")
        for use in uses_of(rule):
            states = " | ".join(status_of(sources_of(use, book)) for book in books())
            lines.append(f"| {shown} | {use.removeprefix('value:')} | {states} |")
    return "\n".join(lines) + "\n"


def pages() -> dict[Path, str]:
    """Every page that this script makes, with its text."""
    made = {DOCS / "checks" / f"{rule.name}.md": rule_page(rule) for rule in ALL_RULES}
    made[DOCS / "checks" / "index.md"] = index_page()
    made[DOCS / "rule-by-edition.md"] = edition_page()
    return made


def main() -> None:
    """Write the pages and remove those of rules that are gone."""
    made = pages()
    (DOCS / "checks").mkdir(exist_ok=True)
    for stale in set((DOCS / "checks").glob("*.md")) - made.keys():
        stale.unlink()
    for path, text in made.items():
        path.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
