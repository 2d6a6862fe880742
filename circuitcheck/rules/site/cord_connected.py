"""Cord-connected lights: flexible cord is not fixed wiring, and a cut plug changes what the light is listed for.

What it asks: whether an added light keeps its cord and has a receptacle to plug into; whether a light to be wired in
was made to plug in; and whether cord is used as a cable of the branch circuit.

Why: a light listed with a plug is tested with it. Wiring it in departs from the listing, unless the maker's
instructions tell how. Cord through or inside a wall wears and overheats unseen.

What to do: use a light made for hardwiring, or plug the light into a receptacle that is near. Run a cable of a fixed
wiring method in the wall.

Cannot see: what the maker's instructions say, and how far the cord has to reach. A conversion kit that the maker
supplies is the inspector's question.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitcheck.case import EACH, LESS, MORE, Answer, Case, CaseRule, Family, Said, said, words_apart
from circuitcheck.case.parts import Box, Cable, Load, Part
from circuitcheck.domain.cable_kinds import is_for_branch_circuits, kind_of_cable
from circuitcheck.domain.luminaires import CORD, is_added_light
from circuitcheck.findings import Outcome, Source
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

RECEPTACLE = "receptacle"
#: What follows of a box that lists no device although something speaks for one (``possible.inferences.devices``).
_NOT_LISTED = "a device that is not listed"
_LIGHT_TO_DO = ("Choose a light made for hardwiring, or leave the plug on and use a nearby receptacle.",)
_OPEN_TO_DO = ("Read the carton and the instructions: a light made for hardwiring has wire leads and no plug.",)
_CABLE_TO_DO = ("Run a cable of a current fixed wiring method that suits the place.",)


def _subjects(case: Case) -> Iterator[Load | Cable]:
    yield from case.loads
    yield from case.tree.branch_cables


def answer(part: Load | Cable, case: Case, book: Rulebook) -> Answer | None:
    """What to say about one added light, or about one added cable of the branch circuit."""
    if isinstance(part, Cable):
        return _of_cable(part, book)
    return _of_light(part, case, book) if is_added_light(part) else None


def _of_light(load: Load, case: Case, book: Rulebook) -> Answer:
    listing, cord = book.value("used-as-listed").source, book.value("cord-not-fixed-wiring").source
    plugs_in = load.connection == CORD
    decides = Ref("box", load.box, "devices") if plugs_in else load.entry("converted")
    outcome = Outcome.FAIL
    sources: tuple[Source, ...] = (listing, cord)
    if plugs_in:
        if _has_receptacle(case, case.tree.box[load.box]):
            outcome, sources = Outcome.CAUTION, (cord,)
            says = _says(load, "keeps its cord. It plugs into a receptacle; the cord may not run through or in a wall.")
        else:
            says = _says(load, 'has a plug, and box "{box}" has no receptacle. Its cord would become fixed wiring.')
    elif not load.converted:
        outcome, sources = Outcome.PASS, (listing,)
        says = _says(load, "is made for hardwiring.")
    elif load.hardwire_in_instructions:
        outcome, sources = Outcome.PASS, (listing,)
        says = _says(load, "comes with a plug, and its instructions tell how to wire it in without it.")
    else:
        says = _says(load, "was made to plug in. With its plug cut off, it is no longer what it was listed as.")
    asked = "has a receptacle to plug into" if plugs_in else "is made for hardwiring"
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether the light "{light}" ' + asked + ".", light=load.id),
        sources=sources,
        keys=(load.entry("connection"), decides),
        to_do={Outcome.FAIL: _LIGHT_TO_DO, Outcome.CAUTION: _LIGHT_TO_DO, Outcome.UNDETERMINED: _OPEN_TO_DO},
        ask=("Do the maker's instructions for this light allow wiring it in?",)
        if outcome is Outcome.FAIL and not plugs_in
        else (),
    )


def _says(load: Load, words: str) -> Said:
    return said('The light "{light}" ' + words, light=load.id, box=load.box)


def _has_receptacle(case: Case, box: Box) -> bool:
    listed = any(device.kind in (RECEPTACLE, _NOT_LISTED) for device in box.devices or ())
    return listed or any(load.kind == RECEPTACLE for load in case.tree.loads_at.get(box.id, ()))


def _of_cable(cable: Cable, book: Rulebook) -> Answer | None:
    if not cable.is_added or is_for_branch_circuits(book, cable.type):
        return None
    return Answer(
        part=cable,
        outcome=Outcome.FAIL,
        says=said('Cable "{cable}" is {type}, which is not used for new wiring.', cable=cable.id, type=cable.type),
        open_says=said('Cannot tell yet whether cable "{cable}" is of a kind used for new wiring.', cable=cable.id),
        sources=(book.value("cord-not-fixed-wiring").source, kind_of_cable(book, cable.type).source),
        keys=(cable.entry("type"),),
        to_do={Outcome.FAIL: _CABLE_TO_DO, Outcome.UNDETERMINED: _CABLE_TO_DO},
    )


def _not_for_new_wiring(value: Any, part: Part, case: Case) -> Any:
    """A type that is not used for new wiring is worse."""
    return not is_for_branch_circuits(case.book, value)


RULE = CaseRule["Load | Cable"](
    name="cord-connected",
    title="Cord-connected lights and cord used as wiring",
    family=Family.SITE,
    rank=370,
    subjects=_subjects,
    answer=answer,
    worse={
        "load.kind": EACH,
        "load.connection": EACH,
        "load.converted": MORE,
        "load.hardwire_in_instructions": LESS,
        "box.devices": EACH,
        "cable.type": _not_for_new_wiring,
    },
    alike={"load.kind": words_apart("light", "receptacle")},
)
