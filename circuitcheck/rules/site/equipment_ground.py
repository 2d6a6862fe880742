"""Equipment ground: whether one reaches everything that the work adds.

What it asks: whether an equipment ground arrives in the box that feeds the new work or that it hangs on, and runs in
every added cable, and what each added luminaire, fan and heater expects. Receptacles, drivers and switches count like
lights.

Why: exposed metal of a luminaire becomes live when a wire comes loose inside. Ground-fault protection lets an old
ungrounded receptacle be replaced; it does not stand in for the ground of new work.

What to do: bring an equipment ground from a point that the book allows, or feed the lights from a grounded box. Ask
the electrician which points count.

A light that only takes the place of another on an old box without a ground has ways of its own: no metal that can be
touched, or ground-fault protection. So have a switch in the place of another, with a plate and screws of plastic, and
a receptacle, with ground-fault protection and a mark.

Cannot see: whether a bare wire that is there is joined to anything upstream, how a ground that the file says arrives
in an old box got there, and whether old metal armor or conduit serves as the ground.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Answer,
    Case,
    CaseRule,
    Family,
    Said,
    Things,
    in_order,
    once,
    order,
    said,
)
from circuitcheck.case.parts import Cable, Control, Driver, Load, Part
from circuitcheck.circuit.model import PANEL
from circuitcheck.domain.cable_kinds import has_grounded_armor
from circuitcheck.findings import Outcome, Source
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

#: Steps and breaks that a way keeps, those nearest the end, so that a chain of thousands stays linear.
_MOST = 24
DOUBLE_INSULATED, NONE, RECEPTACLE = "double-insulated", "none", "receptacle"
#: Fastened in place, and mostly of metal: it has a means of grounding of its own, or is double-insulated.
LIGHT, EQUIPMENT = "light", ("fan", "heater")
PROTECTED = ("ground-fault", "both")
_PROTECTION = Ref("supply", "", "protection")
_LOOK = (
    "Breaker off and tested dead: look for a bare or green wire in the box that feeds the new work, and have a "
    "licensed electrician confirm that it is joined back to the panel.",
)
_NO_MEANS = '"{part}" has no terminal or lead for an equipment ground and is not marked double-insulated.'
_FROM_WHERE = ("From which point may an equipment ground be brought to this extension?",)


class Way(NamedTuple):
    """How the ground fares from the panel to one box: what breaks it, and the steps.

    ``doubted``: the box in which a ground is said to arrive although the cable that feeds it has none.
    """

    missing: tuple[Ref, ...] = ()
    steps: tuple[Said, ...] = ()
    doubted: str = ""


def _has_ground(cable: Cable, book: Rulebook) -> bool:
    """Whether a ground runs in a cable, as a wire or as armor that counts as one."""
    return has_grounded_armor(book, cable.type) or cable.ground


@once
def way_to(case: Case, node: str) -> Way:
    """The way to one box, from the way to the box before it."""
    tree = case.tree
    cable = tree.feed[node]
    before = way_to(case, cable.from_id) if cable.from_id != PANEL else Way()
    missing, steps, doubted = list(before.missing), list(before.steps), before.doubted
    end = tree.box[node]
    has_ground = _has_ground(cable, case.book)
    if not has_ground:
        missing.append(cable.entry("ground"))
    steps.append(
        said('cable "{cable}": equipment ground {state}', cable=cable.id, state="present" if has_ground else "missing")
    )
    if end.ground is False and not cable.is_added:
        # What somebody saw in the box goes before the print of the cable that was there: the ground may have been cut
        # off. A cable that is still to be laid brings what it has.
        missing.append(end.entry("ground"))
        steps.append(said('box "{box}": no equipment ground arrives', box=end.id))
    if not end.is_added and end.ground:
        doubted = doubted if has_ground else end.id
        missing = []
        steps.append(said('box "{box}": an equipment ground arrives, as given', box=end.id))
    return Way(tuple(missing[-_MOST:]), tuple(steps[-_MOST:]), doubted)


def subjects(case: Case) -> Iterator[Load | Driver | Control]:
    """Everything that is connected in a box."""
    yield from case.loads
    yield from case.drivers
    yield from case.controls


def answer(part: Load | Driver | Control, case: Case, book: Rulebook) -> Answer | None:
    """Whether an equipment ground reaches what the work adds."""
    if not part.is_added or (isinstance(part, Load) and _plugs_in(part)):
        return None
    in_order(case, way_to, lambda: (node for node in case.tree.order if node != PANEL))
    way = way_to(case, part.box) if part.box in case.tree.feed else Way()
    if isinstance(part, Control):
        return _of_switch(part, way, case, book)
    replaced = way.missing and part.ref in case.replaced and not case.tree.feed[part.box].is_added
    if replaced and isinstance(part, Load) and part.kind == RECEPTACLE:
        return _of_replaced_receptacle(part, way, case, book)
    things: Things = {"part": part.id, "doubted": way.doubted}
    outcome, says = _judged(part, way, things)
    in_its_place, is_light = False, isinstance(part, Load) and part.kind == LIGHT
    if isinstance(part, Load) and part.kind == LIGHT and part.replaces and (way.missing or way.doubted):
        instead = _in_its_place(part, case, things)
        in_its_place = bool(way.missing) or instead[0] is Outcome.PASS  # what needs no ground minds no doubt about it
        outcome, says = instead if in_its_place else (outcome, says)
    grounding = (part.entry("grounding"),) if _has_means(part) else ()
    return Answer(
        part=part,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether an equipment ground reaches "{part}".', **things),
        to_come=said(
            "Choose " + ("a light" if is_light else "one") + ' for "{part}" with a ground lead, or one marked '
            "double-insulated.",
            **things,
        ),
        working=lambda: way.steps,
        sources=_sources(part, book, in_its_place),
        keys=(*way.missing, *grounding, *((_PROTECTION,) if in_its_place else ())),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _LOOK),
        ask=_FROM_WHERE if way.missing or way.doubted else (),
        cause="no equipment ground" if way.missing and outcome is Outcome.FAIL else "",
    )


def _of_switch(control: Control, way: Way, case: Case, book: Rulebook) -> Answer:
    """A switch on new cable needs a ground; on old cable one may be missing where it takes the place of another.

    Source: NFPA 70, 404.9(B) with its exception.
    """
    things: Things = {"part": control.id, "doubted": way.doubted}
    outcome, says = _judged(control, way, things)
    if way.missing and not case.tree.feed[control.box].is_added:
        outcome = Outcome.CAUTION
        says = said(
            'No equipment ground reaches switch "{part}". Only in the place of another switch may it do without, '
            "behind a plate and screws of plastic.",
            **things,
        )
    return Answer(
        part=control,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether an equipment ground reaches "{part}".', **things),
        working=lambda: way.steps,
        sources=(book.value("switch-equipment-ground").source,),
        keys=way.missing,
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _LOOK),
        ask=_FROM_WHERE if way.missing or way.doubted else (),
        cause="no equipment ground" if outcome is Outcome.FAIL else "",
    )


def _of_replaced_receptacle(load: Load, way: Way, case: Case, book: Rulebook) -> Answer:
    """A receptacle in the place of another, on old cable that brings no ground.

    Source: NFPA 70, 406.4(D)(2).
    """
    things: Things = {"part": load.id}
    if case.supply.protection in PROTECTED or load.ground_fault:
        outcome = Outcome.PASS
        says = said(
            '"{part}" takes the place of another receptacle where no ground is, and has ground-fault protection: mark '
            "it No Equipment Ground.",
            **things,
        )
    else:
        outcome = Outcome.FAIL
        says = said(
            'No equipment ground reaches "{part}". In the place of an old receptacle take one with ground-fault '
            "protection, marked No Equipment Ground, or one without a ground contact.",
            **things,
        )
    return Answer(
        part=load,
        outcome=outcome,
        says=says,
        open_says=said('Cannot tell yet whether "{part}" may do without an equipment ground.', **things),
        to_come=said(
            'No ground is where "{part}" is replaced: buy one with ground-fault protection, and mark it No Equipment '
            "Ground.",
            **things,
        ),
        working=lambda: way.steps,
        sources=(book.value("receptacle-in-place-of-another").source,),
        keys=(*way.missing, load.entry("ground_fault"), _PROTECTION),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _LOOK),
        cause="no equipment ground" if outcome is Outcome.FAIL else "",
    )


def _plugs_in(load: Load) -> bool:
    """A receptacle is new wiring, whatever is plugged into it."""
    return load.kind != RECEPTACLE and load.connection == "cord"


def _has_means(part: Load | Driver | Control) -> bool:
    """Whether the file's word on its own ground decides: of a light, and of equipment that is fastened in place."""
    return isinstance(part, Load) and part.kind in (LIGHT, *EQUIPMENT)


def _sources(part: Load | Driver, book: Rulebook, in_its_place: bool) -> tuple[Source, ...]:
    """A fan or heater goes by the clause on fixed equipment, everything else is told with the luminaires."""
    fixed = isinstance(part, Load) and part.kind in EQUIPMENT
    own = book.value("fixed-equipment-equipment-ground" if fixed else "luminaire-equipment-ground").source
    return (own,) if in_its_place else (own, book.value("ground-for-extension").source)


def _in_its_place(part: Load | Driver, case: Case, things: Things) -> tuple[Outcome, Said]:
    """A light that takes the place of another where no equipment ground is at the old box."""
    if isinstance(part, Load) and (part.grounding == DOUBLE_INSULATED or not part.metal_parts):
        says = said(
            '"{part}" takes the place of another light where no ground is. It has no metal that can be touched, so it '
            "needs none.",
            **things,
        )
        return Outcome.PASS, says
    if isinstance(part, Load) and part.grounding == NONE:
        return Outcome.FAIL, said(_NO_MEANS, **things)  # the means is asked of the light, whatever the outlet has
    if case.supply.protection in PROTECTED:
        says = said(
            '"{part}" takes the place of another light where no ground is. The circuit has ground-fault protection, '
            "so it needs none.",
            **things,
        )
        return Outcome.PASS, says
    says = said(
        'No equipment ground reaches "{part}". In the place of an old light take one that is double-insulated or has '
        "no metal that can be touched, or have ground-fault protection put in.",
        **things,
    )
    return Outcome.FAIL, says


def _judged(part: Load | Driver | Control, way: Way, things: Things) -> tuple[Outcome, Said]:
    grounding = part.grounding if isinstance(part, Load) and _has_means(part) else ""
    if way.missing:
        return Outcome.FAIL, said(
            'No equipment ground reaches "{part}"; new work needs one. Ground-fault protection does not replace it.',
            **things,
        )
    if grounding == DOUBLE_INSULATED:
        return Outcome.PASS, said('"{part}" is double-insulated; its cable and box still carry a ground.', **things)
    if grounding == NONE:
        if isinstance(part, Load) and part.metal_parts:
            return Outcome.FAIL, said(_NO_MEANS, **things)
        return Outcome.PASS, said('"{part}" has no metal that can be touched; its box still gets a ground.', **things)
    if way.doubted:
        return Outcome.CAUTION, said(
            'A ground is said to arrive in box "{doubted}" though its cable has none: find out from where.', **things
        )
    return Outcome.PASS, said('An equipment ground runs from the panel to "{part}".', **things)


def _armor_is_no_ground(value: Any, part: Part, case: Case) -> bool:
    """A kind whose armor counts as the ground is better than any other."""
    return not has_grounded_armor(case.book, value)


RULE = CaseRule[Load | Driver | Control](
    name="equipment-ground",
    title="An equipment ground to everything that is added",
    family=Family.SITE,
    rank=300,
    subjects=subjects,
    answer=answer,
    worse={
        "box.ground": EACH,
        "cable.ground": LESS,
        "cable.type": _armor_is_no_ground,
        "load.grounding": EACH,
        "load.metal_parts": MORE,
        "load.ground_fault": LESS,
        "load.kind": EACH,
        "load.connection": EACH,
        "load.replaces": LESS,
        "supply.protection": order("both", "ground-fault", "arc-fault", "none"),
    },
    alike={
        "load.kind": lambda value, book: EQUIPMENT[0] if value in EQUIPMENT else value in (LIGHT, RECEPTACLE) and value
    },
)
