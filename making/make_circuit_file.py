"""Writes docs/circuit-file.md and a page for each section under docs/circuit-file/.

The text on top is circuit-file-head.md beside this file, with one whole file (small.circuit.toml); the rest comes from
the declared keys, the key guide, and one example a section (circuit-file-example.toml).
Run: python making/make_circuit_file.py (or: make docs)
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from circuitcheck.circuit.conversion import LONGEST_TEXT, LONGEST_WORD
from circuitcheck.circuit.entries import KNOWN_BY
from circuitcheck.circuit.guide import KeyGuide, entry_guide
from circuitcheck.circuit.keys import SECTIONS, Key, Section
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.short.light_keys import AMBIGUOUS
from circuitcheck.circuit.toml_text import LARGEST_FILE
from circuitcheck.quantities import Kind

HERE = Path(__file__).parent
DOCS = HERE.parent / "docs"
PAGE = DOCS / "circuit-file.md"
FOLDER = DOCS / "circuit-file"
EXAMPLE = HERE / "circuit-file-example.toml"
SMALL = HERE / "small.circuit.toml"
MADE = "<!-- Made by making/make_circuit_file.py from circuitcheck/circuit: keys and key_guide.toml; edit those. -->\n"

#: How the form of a key is called on the page.
FORMS = {
    Form.TEXT: "text",
    Form.ID: "text, its own in the whole file",
    Form.SIZE: "a conductor size of the tables",
    Form.YES_NO: "`true` or `false`",
    Form.DATE: "a date, such as `2026-03-14`",
    Form.TABLES: "a list of tables",
}

#: Where the words stand that come from the tables.
FROM_TABLES = {
    "job.rulebook": "a rulebook: `circuitcheck tables` lists them",
    "box.trade_size": "a row of the table of box volumes: `circuitcheck tables box-volumes`",
    "cable.type": "a row of the table of cable types: `circuitcheck tables cable-types`",
}

#: Words after which a list is long enough to stand on the section's page alone.
_MOST_WORDS = 8


def pages() -> dict[Path, str]:
    """Every page with its text."""
    made = {PAGE: main_page()}
    for section in SECTIONS.values():
        made[FOLDER / f"{section.name}.md"] = section_page(section)
    return made


def main_page() -> str:
    """The page that a person reads first: the head, and each section with one example and its keys in a table."""
    lines = [MADE + head()]
    for section in SECTIONS.values():
        lines += [*section_head(section, "##"), "```toml", examples()[section.name], "```", ""]
        lines += ["| key | what it is | value |", "|---|---|---|"]
        for key in section.keys.values():
            required = " (required)" if key.required else ""
            place = f"circuit-file/{section.name}.md#{anchor(section, key)}"
            lines.append(f"| [`{key.name}`]({place}){required} | {key.title} | {value_text(key, most=_MOST_WORDS)} |")
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


def section_page(section: Section) -> str:
    """One section in full: every key with its guide."""
    lines = [MADE, *section_head(section, "#"), "[All sections](../circuit-file.md)", ""]
    for key in section.keys.values():
        lines += [f'<a id="{anchor(section, key)}"></a>', *key_lines(f"{section.name}.{key.name}", section, key)]
        for part in key.parts.values():
            lines += key_lines(f"{section.name}.{key.name}.{part.name}", section, part, within=f"{key.name}.")
    return "\n".join(lines).rstrip("\n") + "\n"


def section_head(section: Section, mark: str) -> tuple[str, ...]:
    """The heading of a section and how often it stands in a file."""
    header = f"[[{section.name}]]" if section.many else f"[{section.name}]"
    stands = "any number of times" if section.many else "once; it is required" if section.required else "once at most"
    return f"{mark} `{header}`: {in_sentence(section.title)}", "", f"Stands {stands}.", ""


def head() -> str:
    """The text above the sections."""
    text = (HERE / "circuit-file-head.md").read_text("utf-8")
    filled = {
        "small": SMALL.read_text("utf-8").rstrip("\n"),
        "megabytes": f"{LARGEST_FILE / 1e6:.0f}",
        "text": f"{LONGEST_TEXT:,}",
        "word": str(LONGEST_WORD),
        "empty": listed(empty_when_left_out()),
        "known_by": listed(KNOWN_BY),
        "shared": listed(sorted(name for names in AMBIGUOUS.values() for name in names)),
        "never": listed(("length", "volume", "ground", "neutral", "known_by")),
    }
    for name, value in filled.items():
        text = text.replace(f"@{name}@", value)
    return text


def listed(names: tuple[str, ...] | list[str]) -> str:
    """Names as code, with commas."""
    return ", ".join(f"`{name}`" for name in names)


@cache
def examples() -> dict[str, str]:
    """The example of each section. Raises: KeyError later on, for a section without one."""
    pieces = re.split(r"^# --- (\w+)\n", EXAMPLE.read_text("utf-8"), flags=re.MULTILINE)
    return {name: text.strip("\n") for name, text in zip(pieces[1::2], pieces[2::2], strict=True)}


def empty_when_left_out() -> tuple[str, ...]:
    """The lists and counts that mean none when they are left out."""
    counted = ("fittings", "terminal_blocks", "unbroken", "extensions")
    return tuple(key.name for section in SECTIONS.values() for key in section.keys.values() if key.name in counted)


def in_sentence(title: str) -> str:
    """A title within a line."""
    return title[0].lower() + title[1:]


def anchor(section: Section, key: Key) -> str:
    """The place of a key's guide on the page of its section."""
    return f"{section.name}-{key.name}".replace("_", "-")


def value_text(key: Key, *, most: int = 1000) -> str:
    """What may stand as the value; of more than ``most`` words the first few."""
    if key.kind:
        return ("a list of values, each " if key.form is Form.PHYSICAL_LIST else "") + kind_text(key.kind)
    if key.vocabulary in FROM_TABLES:
        return FROM_TABLES[key.vocabulary]
    if key.form in (Form.WORD, Form.WORD_LIST):
        words = listed(key.words) if len(key.words) <= most else f"{listed(key.words[: most // 2])} …"
        return f"a list of: {words}" if key.form is Form.WORD_LIST else words
    if key.form is Form.REFERENCE:
        return "the name of: " + ", ".join("`panel`" if name == "panel" else f"a {name}" for name in key.refers)
    if key.form is Form.WHOLE:
        return f"a whole number, {key.least} to {key.greatest}"
    return FORMS[key.form]


def kind_text(kind: Kind) -> str:
    """The units that a physical value takes, and its plausible ends."""
    ends = f"{kind.least:g} to {kind.greatest:g} {kind.unit}".rstrip()
    if kind.bare:
        return f"a number, {ends}, or percent"
    return f'such as `"{kind.example}"`; {", ".join(kind.units)}; {ends}'


def key_lines(name: str, section: Section, key: Key, *, within: str = "") -> Iterator[str]:
    """One key's guide."""
    guide: KeyGuide = entry_guide(section.name, f"{within}{key.name}")
    required = "**Required.** " if key.required else ""
    yield from (f"## `{name}`", "", guide.what, "", f"{required}Value: {value_text(key)}.", "", "How to find out:", "")
    yield from (f"{number}. {way}" for number, way in enumerate(guide.read, 1))
    yield from ("", f"If it cannot be found out: {in_sentence(guide.if_unknown)}", "")
    if guide.caution:
        yield from (f"> {guide.caution}", "")
    if guide.picture:
        yield from ("```text", *guide.picture, "```", "")


def main() -> None:
    """Write the pages and remove those of sections that are gone."""
    made = pages()
    FOLDER.mkdir(exist_ok=True)
    for stale in set(FOLDER.glob("*.md")) - made.keys():
        stale.unlink()
    for path, text in made.items():
        path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
