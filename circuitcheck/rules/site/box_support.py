"""Box and weight: whether the box behind each added light is made for it and holds its weight.

What it asks: what each box that carries an added light or fan is made for, how it is held, its marked limit, and the
weight that hangs on it. Recessed lights and those in or under a cabinet hang on no box. Of a new ceiling box also
whether a paddle fan could hang there.

Why: a luminaire box is made to hold 50 lb; another box may carry only a light luminaire, and only on a wall; a box
held by the wall finish may be made for no more. A paddle fan shakes its box loose and needs one marked for fans. From
the edition of 2020 on, a new ceiling box in a living space is made for the fan that somebody may hang there one day.

What to do: read the marking inside the box (breaker off, tested dead), weigh the light with its glass, and fit a box
made for it where the two do not agree.

Cannot see: what the box is fastened to, cracked or stripped screws, whether a light is held by the building instead
of its box, and whether a box gives access to framing that could hold a fan.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from circuitcheck.case import (
    EACH,
    LESS,
    MORE,
    Amount,
    Answer,
    Case,
    CaseRule,
    Family,
    Rounding,
    Said,
    Things,
    order,
    said,
)
from circuitcheck.case.parts import Box, Load, Part
from circuitcheck.findings import Outcome, Source, exceeds, merge_sources
from circuitcheck.quantities import in_unit
from circuitcheck.tables.rulebook import Rulebook

OVERHEAD = ("ceiling", "pendant")
WALL, OUTDOORS, FAN = "wall", "outdoors", "fan"
#: A light there is fastened to the ceiling or the cabinet, and not to the box of its wires.
HELD_ELSEWHERE = ("recessed", "cabinet")
HELD_BY_FRAMING = ("framing", "bar hanger")
_READ = (
    "Read the marking in the box (breaker off, tested dead) and the weight on the carton; else fit a box made for it.",
)
_CHOOSE = ("Read on the carton of the new box what it is made for, and on the light's what it weighs.",)
_FRAMING = "Does this box give access to framing that could hold a paddle fan, as the code allows instead of a fan box?"
_ON_WALL = "Is this light on a wall? On a ceiling or a porch roof it needs a box made for luminaires."
_SPARE = "Is the third conductor at this box a spare, separately switched hot, as for a paddle fan?"


class _Limit(NamedTuple):
    """The greatest weight [kg] that a box may hold. ``wrong``: why it is not made for what hangs on it, else empty."""

    most: float
    sources: tuple[Source, ...]
    wrong: str = ""


def answer(box: Box, case: Case, book: Rulebook) -> Answer | None:
    """What hangs on one box [lb]."""
    mounted = [load for load in case.tree.loads_at.get(box.id, ()) if _hangs(load)]
    if not any(load.is_added for load in mounted):
        return None
    paddle = any(_is_paddle_fan(load) and load.mounting != WALL for load in mounted)
    limit = _fan_limit(box, book) if paddle else _light_limit(box, mounted, book)
    weight = sum(load.quantity * load.weight_kg for load in mounted)
    future = None if paddle else _fan_to_come(box, mounted, case, book)
    things: Things = {
        "box": box.id,
        "names": ", ".join(load.id for load in mounted),
        "weight": Amount(in_unit(weight, "lb"), "lb", Rounding.UP),
        "most": Amount(in_unit(limit.most, "lb"), "lb", Rounding.DOWN),
        "wrong": limit.wrong,
        "made_for": box.made_for,
    }
    ask: tuple[str, ...] = ()
    keys = [box.entry("made_for")]
    if limit.wrong:
        outcome, says = Outcome.FAIL, 'Box "{box}" {wrong} ("{names}").'
    elif exceeds(weight, limit.most):
        outcome, says = Outcome.FAIL, 'Box "{box}" may hold {most}, and "{names}" weighs {weight}.'
    elif not _holds_luminaires(box) and any(load.kind == "light" and load.mounting == OUTDOORS for load in mounted):
        outcome, ask = Outcome.UNDETERMINED, (_ON_WALL,)
        keys.append(next(load.entry("mounting") for load in mounted if load.mounting == OUTDOORS))
        says = (
            'Cannot tell whether box "{box}" may hold "{names}": it is made for a {made_for}, which may hold a light '
            "on a wall only, and the file says only that it is outdoors."
        )
    elif future is not None:
        outcome, ask = future
        keys.append(box.entry("fan_could_hang"))
        says = (
            'A paddle fan could hang at new ceiling box "{box}", and it is made for a {made_for}: the code requires a '
            "box listed for a fan there, or access to framing that could hold one."
        )
    else:
        outcome, says = Outcome.PASS, 'Box "{box}" holds "{names}": {weight} of {most}.'
    return Answer(
        part=box,
        outcome=outcome,
        says=said(says, **things),
        open_says=said('Cannot tell yet whether box "{box}" is made for "{names}" and holds its weight.', **things),
        value=in_unit(weight, "lb"),
        limit=in_unit(limit.most, "lb"),
        unit="lb",
        working=lambda: _working(box, things),
        sources=merge_sources(limit.sources, () if future is None else _fan_sources(book)),
        keys=tuple(keys),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED), _CHOOSE if box.is_added else _READ),
        ask=ask,
    )


def _working(box: Box, things: Things) -> Iterator[Said]:
    yield said("on box {box}: {names}", **things)
    yield said("weight: {weight}", **things)
    yield said(
        "box made for: {made_for}; held by: {mounting}; may hold {most}", mounting=box.mounting or "unknown", **things
    )


def _hangs(load: Load) -> bool:
    """Whether a load is a light or a fan that hangs on its box."""
    return load.kind in ("light", "fan") and load.mounting not in HELD_ELSEWHERE and load.connection != "cord"


def _holds_luminaires(box: Box) -> bool:
    return box.made_for in ("luminaire", FAN)


def _is_paddle_fan(load: Load) -> bool:
    """An exhaust fan is other equipment: its box holds it as it would hold a light."""
    return load.kind == FAN and load.fan != "exhaust"


def _fan_limit(box: Box, book: Rulebook) -> _Limit:
    """A paddle fan wants a box marked for fans; the mark's own weight, if any, up to what any such box may hold."""
    unmarked, greatest = book.value("fan-box-unmarked-limit"), book.value("fan-box-greatest-limit")
    sources = (unmarked.source, greatest.source)
    if box.made_for != FAN:
        return _Limit(0.0, sources, f"is made for a {box.made_for}, and a paddle fan needs a box marked for fans")
    marked = box.support_limit_kg
    return _Limit(min(unmarked.number if marked is None else marked, greatest.number), sources)


def _light_limit(box: Box, mounted: list[Load], book: Rulebook) -> _Limit:
    """What a box may hold of lights: one that is not made for luminaires only a light one, on a wall.

    Other equipment of that weight may hang on it anywhere.

    Source: NFPA 70, 314.27(A)(1) with its exception, (A)(2) and (D).
    """
    full, light = book.value("luminaire-box-support"), book.value("device-box-luminaire-weight")
    if _holds_luminaires(box):
        marked = box.support_limit_kg
        return _Limit(full.number if marked is None else marked, (full.source,))
    if any(load.kind == "light" and load.mounting in OVERHEAD for load in mounted):
        return _Limit(
            0.0, (light.source, full.source), f"is made for a {box.made_for}, which may hold a light on a wall only"
        )
    marked = box.support_limit_kg
    return _Limit(light.number if marked is None else min(light.number, marked), (light.source,))


def _fan_to_come(box: Box, mounted: list[Load], case: Case, book: Rulebook) -> tuple[Outcome, tuple[str, ...]] | None:
    """What the code says of a new ceiling box that is not listed for a fan where one could hang; None: nothing.

    Source: NFPA 70, 314.27(C).
    """
    rooms = book.value("ceiling-box-for-fan-rooms")
    new_in_ceiling = box.is_added and any(load.is_added and load.mounting in OVERHEAD for load in mounted)
    if not new_in_ceiling or box.made_for == FAN or not case.site.dwelling or box.room not in rooms.items:
        return None
    if book.find_value("ceiling-box-for-fan-wherever-it-could-hang") is not None:
        if not box.fan_could_hang:
            return None
        if box.mounting in HELD_BY_FRAMING:
            return Outcome.UNDETERMINED, (_FRAMING,)
        return Outcome.FAIL, ()
    cables = case.tree.cables_at.get(box.id, ())
    spare = any(cable.conductors > 2 for cable in cables)
    return (Outcome.UNDETERMINED, (_SPARE,)) if spare and box.fan_could_hang else None


def _fan_sources(book: Rulebook) -> tuple[Source, ...]:
    return tuple(book.value(f"ceiling-box-for-fan-{name}").source for name in ("where", "ways", "rooms"))


def _where_a_fan_may_be(value: Any, part: Part, case: Case) -> Any:
    return value in case.book.value("ceiling-box-for-fan-rooms").items


def _kind_is_worse(value: Any, part: Part, case: Case) -> Any:
    """A paddle fan wants a box of its own kind; an exhaust fan hangs where no light may."""
    assert isinstance(part, Load)  # noqa: S101 - declared for loads only
    worst_last = (FAN, "light") if part.fan == "exhaust" else ("light", FAN)
    return 1 + worst_last.index(value) if value in worst_last else 0


RULE = CaseRule[Box](
    name="box-support",
    title="A box made for the light and its weight",
    family=Family.SITE,
    rank=430,
    subjects=lambda case: case.boxes,
    answer=answer,
    worse={
        "box.origin": EACH,
        "load.origin": EACH,
        "load.kind": _kind_is_worse,
        "load.fan": order("exhaust", "paddle"),
        "load.mounting": order(*HELD_ELSEWHERE, WALL, OUTDOORS, *OVERHEAD),
        "load.connection": order("cord", "hardwired"),
        "load.weight": MORE,
        "load.quantity": MORE,
        "box.made_for": order(FAN, "luminaire", "device", "junction"),
        "box.mounting": order(*HELD_BY_FRAMING, "retrofit", "surface"),
        "box.support_limit": LESS,
        "box.room": _where_a_fan_may_be,
        "box.fan_could_hang": MORE,
        "site.dwelling": MORE,
        "cable.conductors": MORE,
    },
)
