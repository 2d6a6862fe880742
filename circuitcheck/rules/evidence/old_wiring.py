"""Old wiring: cable kinds whose age or material asks for an electrician before anything is added.

What it asks: the type, sheath and metal of the existing cables, with the year of wiring as evidence only. Of new cable
it asks only whether it is aluminum.

Why: knob and tube wiring, ungrounded cable and small aluminum conductors of about 1965 to 1973 fail at splices and
terminals. Adding a splice is just what disturbs them. NM-B came years after the old aluminum cable, so in the small
sizes its print settles that it is copper. Armored cable has no print outside: in a house that was wired before its kind
was made it is most likely an older one, whose armor is no ground.

What to do: where the finding says stop, call a licensed electrician and add nothing. Otherwise find out what the
cable is before a box is touched.

Cannot see: hidden runs of another kind. A house of the right years may have been rewired, and an old house may hide
one old run. Where the year speaks for copper, or for a plastic sheath, and nobody looked, it says so and asks for the
look.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from circuitcheck.case import EvidenceRule
from circuitcheck.circuit.added_work import guessed_origins, has_added_work, has_certain_work
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.domain.armor_of_its_years import older_armor
from circuitcheck.domain.conductor_ampacity import has_aluminum
from circuitcheck.findings import Finding, Outcome, Source, merge_sources
from circuitcheck.quantities import How
from circuitcheck.tables.rulebook import Row, Rulebook, Value

READ = (
    "Read the printing on the sheath where it enters a box (breaker off, tested dead); AL or ALUM means aluminum, and "
    "a bare end of copper is reddish."
)
ARMOR = (
    "Breaker off and tested dead: look where the armor ends in a box. A thin bare strip in it is the bonding strip; "
    "ACTHH or ACHH on its wires means 90 °C (194 °F). Then note the type as read from the label."
)
READ_BY = (How.LABEL, How.MEASURED)
OLDER = (
    "Breaker off and tested dead: check whether the insulation bends without cracking and a full-size ground is there; "
    "a new light whose label requires hotter-rated wire needs its own new cable."
)
CALL = "Add nothing here yet: a licensed electrician looks at the existing wiring first."
LEAVE = (
    "Leave the old cable alone: do not move it, bend it or splice anything to it.",
    CALL,
)
#: How many parts are named of which it is only a guess whether they are there.
_MOST_ASKED = 6
OLD_SHEATHS = ("cloth", "rubber")
ALUMINUM = ("aluminum", "copper-clad aluminum")


class _Years(NamedTuple):
    """What the year of the wiring tells: whether it may be of the aluminum years, and of the years of cloth sheaths."""

    wired: int | None
    aluminum: bool
    cloth: bool


class _Kinds(NamedTuple):
    """Kinds of cable: those to stop for, older ones that may be sound, and those made with one sheath only."""

    stops: tuple[str, ...]
    older: Value
    with_one_sheath: tuple[str, ...]

    def of_either_sheath(self, kind: str | None) -> bool:
        """Whether the kind does not tell the sheath: NM and cords were made with woven cloth, rubber and plastic."""
        return kind is None or not (kind in self.with_one_sheath or kind.endswith("in raceway"))


class _Known(NamedTuple):
    """What is known of old wiring at this place: the kinds of cable, what the year tells, and where that is from."""

    kinds: _Kinds
    years: _Years
    sources: tuple[Source, ...]


def _kinds(book: Rulebook) -> _Kinds:
    with_one = (*book.value("sheath-plastic-types").items, *book.value("sheath-armor-types").items)
    return _Kinds(book.value("wiring-types-to-stop").items, book.value("older-cable-types"), with_one)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each existing branch cable, and for each new one of aluminum; none without added work."""
    guessed_work = () if has_certain_work(circuit) else guessed_origins(circuit)
    if not has_added_work(circuit) and not guessed_work:
        return
    stops = book.value("wiring-types-to-stop")
    since, until = book.value("aluminum-branch-years-from"), book.value("aluminum-branch-years-to")
    cloth_until = book.value("cloth-sheath-until")
    wired = circuit.site.wired
    if circuit.site.known_by.get("wired") == How.GUESS:
        wired = None
    years = _Years(
        wired,
        aluminum=wired is None or since.number <= wired <= until.number,
        cloth=wired is None or wired <= cloth_until.number,
    )
    known = _Known(_kinds(book), years, (stops.source, since.source, until.source))
    for cable in circuit.tree.branch_cables:
        origin_is_guessed = cable.known_by.get("origin") == How.GUESS
        if cable.is_added and not origin_is_guessed:
            if cable.material in ALUMINUM:
                yield _new_aluminum(cable, known)
            continue
        looked_at = _without_guesses(cable)
        found = _answer(looked_at, known, possible=_may_be_aluminum(cable, looked_at, book))
        armor = None if cable.known_by.get("type") in READ_BY else older_armor(looked_at.type, years.wired, book)
        if armor is not None and found.outcome in (Outcome.PASS, Outcome.CAUTION):
            found = _of_older_armor(looked_at, found, years, armor)
        own = (str(cable.entry("origin")),) if origin_is_guessed else ()
        doubts = tuple(dict.fromkeys((*own, *guessed_work)))
        if not doubts:
            yield found
        elif found.outcome is not Outcome.PASS:
            yield _perhaps_added(cable, found, doubts[:_MOST_ASKED])


def _new_aluminum(cable: Cable, known: _Known) -> Finding:
    """New aluminum is allowed, and is spliced to what is there: its joints are what fails, as those of the old."""
    key = str(cable.entry("material"))
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.CAUTION,
        says=f'New cable "{cable.id}" is {cable.material}: whatever it is joined to must be listed for that metal.',
        sources=known.sources,
        keys=(key,),
        to_do=("Choose copper cable, or have a licensed electrician make the splices and choose the devices.",),
    )


def _of_older_armor(cable: Cable, found: Finding, years: _Years, armor: Row) -> Finding:
    """Armored cable of a kind that came, or may have come, after the house was wired; nobody read what it is."""
    no_ground = not armor.yes("grounded_armor")
    key = str(cable.entry("type"))
    why = "has no bonding strip, so that its armor is no ground" if no_ground else "has wires that stand less heat"
    says = f'Cable "{cable.id}" is given as {cable.type}, but armored cable of {years.wired} was {armor.key[0]}, '
    needs: tuple[str, ...] = (key,)
    if years.wired is None:
        says = f'Cable "{cable.id}" is given as {cable.type}, but in an old house it may be {armor.key[0]}, '
        needs = ("site.wired", key)
    return replace(
        found,
        outcome=Outcome.UNDETERMINED if no_ground else Outcome.CAUTION,
        says=f"{says}which {why}. Look which it is{', or find out when it was put in' if years.wired is None else ''}.",
        sources=merge_sources(found.sources, (armor.source,)),
        needs=needs,
        keys=needs,
        to_do=(ARMOR,),
    )


def _without_guesses(cable: Cable) -> Cable:
    """The cable with what is only guessed of it left out: a guess settles nothing."""

    def read(key: str, value: str | None) -> str | None:
        return None if cable.known_by.get(key) == How.GUESS else value

    return replace(
        cable,
        type=read("type", cable.type),
        sheath=read("sheath", cable.sheath),
        material=read("material", cable.material),
        size=read("size", cable.size),
    )


def _may_be_aluminum(cable: Cable, looked_at: Cable, book: Rulebook) -> bool:
    """Whether aluminum is made in its size, and no print tells of copper.

    NM-B came years after the old aluminum cable; in the sizes that the book lists its print tells of copper, unless
    somebody guesses at the metal.
    """
    if cable.material is not None and looked_at.material is None:
        return True
    if looked_at.size is not None and not has_aluminum(book, looked_at.size):
        return False
    return looked_at.type != "NM-B" or looked_at.size not in book.value("solid-copper-sizes-nm-b").items


def _perhaps_added(cable: Cable, found: Finding, doubts: tuple[str, ...]) -> Finding:
    """Where somebody only guesses what is there and what is new, that comes first."""
    if found.outcome is Outcome.CAUTION:
        return found
    says = f'Cannot tell yet whether cable "{cable.id}" is an old kind to leave alone: what kind is it?'
    needs = (*doubts, *found.needs)
    return replace(found, outcome=Outcome.UNDETERMINED, says=says, needs=needs, keys=needs, stop=False)


def _answer(cable: Cable, known: _Known, *, possible: bool) -> Finding:
    """``possible``: it may be aluminum, by its size and its print."""
    kinds, years, sources = known
    type_key, material_key, sheath_key = (str(cable.entry(key)) for key in ("type", "material", "sheath"))
    found = Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=Outcome.FAIL,
        says="",
        working=(
            f"type: {cable.type or 'unknown'}; sheath: {cable.sheath or 'unknown'}",
            f"material: {cable.material or 'unknown'}",
            f"house wired: {years.wired if years.wired is not None else 'unknown'} (evidence only)",
        ),
        sources=sources,
        keys=(type_key, material_key),
    )
    if cable.type in kinds.stops:
        says = f'Cable "{cable.id}" is {cable.type}: stop. A licensed electrician looks before anything is added.'
        return replace(found, says=says, keys=(type_key,), to_do=LEAVE, stop=True)
    if cable.sheath in OLD_SHEATHS:
        says = f'Cable "{cable.id}" has a {cable.sheath} sheath: stop, and leave it alone. Its insulation may crumble.'
        return replace(found, says=says, keys=(sheath_key,), to_do=LEAVE, stop=True)
    if cable.material in ALUMINUM:
        says = f'Cable "{cable.id}" is {cable.material}: stop. Its splices need methods and training of their own.'
        to_do = (CALL, "Do not try to splice it yourself.")
        return replace(found, says=says, keys=(material_key,), to_do=to_do, stop=True)
    unknown_metal = cable.material is None and possible
    guessed_sheath = cable.known_by.get("sheath") == How.GUESS
    unknown_sheath = cable.sheath is None and kinds.of_either_sheath(cable.type)
    open_keys = (
        (type_key, cable.type is None),
        (sheath_key, guessed_sheath or unknown_sheath),
        (material_key, unknown_metal),
    )
    needs = tuple(key for key, unknown in open_keys if unknown)
    if needs:
        says = f'Cannot tell yet whether cable "{cable.id}" is an old kind that should be left alone.'
        if needs == (material_key,) and not years.aluminum:
            says += " By its year it is most likely copper: look at a bare end."
        elif needs == (sheath_key,) and not years.cloth:
            says += " By its year its sheath is most likely plastic: look at it."
        return replace(found, outcome=Outcome.UNDETERMINED, says=says, needs=needs, keys=needs, to_do=(READ,))
    if cable.type in kinds.older.items:
        says = (
            f'Cable "{cable.id}" is {cable.type}, an older kind: splice new cable to it, in a box, only if it is sound.'
        )
        return replace(
            found,
            outcome=Outcome.CAUTION,
            says=says,
            sources=(*sources, kinds.older.source),
            keys=(type_key,),
            to_do=(OLDER,),
        )
    return replace(found, outcome=Outcome.PASS, says=f'Cable "{cable.id}" is {cable.type}, not a kind to stop for.')


RULE = EvidenceRule(
    name="old-wiring",
    title="Old wiring that calls for an electrician",
    rank=220,
    check=check,
)
