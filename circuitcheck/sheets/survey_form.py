"""The survey as a form to type into: the same entries as on paper, blank or as the file has them."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from pathlib import Path, PurePath
from typing import Any

from circuitcheck import __version__
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.keys.key import Form, Key
from circuitcheck.circuit.model import Circuit
from circuitcheck.paper import Known
from circuitcheck.paper.form_page import Field, FormPage, FormPart, FormSection, form_page_text
from circuitcheck.paper.writing import write_whole
from circuitcheck.safety import ONE_LINE, SHORT
from circuitcheck.sheets.survey import BANNER, PANEL, PEOPLE, READINGS, START, TITLES
from circuitcheck.sheets.survey_parts import PARTS, PartsTable, key_cell
from circuitcheck.tables.rulebook import vocabulary

TOOL = f"circuitcheck {__version__}"

#: What a circuit file cannot do without, before the other entries of a blank form.
NEEDED = (("job", "title"), ("job", "rulebook"), ("supply", "voltage"))

#: Entries of a part that say where it is, before those that the paper asks for.
PLACES = {"cable": ("origin", "from", "to"), "box": ("origin", "room"), "load": ("origin",), "control": ("origin",)}

#: Parts that the form has room for besides those of the file: on a blank form, and on another.
BLANK_PARTS, MORE_PARTS = {"load": 12, "cable": 8, "box": 8, "control": 4, "driver": 1}, 2

NONE_SEEN = "none of these"

#: Ways to know an entry, as the form's lists have them.
_HOW = {Known.MEASURED: "measured", Known.LABEL: "label", Known.GUESS: "guess"}

#: Examples of how a value is written, by the dimension it has in the file.
_EXAMPLES = {
    "ft": "26 ft",
    "W": "60 W",
    "VA": "75 VA",
    "A": "9.2 A",
    "V": "120 V",
    "in^3": "15.5 in^3",
    "degC": "125 degF",
}


def survey_form(
    circuit: Circuit | None, allowed: Mapping[str, tuple[str, ...]], *, tool: str, file: str = "", digest: str = ""
) -> FormPage:
    """The form. ``allowed``: words that the tables allow; ``file`` and ``digest``: of the circuit file, if any."""
    singles = (
        ("Job", NEEDED + PEOPLE if circuit is None else PEOPLE),
        ("The breaker and the panel, cover on", PANEL),
        ("Meter readings", READINGS),
    )
    sections = [_single(title, keys, circuit, allowed) for title, keys in singles]
    sections.insert(1, _signs(circuit))
    sections += [_parts(parts, circuit, allowed) for parts in PARTS]
    return FormPage(
        title=f"Survey: {circuit.job.title}" if circuit is not None else "Survey of a lighting circuit",
        banner=BANNER,
        intro=(
            START,
            "What you type stays in this page and goes nowhere. Leave blank what nobody knows. Save the answers as a "
            "file, and let circuitcheck survey --fill make the circuit file of it.",
            ONE_LINE,
        ),
        closing=SHORT[1:],
        sections=tuple(sections),
        foot=tool,
        file=file,
        digest=digest,
    )


def write_form(circuit: Circuit | None, data: bytes, output: Path, *, replace: bool) -> None:
    """Write the form to ``output``. ``data``: the circuit file's bytes, if there is a file. Raises: CommandError."""
    file = PurePath(circuit.file).name if circuit is not None else ""
    digest = hashlib.sha256(data).hexdigest() if circuit is not None else ""
    page = survey_form(circuit, vocabulary(), tool=TOOL, file=file, digest=digest)
    write_whole(output, form_page_text(page).encode("utf-8"), replace=replace)


def _single(
    title: str, keys: Sequence[tuple[str, str]], circuit: Circuit | None, allowed: Mapping[str, tuple[str, ...]]
) -> FormSection:
    """Entries of the sections that stand once, one part for each section."""
    by_section: dict[str, list[Field]] = {}
    for section, name in keys:
        key = SECTIONS[section].keys[name]
        part = getattr(circuit, SECTIONS[section].attribute) if circuit is not None else None
        by_section.setdefault(section, []).append(_field(section, key, part, allowed))
    parts = tuple(
        FormPart(section, "", tuple(fields), SECTIONS[section].title) for section, fields in by_section.items()
    )
    return FormSection(title, False, parts)


def _signs(circuit: Circuit | None) -> FormSection:
    """The danger signs, to be ticked; once they were looked for, only what was seen."""
    seen = circuit.site.signs if circuit is not None else None
    title = "Danger signs: leave everything alone and call a licensed electrician"
    if seen is not None:
        return FormSection(title, False, (), f"Looked for: {', '.join(seen) or 'none'} seen.")
    key = SECTIONS["site"].keys["signs"]
    field = Field(key.name, key.title, (*key.words, NONE_SEEN), many=True)
    return FormSection(title, False, (FormPart("site", "", (field,), "Tick what you saw"),))


def _parts(parts: PartsTable, circuit: Circuit | None, allowed: Mapping[str, tuple[str, ...]]) -> FormSection:
    section = SECTIONS[parts.section]
    names = dict.fromkeys((*PLACES.get(parts.section, ()), *(name for asked in parts.asked for name in asked.keys)))
    found = getattr(circuit, section.attribute) if circuit is not None else ()
    more = MORE_PARTS if circuit is not None else BLANK_PARTS.get(parts.section, 1)

    def fields(part: Any) -> tuple[Field, ...]:
        return tuple(_field(parts.section, section.keys[name], part, allowed) for name in names)

    filled = tuple(FormPart(parts.section, part.id, fields(part)) for part in found)
    return FormSection(parts.title, True, (*filled, *(FormPart(parts.section, "", fields(None)),) * more))


def _field(section: str, key: Key, part: Any, allowed: Mapping[str, tuple[str, ...]]) -> Field:
    value, how = _value(key, part)
    words = key.words or allowed.get(f"{section}.{key.name}" if key.vocabulary != "size" else "size", ())
    choices = ("yes", "no") if key.form is Form.YES_NO else words if key.form in (Form.WORD, Form.SIZE) else ()
    unit = key.kind.unit if key.kind is not None else ""
    hint = f"such as {_EXAMPLES.get(unit, f'1 {unit}')}" if unit else "year-month-day" if key.form is Form.DATE else ""
    title = TITLES.get((section, key.name), key.title)
    asks_how = section not in ("job", "site") and key.form in (Form.PHYSICAL, Form.WORD, Form.SIZE, Form.YES_NO)
    if value and choices and value not in choices:
        choices = (value, *choices)
    return Field(key.name, title, choices, hint=hint, value=value, asks_how=asks_how, how=how)


def _value(key: Key, part: Any) -> tuple[str, str]:
    """What the file says under a key, and how it is known; both empty where it does not."""
    held = getattr(part, key.attribute, None) if part is not None else None
    if held is None:
        return "", ""
    cell = key_cell(part, key)
    text = getattr(held, "text", "") if key.form is Form.PHYSICAL else cell.text
    for word in ("measured ", "label ", "about "):
        text = text.removeprefix(word)
    return text, _HOW.get(cell.known, "")
