"""Voltage under load: what a meter reading at the last outlet says about the joints.

What it asks: the voltage at an outlet with a known load there, against the voltage without it. Volts lost over amperes
give the resistance of the whole way. It is compared with what the wire to that box explains, with an allowance for the
service and for sound connections.

Why: a loose joint does not show in any table. It shows as volts lost that length and size of the wire do not explain,
and those volts heat the joint. Seven volts lost are harmless at 20 A over a long wire, and a fire risk at 1 A.

What to do: measure at a receptacle with a plug-in meter, first without and then with a heater or another steady load
plugged in beside it. Write down the current and the box too. When far more is lost than the wire explains, leave the
breaker off and have a licensed electrician find the joint.

Cannot see: where the bad joint is, a joint that only fails when it is warm or moved, a joint on a part of the circuit
that the reading did not pass through, and other loads that went on or off between the two readings.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from circuitcheck.case import EACH, LESS, MORE, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said
from circuitcheck.case.parts import Cable, Supply
from circuitcheck.domain.impedance import IMPEDANCE_BETTER, cable_impedance
from circuitcheck.domain.loop_reading import loop_resistance
from circuitcheck.domain.switch_loops import switch_loops
from circuitcheck.findings import Outcome, Source, exceeds, merge_sources
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import Rulebook

#: Both conductors are joined at the panel, and in each box on the way spliced and led through a device.
_AT_PANEL, _IN_EACH_BOX = 2, 4
_AGAIN = "Measure again with a heavier load, such as a heater of 1,500 W, at the same outlet."
_STOP = (
    "Turn this breaker off and leave it off. Have a licensed electrician find the bad connection before anything "
    "is added.",
)
_LONG = "Ask a licensed electrician why so much is lost: a long or thin wire, or many connections, each a little bad."


class _Readings(NamedTuple):
    """What was read [V, V, A]."""

    unloaded: float
    loaded: float
    current: float


class _Explained(NamedTuple):
    """What the way to a box explains at most [ohm]: its wire, its sound connections, the service."""

    wire: float
    joints: float
    service: float
    sources: tuple[Source, ...]

    @property
    def ohm(self) -> float:
        """All together."""
        return self.wire + self.joints + self.service


def answer(supply: Supply, case: Case, book: Rulebook) -> Answer | None:
    """The loss between the two readings, in percent of the first, against what the way explains."""
    loaded, unloaded = supply.loaded_voltage_v, supply.measured_voltage_v
    if loaded is None:
        return None
    things: Things = {"loaded": Amount(loaded, "V", significant=4)}
    if unloaded is None:
        return _asks(
            supply,
            book,
            said("{loaded} were read under load, but the reading without the load is missing.", **things),
            "measured_voltage",
            *_missing(supply),
        )
    lost = unloaded - loaded
    share = 100.0 * lost / unloaded
    things |= {
        "unloaded": Amount(unloaded, "V", significant=4),
        "lost": Amount(lost, "V"),
        "share": Amount(share, "%"),
    }
    rise = book.value("loaded-voltage-rise")
    if exceeds(-lost, rise.number):
        says = (
            "The voltage is {unloaded} without the load and {loaded} with it, but a load never raises it. One reading "
            "is wrong, or a shared neutral is open."
        )
        return _asks(supply, book, said(says, **things), "loaded_voltage", "measured_voltage")
    current = supply.loaded_current_a
    if current is None or current <= 0.0:
        says = (
            "{lost} ({share}) is lost under load. At a small current that is a bad connection; the current is missing."
        )
        return _asks(supply, book, said(says, **things), *dict.fromkeys(("loaded_current", *_missing(supply))))
    ohm, read = lost / current, _Readings(unloaded, loaded, current)
    things |= {"amperes": Amount(current, "A"), "ohm": Amount(ohm, "ohm")}
    box = supply.loaded_at
    if box is None or box not in case.tree.feed or case.tree.box[box].is_added:
        if not exceeds(ohm, book.value("service-loop-resistance-most").number):
            return _judged(supply, book, _explained(case, ()), read, things)
        says = (
            "{lost} ({share}) is lost at {amperes}, so the wiring on the way has {ohm}. Whether the wire "
            "explains that depends on "
            "the box where it was read."
        )
        return _asks(supply, book, said(says, **things), "loaded_at")
    explained = _explained(case, _way(case, box))
    if explained is None:
        return _asks(
            supply, book, said("The tables hold no resistance for a cable on the way to the reading."), "loaded_at"
        )
    return _judged(supply, book, explained, read, things)


def _missing(supply: Supply) -> Iterator[str]:
    """What else belongs to the reading and was not written down: whoever measures again does all of it at once."""
    if supply.loaded_current_a is None:
        yield "loaded_current"
    if supply.loaded_at is None:
        yield "loaded_at"


def _asks(supply: Supply, book: Rulebook, says: Said, *keys: str) -> Answer:
    """An answer that is open until these entries of the supply are given."""
    return Answer(
        part=supply,
        outcome=Outcome.UNDETERMINED,
        says=says,
        sources=(book.value("loaded-voltage-loss-to-look-into").source,),
        keys=tuple(supply.entry(key) for key in keys),
        to_do={Outcome.UNDETERMINED: ("Look at the note of the readings, or measure again at a receptacle.",)},
    )


def _way(case: Case, box: str) -> tuple[Cable, ...]:
    """The cables through which a load at a box is fed: from the panel, and down to its switch and back."""
    loops = switch_loops(case)
    behind = [loops[load.switched_by or ""] for load in case.tree.loads_at.get(box, ()) if load.switched_by in loops]
    longest = max(behind, key=len, default=())
    return (*case.tree.path(box), *longest)


def _explained(case: Case, way: tuple[Cable, ...]) -> _Explained | None:
    """What a way explains at most; None where the tables do not hold a conductor of it."""
    impedances = [cable_impedance(case, cable) for cable in way]
    known = [impedance for impedance in impedances if impedance is not None]
    if len(known) < len(impedances):
        return None
    service, joint = case.book.value("service-loop-resistance-most"), case.book.value("contact-resistance-most")
    return _Explained(
        wire=sum(impedance.ohm.real for impedance in known),
        joints=joint.number * (_AT_PANEL + _IN_EACH_BOX * len(way)),
        service=service.number,
        sources=merge_sources((service.source, joint.source), *(impedance.sources for impedance in known)),
    )


def _judged(supply: Supply, book: Rulebook, explained: _Explained | None, read: _Readings, things: Things) -> Answer:
    assert explained is not None  # noqa: S101 - without a way nothing is looked up
    unloaded, loaded, current = read
    loss = unloaded - loaded
    share, unexplained = 100.0 * loss / unloaded, loss / current - explained.ohm
    noise, look = book.value("loaded-voltage-reading-error"), book.value("loaded-voltage-loss-to-look-into")
    things |= {
        "explained": Amount(explained.ohm, "ohm", Rounding.UP),
        "wire": Amount(explained.wire, "ohm"),
        "joints": Amount(explained.joints, "ohm"),
        "service": Amount(explained.service, "ohm"),
        "watts": Amount(unexplained * current * current, "W"),
        "rating": Amount(supply.breaker_a, "A"),
        "full": Amount(unexplained * supply.breaker_a**2, "W"),
        "noise": Amount(noise.number, "V"),
        "look": Amount(look.number, "%"),
    }
    loop = loop_resistance(unloaded=unloaded, loaded=loaded, amperes=current, error=noise.number)
    things |= {"at_least": Amount(loop.least, "ohm", Rounding.DOWN), "at_most": Amount(loop.most, "ohm", Rounding.UP)}
    to_do: tuple[str, ...] = ()
    outcome, says = Outcome.PASS, "{lost} ({share}) is lost at {amperes}, which the wire explains."
    if exceeds(unexplained * current, noise.number):
        outcome, to_do = Outcome.FAIL, _STOP
        says = (
            "{lost} is lost at {amperes}: {ohm}, where wire, service and sound connections have {explained} at "
            "most. About "
            "{watts} heat a bad connection now, and {full} would at {rating}."
        )
    elif exceeds(unexplained, 0.0):
        outcome, to_do = Outcome.CAUTION, (_AGAIN,)
        says = (
            "{lost} is lost at {amperes}: a little more than wire, service and sound connections explain, but "
            "two readings "
            "may be off by {noise} together."
        )
    elif exceeds(share, look.number):
        outcome, to_do = Outcome.CAUTION, (_LONG,)
        says = "{share} is lost at {amperes}. The wire explains it, but over {look} is worth looking into."

    def working() -> Iterator[Said]:
        yield said("({unloaded} - {loaded}) / {amperes} = {ohm}; {share} of {unloaded}", **things)
        yield said(
            "of 20 such pairs of readings 19 are off by no more than {noise} together: {at_least} to {at_most}",
            **things,
        )
        yield said(
            "explained at most: wire {wire} there and back, sound connections {joints}, service {service}: {explained}",
            **things,
        )

    return Answer(
        part=supply,
        outcome=outcome,
        says=said(says, **things),
        open_says=said(
            "Cannot tell yet whether the wire explains the {lost} that is lost at {amperes}: it may have {explained}, "
            "and the reading gives {ohm}.",
            **things,
        ),
        value=share,
        limit=100.0 * explained.ohm * current / unloaded,
        unit="percent",
        working=working,
        sources=merge_sources((look.source, noise.source), explained.sources),
        keys=tuple(Ref("supply", "", key) for key in ("loaded_voltage", "measured_voltage", "loaded_current")),
        to_do={outcome: to_do, Outcome.UNDETERMINED: (_AGAIN,)},
        stop=outcome is Outcome.FAIL,
    )


RULE = CaseRule[Supply](
    name="loaded-voltage",
    title="A voltage reading under load",
    family=Family.SITE,
    rank=290,
    subjects=lambda case: (case.supply,),
    answer=answer,
    worse={
        **IMPEDANCE_BETTER,
        "supply.loaded_voltage": LESS,
        "supply.measured_voltage": MORE,
        "supply.loaded_current": LESS,
        "supply.breaker": MORE,
        "cable.carries": EACH,
        "load.switched_by": EACH,
        "box.origin": EACH,
    },
)
