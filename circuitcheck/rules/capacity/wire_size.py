"""Wire size: the thinnest conductor that would do for each cable that is to be added.

What it asks: size, kind, length and surroundings of each added cable, the breaker, and everything fed through it. A
size does when the breaker is small enough for it, when it may carry the load and keep its breaker where it lies, and,
as advice only, when the voltage drop behind it stays within 3 percent.

Why: one cable that is too thin decides for the whole circuit, and a thicker one costs little before it is in the wall.
On a 20 A circuit 14 AWG is the usual mistake.

What to do: take at least the size that the finding names. A thicker one is always allowed, as long as the terminals and
the box take it.

Cannot see: whether a terminal, a connector or a box takes a thicker conductor (box fill does see the box). Each cable
is judged with all others as planned: two thin ones in a row may share the blame for a drop, and one thicker one may do.
The drop is scaled from the planned circuit, not solved anew, which makes it slightly too high for a thicker conductor
and slightly too low for a thinner one.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import Finding, Outcome, Source, exceeds, merge_sources
from circuitcheck.rules.branch_loads import BRANCH_LOAD_USES, span
from circuitcheck.rules.cable_currents import MOST_KEYS
from circuitcheck.rules.capacity.size_candidates import AMPACITY, BREAKER, DROP, Candidate, SizeCandidates
from circuitcheck.rules.capacity.solved_branch import BRANCH_STATE_USES
from circuitcheck.rules.capacity.surroundings import SURROUNDINGS_USES, Surroundings
from circuitcheck.rules.parts import is_added, origin_note
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

#: Sizes that a finding lists at most.
_SHOWN = 6
#: How a sentence calls the check that decides.
_IN_WORDS = {
    BREAKER: "the breaker decides",
    AMPACITY: "what it may carry where it lies decides",
    DROP: "the voltage lost on the way decides",
}


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each added cable of the branch circuit."""
    added = [cable for cable in circuit.tree.branch_cables if is_added(cable)]
    if not added:
        return
    candidates = SizeCandidates(circuit, book)
    drop_source = book.value("voltage-drop-recommended-branch").source
    for cable in added:
        around = candidates.surroundings(cable)
        looked_at = _looked_at(cable, candidates, around)
        yield _finding(cable, circuit, candidates, around, looked_at, drop_source)


def _looked_at(cable: Cable, candidates: SizeCandidates, around: Surroundings) -> list[Candidate]:
    """The sizes from the thinnest up to the first that leaves nothing to wish for."""
    found: list[Candidate] = []
    for candidate in candidates.of(cable, around):
        found.append(candidate)
        if not (candidate.fails_at_worst or candidate.advised):
            break
    return found


def _first(found: list[Candidate], *, at_best: bool) -> Candidate | None:
    """The thinnest size that meets what must be met, at the best or at the worst end."""
    return next((one for one in found if not (one.fails_at_best if at_best else one.fails_at_worst)), None)


def _decider(found: list[Candidate], chosen: Candidate, *, with_advice: bool) -> str:
    """The check that the next thinner size does not meet; the thinnest of all is set by the breaker's own table."""
    place = found.index(chosen)
    if place == 0:
        return BREAKER
    thinner = found[place - 1]
    unmet = (*thinner.fails_at_worst, *(thinner.advised if with_advice else ()))
    return unmet[0] if unmet else BREAKER


def _finding(
    cable: Cable,
    circuit: Circuit,
    candidates: SizeCandidates,
    around: Surroundings,
    found: list[Candidate],
    drop_source: Source,
) -> Finding:
    key = f"cable.{cable.id}."
    least, must = _first(found, at_best=True), _first(found, at_best=False)
    wished = found[-1] if found and not (found[-1].fails_at_worst or found[-1].advised) else None
    smallest = wished or must or least
    area = candidates.area_of(cable.size) if cable.size is not None else None
    outcome = _outcome(area, least, must, wished)
    decided_by = _decider(found, smallest, with_advice=wished is not None) if smallest is not None else None
    needs: tuple[str, ...] = ()
    if outcome is Outcome.UNDETERMINED:
        needs = (key + "size",) if area is None else ()
        if area is not None or must is not least:
            needs += _open_keys(cable, circuit, candidates, around)
    thickest = candidates.terminals_thickest
    too_thick = smallest is wished and smallest is not None and exceeds(smallest.area_m2, thickest.area_m2)
    note, note_keys = origin_note(cable, "cable")
    assumed, assumed_keys = (*note, *around.assumed), (*note_keys, *around.assumed_keys)
    if candidates.current(cable).open_keys:
        assumed += (f"{cable.id}: not every load behind it is known, so all that the breaker allows is counted",)
        assumed_keys += candidates.current(cable).open_keys
    least_row = candidates.least_row
    return Finding(
        check=RULE.name,
        subject=cable.id,
        outcome=outcome,
        says=_says(cable, outcome, found, least, must, wished, too_thick),
        working=(*_lines(found, cable, circuit, candidates), *_drop_note(cable, candidates)),
        sources=merge_sources(
            (least_row.source,) if least_row is not None else (),
            *(one.limits.sources for one in found),
            around.sources,
            (drop_source,),
            (thickest.source,) if too_thick else (),
        ),
        needs=needs,
        assumed=assumed,
        assumed_keys=assumed_keys,
        keys=(key + "size", key + "length"),
        to_do=_to_do(cable, outcome, smallest, too_thick, settled=must is not None),
        chosen=cable.size,
        smallest=smallest.size if smallest is not None else None,
        decided_by=decided_by,
    )


def _outcome(
    area_m2: float | None, least: Candidate | None, must: Candidate | None, wished: Candidate | None
) -> Outcome:
    if least is None:
        return Outcome.FAIL
    if area_m2 is None:
        return Outcome.UNDETERMINED
    if exceeds(least.area_m2, area_m2):
        return Outcome.FAIL
    if must is None or exceeds(must.area_m2, area_m2):
        return Outcome.UNDETERMINED
    if wished is not None and exceeds(wished.area_m2, area_m2):
        return Outcome.CAUTION
    return Outcome.PASS


def _open_keys(cable: Cable, circuit: Circuit, candidates: SizeCandidates, around: Surroundings) -> tuple[str, ...]:
    current = candidates.current(cable)
    return tuple(
        dict.fromkeys(
            (
                *((f"cable.{cable.id}.material",) if cable.material is None else ()),
                *around.open_keys,
                *current.open_keys,
                *current.range_keys,
                *candidates.kinds_open[:MOST_KEYS],
                *(() if circuit.supply.breaker_a.exact else ("supply.breaker",)),
            )
        )
    )


def _says(
    cable: Cable,
    outcome: Outcome,
    found: list[Candidate],
    least: Candidate | None,
    must: Candidate | None,
    wished: Candidate | None,
    too_thick: bool,
) -> str:
    if least is None:
        return f"No conductor size of this kind does for cable {cable.id}: where it lies none may keep this breaker."
    if outcome is Outcome.FAIL:
        decider = _IN_WORDS[_decider(found, least, with_advice=False)]
        says = f"Cable {cable.id} needs at least {least.size}, not {cable.size}: {decider}"
        if wished is not None and wished is not least:
            says += f"; {wished.size} would also meet what is recommended"
        return says + "."
    if cable.size is None:
        open_end = "" if must is not None else ", and at worst no size does"
        size = (wished or must or least).size
        return f"Cable {cable.id} needs at least {size}{open_end}; the file does not say which size is planned."
    if outcome is Outcome.UNDETERMINED:
        enough = f"{must.size} would do in any case" if must is not None else "at worst no size does"
        return f"Cannot tell whether {cable.size} is enough for cable {cable.id}: {least.size} may do, and {enough}."
    if outcome is Outcome.CAUTION and wished is not None:
        advice = _IN_WORDS[_decider(found, wished, with_advice=True)]
        thick = ", and that is thicker than usual terminals take" if too_thick else ""
        return f"{cable.size} is allowed for cable {cable.id}, but {wished.size} is recommended: {advice}{thick}."
    smallest = wished or must or least
    return f"{cable.size} is enough for cable {cable.id}: the thinnest that does is {smallest.size}."


def _lines(found: list[Candidate], cable: Cable, circuit: Circuit, candidates: SizeCandidates) -> tuple[str, ...]:
    """One line a size; where even thick ones do not help, the first few and the last."""
    shown = found if len(found) <= _SHOWN else [*found[: _SHOWN - 1], found[-1]]
    return tuple(_line(one, cable, circuit, candidates) for one in shown)


def _line(one: Candidate, cable: Cable, circuit: Circuit, candidates: SizeCandidates) -> str:
    """One size: the breaker that it may have, what it may carry for what, the drop behind it, and what it misses."""
    breaker = span(circuit.supply.breaker_a.low, circuit.supply.breaker_a.high, "A")
    current = candidates.current(cable)
    load = span(current.low, current.worst, "A") if not current.open_keys else f"all that {breaker} let through"
    drop = f"; drop {shown_number(one.drop_percent)} %" if one.drop_percent is not None else ""
    unmet = dict.fromkeys((*one.fails_at_worst, *one.advised))
    verdict = f"not enough for {', '.join(unmet)}" if unmet else "enough"
    return (
        f"{one.size}: breaker at most {_ends(one.limits.breaker_a)} (here {breaker}); "
        f"may carry {_ends(one.limits.ampacity_a)} for {load}{drop}: {verdict}"
    )


def _ends(pair: tuple[float, float]) -> str:
    return span(min(pair), max(pair), "A")


def _drop_note(cable: Cable, candidates: SizeCandidates) -> tuple[str, ...]:
    if not candidates.drop_cannot_be_met(cable):
        return ()
    return (
        f"the rest of the way alone loses more than {shown_number(candidates.limit_percent)} %, so no thickness of "
        "this cable brings the drop under that",
    )


def _to_do(
    cable: Cable, outcome: Outcome, smallest: Candidate | None, too_thick: bool, *, settled: bool
) -> tuple[str, ...]:
    if smallest is None:
        return ("Give the cable another way, or have a licensed electrician choose another kind of cable.",)
    if outcome is Outcome.PASS:
        return ()
    if not settled:
        return (f"Find out what is missing about {cable.id} before you choose its size.",)
    if too_thick:
        return ("Plan a shorter way or another circuit: a conductor that thick does not fit common terminals.",)
    return (f"Plan {smallest.size} for cable {cable.id}.",)


RULE = Rule(
    name="wire-size",
    title="The thinnest conductor that would do for each added cable",
    family="capacity",
    uses=tuple(
        dict.fromkeys(
            (
                "conductors",
                "branch-circuit-conductors",
                "small-conductor-overcurrent",
                "value:ambient-base",
                "value:voltage-drop-recommended-branch",
                "value:usual-terminals-thickest",
                *SURROUNDINGS_USES,
                *BRANCH_LOAD_USES,
                *BRANCH_STATE_USES,
            )
        )
    ),
    check=check,
)
