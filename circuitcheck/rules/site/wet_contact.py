"""Wet contact: how many volts a low-voltage light may have where someone who is wet can touch it.

What it asks: the output volts of the driver behind each added low-voltage light that the spray of a shower reaches,
against the least limits of the code: 15 V ac or 30 V dc.

Why: wet skin lets through far more current, so a voltage that nobody feels in a dry room can hurt in a shower. A mark
for wet places keeps water out of the light and does not raise the limit.

What to do: choose 12 V lights there, or 24 V with a dc driver.

Cannot see: fountains, pools and spas, which have rules of their own, and whether someone wet can touch a light
outdoors.
"""

from __future__ import annotations

from circuitcheck.case import MORE, Amount, Answer, Case, CaseRule, Family, Things, order, said
from circuitcheck.case.parts import Driver, LowVoltageLoad
from circuitcheck.findings import Outcome, exceeds
from circuitcheck.tables.rulebook import Rulebook

_TO_DO = ("Choose 12 V lights there, or 24 V with a dc driver.",)


def answer(light: LowVoltageLoad, case: Case, book: Rulebook) -> Answer | None:
    """The volts of one added low-voltage light in the spray of a shower."""
    driver = _driver_of(case, light)
    if driver is None or not light.is_added or not light.over_bath or not light.in_spray:
        return None
    limit = book.value(f"low-voltage-wet-contact-{driver.output_kind}")
    volts = driver.output_voltage_v
    fits = not exceeds(volts, limit.number)
    things: Things = {
        "light": light.id,
        "volts": Amount(volts, "V"),
        "kind": driver.output_kind,
        "limit": Amount(limit.number, "V"),
    }
    return Answer(
        part=light,
        outcome=Outcome.PASS if fits else Outcome.FAIL,
        says=said(
            'The light "{light}" has {volts} {kind} in the spray of a shower; at most {limit} is allowed.', **things
        ),
        open_says=said('Cannot tell yet whether the light "{light}" has too many volts for a shower.', **things),
        value=volts,
        limit=limit.number,
        unit="V",
        sources=(limit.source,),
        keys=(driver.entry("output_voltage"), light.entry("in_spray")),
        to_do={Outcome.FAIL: _TO_DO, Outcome.UNDETERMINED: _TO_DO},
    )


def _driver_of(case: Case, light: LowVoltageLoad) -> Driver | None:
    """The driver at the root of the wiring that ends at a light."""
    for cable in case.tree.cables_at.get(light.id, ()):
        if cable.id in case.tree.driver_of:
            return case.tree.driver[case.tree.driver_of[cable.id]]
    return None


RULE = CaseRule[LowVoltageLoad](
    name="wet-contact",
    title="Volts of low-voltage lights in a shower",
    family=Family.SITE,
    rank=415,
    subjects=lambda case: case.low_voltage_loads,
    answer=answer,
    worse={
        "low_voltage_load.over_bath": MORE,
        "low_voltage_load.in_spray": MORE,
        "driver.output_kind": order("dc", "ac"),
        "driver.output_voltage": MORE,
    },
)
