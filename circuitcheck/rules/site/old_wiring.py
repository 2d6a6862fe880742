"""Old wiring: cable kinds whose age or material asks for an electrician before anything is added.

What it asks: the type, material and ground of the existing cables, with the year of wiring as evidence only.

Why: knob and tube wiring, ungrounded cable and small aluminum conductors of about 1965 to 1973 fail at splices and
terminals. Adding a splice is just what disturbs them. NM-B came years after the old aluminum cable, so in the small
sizes its print settles that it is copper.

What to do: where the finding says stop, call a licensed electrician and add nothing. Otherwise find out what the
cable is before a box is touched.

Cannot see: hidden runs of another kind. A house of the right years may have been rewired, and an old house may hide
one old run.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.domain.conductor_ampacity import has_aluminum
from circuitcheck.findings import Finding, Outcome, Source
from circuitcheck.quantities import How
from circuitcheck.rules.parts import has_added_work, is_added
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook, Value

READ = (
    "Read the printing on the sheath where it enters a box (breaker off, tested dead); AL or ALUM means aluminum, and "
    "a bare end of copper is reddish."
)
OLDER = (
    "Breaker off and tested dead: look whether the insulation bends without cracking and a full-size ground is there; "
    "a new light with a hot label wants its own new cable."
)
CALL = "Add nothing here yet: a licensed electrician looks at the existing wiring first."
OLD_SHEATHS = ("cloth", "rubber")
ALUMINUM = ("aluminum", "copper-clad aluminum")


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each existing branch cable; none without added work."""
    if not has_added_work(circuit):
        return
    stops = book.value("wiring-types-to-stop")
    since, until = book.value("aluminum-branch-years-from"), book.value("aluminum-branch-years-to")
    older = book.value("older-cable-types")
    sources = (stops.source, since.source, until.source)
    year = circuit.site.wired
    evidence = f"wired: {year if year is not None else 'unknown'} (evidence only)"
    aluminum_years = year is None or since.number <= year <= until.number
    for cable in circuit.tree.branch_cables:
        if not is_added(cable):
            possible = (cable.size is None or has_aluminum(book, cable.size)) and not _is_printed_copper(cable, book)
            yield _answer(cable, stops.items, older, possible, aluminum_years, evidence, sources)


def _is_printed_copper(cable: Cable, book: Rulebook) -> bool:
    """NM-B came years after the old aluminum cable; in the sizes that the book lists its print tells of copper."""
    printed = cable.type == "NM-B" and cable.known_by.get("type") != How.GUESS
    return printed and cable.size in book.value("solid-copper-sizes-nm-b").items


def _answer(
    cable: Cable,
    stops: tuple[str, ...],
    older: Value,
    possible: bool,
    aluminum_years: bool,
    evidence: str,
    sources: tuple[Source, ...],
) -> Finding:
    """``possible``: aluminum is made in its size; ``aluminum_years``: the wiring may be of those years."""
    type_key, material_key = f"cable.{cable.id}.type", f"cable.{cable.id}.material"
    found = Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.FAIL,
        says="",
        working=(
            f"type: {cable.type or 'unknown'}; sheath: {cable.sheath or 'unknown'}",
            f"material: {cable.material or 'unknown'}",
            evidence,
        ),
        sources=sources,
        keys=(type_key, material_key),
    )
    if cable.type in stops:
        says = f'Cable "{cable.id}" is {cable.type}: stop. A licensed electrician looks before anything is added.'
        return replace(found, says=says, keys=(type_key,), to_do=(CALL,), stop=True)
    if cable.sheath in OLD_SHEATHS:
        says = f'Cable "{cable.id}" has a {cable.sheath} sheath: stop, and leave it alone. Its insulation may crumble.'
        return replace(found, says=says, keys=(f"cable.{cable.id}.sheath",), to_do=(CALL,), stop=True)
    if cable.material in ALUMINUM:
        says = f'Cable "{cable.id}" is {cable.material}: stop. Its splices need methods and training of their own.'
        to_do = (CALL, "Do not try to splice it yourself.")
        return replace(found, says=says, keys=(material_key,), to_do=to_do, stop=True)
    unknown_metal = cable.material is None and possible
    if cable.type is None or (unknown_metal and aluminum_years):
        open_keys = (
            (type_key, cable.type is None),
            (material_key, unknown_metal and aluminum_years),
        )
        needs = tuple(key for key, unknown in open_keys if unknown)
        says = f'Cannot tell yet whether cable "{cable.id}" is an old kind that should be left alone.'
        return replace(found, outcome=Outcome.UNDETERMINED, says=says, needs=needs, keys=needs, to_do=(READ,))
    if unknown_metal:
        says = f'Cable "{cable.id}" is most likely copper, by its year: look at a bare end before joining to it.'
        return replace(found, outcome=Outcome.CAUTION, says=says, keys=(material_key,), to_do=(READ,))
    if cable.type in older.items:
        says = f'Cable "{cable.id}" is {cable.type}, an older kind: join new cable to it in a box only if it is sound.'
        return replace(
            found,
            outcome=Outcome.CAUTION,
            says=says,
            sources=(*sources, older.source),
            keys=(type_key,),
            to_do=(OLDER,),
        )
    return replace(found, outcome=Outcome.PASS, says=f'Cable "{cable.id}" is {cable.type}, not a kind to stop for.')


RULE = Rule(
    name="old-wiring",
    title="Old kinds of wiring that ask for an electrician",
    family="site",
    uses=(
        "ampacity",
        "value:wiring-types-to-stop",
        "value:aluminum-branch-years-from",
        "value:aluminum-branch-years-to",
        "value:older-cable-types",
        "value:solid-copper-sizes-nm-b",
    ),
    check=check,
)
