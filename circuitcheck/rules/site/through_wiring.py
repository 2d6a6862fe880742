"""Through wiring: the wiring box of a recessed light goes by its label, not by its volume.

What it asks: how many conductors of which size enter the wiring box of each recessed light that the work touches,
against what its label allows.

Why: the wiring box on a recessed light is small and hot. Only a light marked for it may pass the circuit on to the
next one.

What to do: read the label. It names how many conductors of which size. Otherwise splice in a box of its own that
stays reachable.

Cannot see: the volume of the wiring box; the label's count stands for it. A box with a volume or a trade size is
taken for a box of its own, which box-fill counts. At the end of a run, the light's own supply needs no mark.
"""

from __future__ import annotations

from circuitcheck.case import EACH, MORE, Amount, Answer, Case, CaseRule, Family, Said, Things, said, words_apart
from circuitcheck.case.parts import Cable, Load
from circuitcheck.domain.box_count import thickness
from circuitcheck.domain.conductor_ampacity import equivalent_size
from circuitcheck.domain.recessed import RECESSED
from circuitcheck.domain.work import TOUCH_WORSE, is_touched
from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import Rulebook

ASK = "A two-wire circuit that only joins lights together needs no through-wiring mark: does that hold here?"
_READ = ("Read the label, or splice in a box of its own that stays reachable.",)


def answer(load: Load, case: Case, book: Rulebook) -> Answer | None:
    """How many conductors enter the wiring box of one recessed light, and how many its label allows."""
    if load.kind != "light" or load.mounting != RECESSED:
        return None
    box, onward = case.tree.box[load.box], bool(case.tree.children.get(load.box))
    own = box.volume_m3 is None and box.trade_size is None  # then it is a wiring box, as its light came with it
    if not (is_touched(case, box) if own else onward and load.is_added):
        return None
    cables = case.tree.cables_at.get(load.box, ())
    count, allowed = sum(cable.conductors for cable in cables), load.through_wiring_count
    thick = _thicker(cables, load, case)
    things: Things = {
        "load": load.id,
        "count": Amount(count),
        "allowed": Amount(allowed),
        "cable": thick.id if thick is not None else "",
        "size": load.through_wiring_size or "",
    }
    outcome, says = Outcome.FAIL, '{count} conductors enter the wiring box of "{load}", which is marked for {allowed}.'
    if not onward and (not allowed or thick is None):
        outcome, says = Outcome.PASS, 'Only its own supply enters the wiring box of "{load}".'
    elif not own and (thick is not None or count > allowed):
        outcome = Outcome.CAUTION
        says = (
            'The circuit goes on through the box of "{load}". If that is its own wiring box, its label must allow it.'
        )
    elif not allowed:
        says = 'The circuit goes on through the wiring box of "{load}", which is not marked for that.'
    elif thick is not None:
        says = 'Cable "{cable}" has thicker wire than the {size} that "{load}" is marked for.'
    elif count <= allowed:
        outcome, says = Outcome.PASS, '{count} conductors enter the wiring box of "{load}", marked for {allowed}.'
    return Answer(
        part=load,
        outcome=outcome,
        says=said(says, **things),
        open_says=said(
            'Cannot tell yet whether the wiring box of "{load}" may carry the circuit through: {count} '
            "conductors enter it.",
            **things,
        ),
        value=float(count),
        limit=float(allowed) if allowed and onward else None,
        unit="conductors",
        working=lambda: _working(load),
        sources=(book.value("through-wiring-marking").source,),
        keys=(load.entry("through_wiring_count"), load.entry("through_wiring_size")),
        to_do=dict.fromkeys((Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION), _READ),
        ask=(ASK,) if outcome is Outcome.CAUTION or (outcome is Outcome.FAIL and not allowed) else (),
    )


def _working(load: Load) -> tuple[Said, ...]:
    return (said("marked size: {size}", size=load.through_wiring_size or "none"),)


def _thicker(cables: tuple[Cable, ...], load: Load, case: Case) -> Cable | None:
    """The first cable in the light's box whose conductors are thicker than its label names.

    A metric size of the label counts as its stand-in, which is never thicker; one of a cable as the next size above.
    """
    marked = load.through_wiring_size
    if marked is None:
        return None
    most = thickness(case, equivalent_size(case.book, marked)[0])
    return next((cable for cable in cables if cable.size != marked and thickness(case, cable.size) > most), None)


RULE = CaseRule[Load](
    name="through-wiring",
    title="Recessed lights that the circuit runs through",
    family=Family.SITE,
    rank=390,
    subjects=lambda case: case.loads,
    answer=answer,
    worse={
        **TOUCH_WORSE,
        "load.kind": EACH,
        "load.mounting": lambda value, part, case: value == RECESSED,
        "load.through_wiring_count": EACH,  # a light marked for none may hold its own supply, however thick it is
        "load.through_wiring_size": lambda value, part, case: -thickness(case, value),
        "cable.conductors": MORE,
        "cable.size": lambda value, part, case: thickness(case, value),
        "box.volume": EACH,
        "box.trade_size": EACH,
    },
    alike={"load.kind": words_apart("light")},
)
