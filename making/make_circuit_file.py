"""Writes docs/circuit-file.md: every section and key of the circuit file, from the declared keys and the key guide.

Run: python making/make_circuit_file.py (or: make docs)
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from circuitcheck.circuit.conversion import LONGEST_TEXT, LONGEST_WORD
from circuitcheck.circuit.entries import KNOWN_BY
from circuitcheck.circuit.guide import KeyGuide, entry_guide
from circuitcheck.circuit.keys import FORMAT, SECTIONS, Key, Section
from circuitcheck.circuit.keys.key import Form
from circuitcheck.circuit.short.light_keys import AMBIGUOUS
from circuitcheck.circuit.toml_text import LARGEST_FILE
from circuitcheck.quantities import Kind

PAGE = Path(__file__).parents[1] / "docs" / "circuit-file.md"
HEAD = f"""<!-- Made by making/make_circuit_file.py from circuitcheck/circuit: keys and key_guide.toml; edit those. -->
# The circuit file

A circuit file describes one branch circuit, existing and added parts alike. It is TOML text in UTF-8, its name ends in
`.circuit.toml`, it has at most {LARGEST_FILE / 1e6:.0f} MB, and it starts with `format = {FORMAT}`.
A free text has at most {LONGEST_TEXT:,} characters; an id, a word or a value {LONGEST_WORD}.
[`examples/`](../examples) holds whole ones.

The circuit is a tree: each box is fed by one cable, from the panel or from another box. Low-voltage lights hang behind
a driver in the same way. An end that names nothing, a second feed to a box, a loop, and a box that nothing feeds are
errors. All problems of a file are told at once, each with its line, its key, what was given and what is allowed.

## Values

A value with a unit is text: a number and its unit.

| written | means |
|---|---|
| `"38 ft"`, `"38'"`, `"38ft"` | 38 feet |
| `"5 ft 6 in"`, `"5' 6-1/2\\""` | feet and inches |
| `"1-1/2 in"`, `"1/2 in"` | fractions as on a tape measure |
| `"35 ft to 60 ft"`, `"35 to 60 ft"`, `"35-60 ft"` | somewhere between: for what is hidden in a wall |
| `"about 60 ft"` | a guess: a quarter less to a quarter more; the report lists it as a guess |
| `"measured 38 ft"`, `"label 60 W"` | measured, or read from a label |
| `"3 x 40 W"` | three equal lamps in one light: 120 W (watts, volt-amperes and amperes only) |

A number without a unit where one is due is an error, and so are a comma in a number, powers of ten, and a value that no
house has. Watts and volt-amperes are kept apart: `VA` where real power is asked is an error. Which units a key takes
stands with it below.

A conductor size is a name: `"14 AWG"` (also `#14`, `14 gauge`), `"1/0 AWG"`, `"250 kcmil"`, `"2.5 mm^2"`. A cable may
say `size = "14/2"`, which means two insulated conductors of 14 AWG.

**A key that is left out is unknown**, which is not zero and not "no". A check that needs it takes the worst case and
says so, or answers that it cannot tell until the key is found out. Only lists and counts that are left out are empty:
{{empty}}.

Entries without a unit (words, yes or no, counts, lists) may say how they are known in a table `known_by`, with
{", ".join(f"`{word}`" for word in KNOWN_BY)}:

```toml
known_by = {{{{ size = "label", internal_clamps = "guess" }}}}
```

Words from lists are taken whatever their case. A name (`id`) may be any text; `panel` is the panel's own and needs no
box.

## Short forms

Each short form stands for entries of the long form below, and means exactly the same. `circuitcheck tidy` writes a
file in either form.

**What the sheath says.** In a `[[cable]]`, `cable = "14/2 NM-B with ground"` stands for `type`, `size`, `conductors`
and `ground`. Write what is printed, in any order: `"12-3 UF-B"`, `"14-2 WITH GROUND TYPE NM-B 600 V"`. A ground is
there only if the text says so; without those words it is unknown. If you read it on the cable, say
`known_by = {{{{ cable = "label" }}}}`.

**A light with its box and cable.** `[[light]]` is one light to be added, in a box of its own, at the end of a cable of
its own:

```toml
[[light]]
id = "wall 1"                      # stands for the load "wall 1", its box "wall 1 box" and its cable "wall 1 cable"
from = "attic"                     # a box, or another [[light]]
cable = "14/2 NM-B with ground"
length = "17 ft"
power = "label 60 W"
volume = "label 16 in^3"
box_material = "nonmetallic"

[[light]]
id = "wall 2"
from = "wall 1"
length = "15 ft"
like = "wall 1"                    # everything else that is planned, as for "wall 1"
```

It takes the keys of `[[load]]`, `[[box]]` and `[[cable]]`. Where two of those share a key, the name says whose it is:
{{shared}}. `box_id` and `cable_id` give the box and the cable other names.

**Another part like it.** `like = "wall 1"` on any part to be added takes over what is planned for another added part.
It never takes over what has to be found out on each part, such as {{never}}, nor
anything measured or guessed. What the part says itself comes first.

**Defaults.** `[defaults.cable]` holds entries for every cable to be added, `[defaults.box]` for every box to be added.
Existing parts take no defaults, and neither table holds what has to be found out on each part.
"""

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


def page() -> str:
    """The whole page."""
    empty = ", ".join(f"`{name}`" for name in empty_when_left_out())
    shared = ", ".join(f"`{name}`" for name in sorted(name for names in AMBIGUOUS.values() for name in names))
    never = ", ".join(f"`{name}`" for name in ("length", "volume", "ground", "neutral", "known_by"))
    lines = [HEAD.format(empty=empty, shared=shared, never=never)]
    for section in SECTIONS.values():
        lines.extend(section_lines(section))
    return "\n".join(lines).rstrip("\n") + "\n"


def empty_when_left_out() -> tuple[str, ...]:
    """The lists and counts that mean none when they are left out."""
    listed = (Form.PHYSICAL_LIST, Form.TABLES)
    counted = ("fittings", "terminal_blocks", "bundled_with", "sealed_hole_with")
    return tuple(
        key.name
        for section in SECTIONS.values()
        for key in section.keys.values()
        if key.form in listed or key.name in counted
    )


def section_lines(section: Section) -> Iterator[str]:
    """A section: its keys in one table, then each key's guide."""
    header = f"[[{section.name}]]" if section.many else f"[{section.name}]"
    stands = "any number of times" if section.many else "once; it is required" if section.required else "once at most"
    yield from (f"## `{header}`: {in_sentence(section.title)}", "", f"Stands {stands}.", "")
    yield from ("| key | title | value | required |", "|---|---|---|---|")
    for key in section.keys.values():
        yield key_row(key, f"[`{key.name}`](#{anchor(section, key)})")
        for part in key.parts.values():
            yield key_row(part, f"`{key.name}.{part.name}`")
    yield ""
    for key in section.keys.values():
        yield from guide_lines(f"{section.name}.{key.name}", anchor(section, key), entry_guide(section.name, key.name))
        for part in key.parts.values():
            name = f"{key.name}.{part.name}"
            yield from guide_lines(f"{section.name}.{name}", "", entry_guide(section.name, name))


def key_row(key: Key, name: str) -> str:
    """A key's line in its section's table."""
    return f"| {name} | {key.title} | {value_text(key)} | {'yes' if key.required else ''} |"


def in_sentence(title: str) -> str:
    """A title within a line."""
    return title[0].lower() + title[1:]


def anchor(section: Section, key: Key) -> str:
    """The place of a key's guide on the page."""
    return f"{section.name}-{key.name}".replace("_", "-")


def value_text(key: Key) -> str:
    """What may stand as the value."""
    if key.kind:
        return ("a list of values, each " if key.form is Form.PHYSICAL_LIST else "") + kind_text(key.kind)
    if key.vocabulary in FROM_TABLES:
        return FROM_TABLES[key.vocabulary]
    if key.form in (Form.WORD, Form.WORD_LIST):
        words = ", ".join(f"`{word}`" for word in key.words)
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
    return f'{", ".join(kind.units)}; {ends}; such as `"{kind.example}"`'


def guide_lines(name: str, place: str, guide: KeyGuide) -> Iterator[str]:
    """One key's guide."""
    if place:
        yield f'<a id="{place}"></a>'
    yield from (f"### `{name}`", "", guide.what, "", "How to find out:", "")
    yield from (f"{number}. {way}" for number, way in enumerate(guide.read, 1))
    yield from ("", f"If it cannot be found out: {in_sentence(guide.if_unknown)}", "")
    if guide.caution:
        yield from (f"> {guide.caution}", "")
    if guide.picture:
        yield from ("```text", *guide.picture, "```", "")


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
