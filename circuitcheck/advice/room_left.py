"""How much room is left: so much more passes, and one step more does not; and which check turns first.

Everything is found by changing the circuit and asking the same rules again, in whole steps: a tenth of an ampere, a
foot, a degree Fahrenheit, a light, a cable, a conductor.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from circuitcheck.advice.asking_again import ANYTHING, Name, Progress, answers, effort, outcomes
from circuitcheck.advice.conductors_left import conductors_left, most_that_passes, sizes_in
from circuitcheck.case import AnyRule, CaseRule
from circuitcheck.checking import findings_of
from circuitcheck.checking.scope import Scope
from circuitcheck.checking.would_do import changed
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Box, Cable, Circuit, Load
from circuitcheck.findings import SEVERITY, Fault, Finding, NotJudged, Outcome, Report, RoomLeft
from circuitcheck.quantities import How, Interval, in_unit, to_si
from circuitcheck.refs import Ref
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook

#: Steps of each amount, and how far it is looked.
_AMPERES_A_STEP, _MOST_AMPERES = 0.1, 100.0
_MOST_LIGHTS, _MOST_CABLES, _MOST_FEET, _MOST_DEGREES = 99, 20, 2000, 150
#: The id of a load that is put on the circuit to see how much more it takes; nobody can have written it.
_MORE = "\x00more"
#: For so many things room is looked for, fewer the longer a check takes.
_MOST_ASKED = 120
_LOAD_SHARE = ("load-share", "circuit")
_LISTED = ("loads-complete", "circuit")
_Held = TypeVar("_Held", Box, Cable)
_WORST = (Outcome.FAIL, Outcome.UNDETERMINED)


@dataclass(frozen=True, slots=True)
class _Kind:
    """One thing to have more of. step: the circuit with so many steps more; most: the greatest number of them tried.

    changes: the entry that grows, as ``cable.length``; empty where any rule may read it.
    cautions_turn: whether a new caution is the end of it, as the 3 percent of voltage drop is.
    progress: is called before each rule that is asked whether it is concerned; what it raises ends the search.
    """

    of: str
    kind: str
    unit: str | None
    most: int
    step: Callable[[int], Circuit]
    changes: str = ""
    size_of_step: float = 1.0
    cautions_turn: bool = True
    progress: Callable[[], None] = lambda: None


def room_left_of(
    report: Report, circuit: Circuit, book: Rulebook, progress: Progress = lambda _: None
) -> tuple[RoomLeft, ...]:
    """The room left on the breaker, at each added light, in each box that is judged, and along each power cable.

    What fails already has none, and of what is open already nobody can tell. Nothing where the work stops, nor where a
    check had a fault: it might be the one that turns. Of a long circuit what is added comes first, and the rest is left
    out. progress: is told how many things room was looked for so far; what it raises ends the search.
    """
    if report.stop or report.faults:
        return ()
    base = outcomes(report.findings)
    rooms: list[RoomLeft] = []
    rooms.extend(_on_it(kind, base, book) for kind in _on_the_breaker(circuit))
    most = int(_MOST_ASKED / effort(report, circuit))
    lights = list(_more_lights(circuit))[:most]
    for kind in lights:
        rooms += _asked(kind, report, base, book)
        progress(len(rooms))
    boxes = [box for box in _added_first(circuit.boxes) if ("box-fill", box.id) in base][: most - len(lights)]
    for box in boxes:
        sizes = sizes_in(box, circuit, book)
        rooms += conductors_left(box, circuit, book, sizes, base["box-fill", box.id])
        progress(len(rooms))
    power = (cable for cable in _added_first(circuit.cables) if cable.id not in circuit.tree.driver_of)
    along = [kind for cable in power for kind in _along(cable, circuit, book)]
    for kind in along[: max(0, most - len(lights) - len(boxes))]:
        rooms += _asked(kind, report, base, book)
        progress(len(rooms))
    return tuple(rooms)


def room_left_at(
    part: Ref, report: Report, circuit: Circuit, book: Rulebook, *, progress: Callable[[], None] = lambda: None
) -> Iterator[RoomLeft]:
    """The room left at one part, as it is found: on the breaker, of an added light, in a box, along a power cable.

    progress: is called before each change that is tried and each rule that may be concerned; what it raises ends the
    search.
    """
    if report.stop or report.faults:
        return
    base = outcomes(report.findings)
    if part.section == "supply":
        for kind in _on_the_breaker(circuit):
            yield _on_it(_told(kind, progress), base, book)
    elif part.section == "box":
        for box in circuit.boxes:
            fill = base.get(("box-fill", box.id))
            if box.id == part.id and fill is not None:
                yield from conductors_left(box, circuit, book, sizes_in(box, circuit, book), fill)
    kinds: Iterable[_Kind] = ()
    if part.section == "load":
        kinds = (kind for kind in _more_lights(circuit) if kind.of == str(part))
    elif part.section == "cable" and part.id not in circuit.tree.driver_of:
        kinds = (kind for cable in circuit.cables if cable.id == part.id for kind in _along(cable, circuit, book))
    for kind in kinds:
        yield from _asked(_told(kind, progress), report, base, book)


def _told(kind: _Kind, progress: Callable[[], None]) -> _Kind:
    """The kind, which tells before each step that it takes and before each rule of the first."""

    def step(steps: int) -> Circuit:
        progress()
        return kind.step(steps)

    return replace(kind, step=step, progress=progress)


def _added_first(parts: Sequence[_Held]) -> list[_Held]:
    """The parts that the work adds, then the others."""
    return sorted(parts, key=lambda part: not part.is_added)


def load_left(report: Report, circuit: Circuit, book: Rulebook) -> float | None:
    """How much more the breaker takes of what is not on for hours [A].

    None where that is not known: a check had a fault, it is open already whether the breaker is enough, or not every
    load on it is listed.
    """
    base = outcomes(report.findings)
    if report.faults or base.get(_LOAD_SHARE, Outcome.UNDETERMINED) is Outcome.UNDETERMINED:
        return None
    return next((_on_it(kind, base, book).amount for kind in _on_the_breaker(circuit)), None)


def _on_it(kind: _Kind, base: Mapping[Name, Outcome], book: Rulebook) -> RoomLeft:
    """The room on the breaker. Whether all loads on it are listed decides about every ampere that is left."""
    listed = base.get(_LISTED, Outcome.PASS)
    if listed is Outcome.UNDETERMINED and base.get(_LOAD_SHARE) is not Outcome.FAIL:
        return RoomLeft(kind.of, kind.kind, None, kind.unit, _LISTED[0])
    return replace(_search(kind, (_LOAD_SHARE,), base, book), if_listed=listed is Outcome.CAUTION)


def _on_the_breaker(circuit: Circuit) -> Iterator[_Kind]:
    if circuit.boxes:
        for continuous, name in ((False, "load"), (True, "continuous load")):

            def more(steps: int, continuous: bool = continuous) -> Circuit:
                amperes = steps * _AMPERES_A_STEP
                load = Load(
                    id=_MORE,
                    box=circuit.boxes[0].id,
                    origin="existing",
                    kind="other",
                    current_a=Interval(amperes, amperes),
                    power_factor=Interval(1.0, 1.0),
                    continuous=continuous,
                    connection="hardwired",
                )
                return replace(circuit, loads=(*circuit.loads, load))

            most = round(_MOST_AMPERES / _AMPERES_A_STEP)
            yield _Kind("supply", name, "A", most, more, size_of_step=_AMPERES_A_STEP, cautions_turn=False)


def _more_lights(circuit: Circuit) -> Iterator[_Kind]:
    for load in circuit.loads:
        if load.is_added and load.kind in (None, "light"):
            ref = Ref("load", load.id, "quantity")
            count = load.pieces
            yield _Kind(
                str(load.ref),
                "more of this",
                None,
                _MOST_LIGHTS,
                lambda more, ref=ref, count=count: changed(circuit, ref, count + more),  # type: ignore[misc]
            )


def _along(cable: Cable, circuit: Circuit, book: Rulebook) -> Iterator[_Kind]:
    """Length, air and company of a cable. What is unknown has no room of its own: it is asked for instead."""
    of = str(cable.ref)
    length = cable.length_m
    if length is not None and cable.is_added:
        yield _Kind(of, "length", "ft", _MOST_FEET, _longer(circuit, cable, "length", "ft", length), "cable.length")
    air = cable.ambient_c or _assumed_air(cable, book)
    if air is not None:
        yield _Kind(
            of, "warmer air", "degF", _MOST_DEGREES, _longer(circuit, cable, "ambient", "degF", air), "cable.ambient"
        )
    if cable.bundled_with is not None and cable.current_carrying is None:
        ref, there = Ref("cable", cable.id, "bundled_with"), cable.bundled_with
        more = lambda steps: changed(circuit, ref, there + steps)  # noqa: E731
        yield _Kind(of, "cables alongside", None, _MOST_CABLES, more, "cable.bundled_with")


def _assumed_air(cable: Cable, book: Rulebook) -> Interval | None:
    """The hottest air that is assumed of a known place."""
    value = book.find_value(f"ambient-{cable.place.replace(' ', '-')}") if cable.place is not None else None
    return Interval(value.number, value.number) if value is not None else None


def _longer(circuit: Circuit, cable: Cable, key: str, unit: str, there: Interval) -> Callable[[int], Circuit]:
    ref = Ref("cable", cable.id, key)
    greatest = SECTIONS["cable"].keys[key].kind

    def more(steps: int) -> Circuit:
        ends = [to_si(in_unit(end, unit) + steps, unit) for end in (there.low, there.high)]
        if greatest is not None:
            ends = [min(end, greatest.greatest_si) for end in ends]  # what a file may hold
        return changed(circuit, ref, Interval(ends[0], ends[1], How.STATED if there.exact else there.how))

    return more


def _asked(kind: _Kind, report: Report, base: Mapping[Name, Outcome], book: Rulebook) -> Iterator[RoomLeft]:
    """The room of one kind, asked of the answers that look otherwise where there is far too much of it."""
    stuck = _stuck(kind, report)
    if stuck is not None:
        yield _none_of(kind, stuck.check, stuck.outcome)
        return
    lost: list[Fault | NotJudged] = []
    far = findings_of(kind.step(kind.most), book, _rules_for(kind), lost, Scope(named=False))
    concerned = (*_that_differ(report.findings, far), *_no_longer_judged(report, far, [each.check for each in lost]))
    if concerned:
        room = _search(kind, concerned, base, book)
        if room.check:
            yield room


def _none_of(kind: _Kind, check: str, now: Outcome) -> RoomLeft:
    """No room where a check fails already; where it is open already nobody can tell how much there is."""
    if now is Outcome.UNDETERMINED:
        return RoomLeft(kind.of, kind.kind, None, kind.unit, check)
    return RoomLeft(kind.of, kind.kind, 0.0, kind.unit, check, then=now)


def _stuck(kind: _Kind, report: Report) -> Finding | None:
    """What fails or is open already about what grows, and names it; None where nothing does at a glance."""
    of = Ref.of_part(kind.of)
    entries = (kind.changes.replace(".", f".{of.id}.", 1),) if kind.changes else ()
    for finding in sorted(report.findings, key=lambda each: SEVERITY[each.outcome]):
        if finding.outcome not in _WORST:
            break
        if any(entry in finding.needs or entry in finding.keys for entry in entries):
            return finding
        own = of.section == "load" and finding.subject in (of.id, _LOAD_SHARE[1])
        if own and finding.check in (_LOAD_SHARE[0], _LISTED[0], "voltage-drop"):
            return finding
    return None


def _rules_for(kind: _Kind) -> Iterator[AnyRule]:
    """The rules that may read what grows, one after the other, each when the one before it has answered."""
    for rule in ALL_RULES:
        if _reads(rule, kind.changes):
            kind.progress()
            yield rule


def _reads(rule: AnyRule, entry: str) -> bool:
    """Whether a rule may read an entry: a rule of cases says of every entry that it reads which way is worse."""
    return not entry or not isinstance(rule, CaseRule) or entry in rule.worse


def _that_differ(findings: Iterable[Finding], others: Iterable[Finding]) -> tuple[Name, ...]:
    """The answers that are worse among the others, or have other numbers and are no good already."""
    base = outcomes(findings)
    numbers = {(finding.check, finding.subject, finding.value, finding.limit) for finding in findings}
    told: dict[Name, None] = {}
    for finding in others:
        name = finding.check, finding.subject
        held = base.get(name, Outcome.PASS)
        moved = held in _WORST and (*name, finding.value, finding.limit) not in numbers
        if moved or SEVERITY[finding.outcome] < SEVERITY[held]:
            told[name] = None
    return tuple(told)


def _no_longer_judged(report: Report, far: Iterable[Finding], lost: Iterable[str]) -> Iterator[Name]:
    """Of the checks that are ``lost`` the answers that are missing now, and those checks as such that were judged."""
    before, now = outcomes(report.findings), outcomes(far)
    for check in dict.fromkeys(lost):
        yield from (name for name in before if name[0] == check and name not in now)
        if check not in report.not_judged:
            yield check, ANYTHING


def _search(kind: _Kind, names: tuple[Name, ...], base: Mapping[Name, Outcome], book: Rulebook) -> RoomLeft:
    stuck = min(
        (name for name in names if base.get(name) in _WORST), key=lambda name: SEVERITY[base[name]], default=None
    )
    if stuck is not None:
        return _none_of(kind, stuck[0], base[stuck])

    def turned(steps: int) -> list[tuple[int, Name]]:
        told = outcomes(answers(kind.step(steps), book, names))
        return [
            (SEVERITY[outcome], name)
            for name, outcome in told.items()
            if SEVERITY[outcome] < SEVERITY[base.get(name, Outcome.PASS)] and (kind.cautions_turn or outcome in _WORST)
        ]

    steps = most_that_passes(lambda more: not turned(more), kind.most)
    after = turned(steps + 1) if steps < kind.most else []
    check, then = "", None
    if after:
        (severity, (check, _)) = min(after)
        then = next(outcome for outcome, place in SEVERITY.items() if place == severity)
    return RoomLeft(kind.of, kind.kind, round(steps * kind.size_of_step, 6), kind.unit, check, then=then)
