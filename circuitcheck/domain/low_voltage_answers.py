"""What every rule about the wiring behind a driver answers where nothing can be worked out."""

from __future__ import annotations

from circuitcheck.case import Answer, Things, said
from circuitcheck.case.parts import Cable, Driver, LowVoltageLoad
from circuitcheck.domain.impedance import COPPER
from circuitcheck.findings import Outcome


def no_cable(light: LowVoltageLoad) -> Answer:
    """No cable of the file feeds this light."""
    things: Things = {"light": light.id}
    return Answer(
        part=light,
        outcome=Outcome.UNDETERMINED,
        says=said(
            'Cannot tell what voltage light "{light}" gets: no cable in the file joins it to a driver.', **things
        ),
        unit="V",
        keys=(light.entry("fed_from"),),
        to_do={Outcome.UNDETERMINED: ("Enter the cable that runs from the driver to this light.",)},
    )


def not_in_tables_answer(part: Driver | LowVoltageLoad | Cable, missing: Cable, unit: str) -> Answer:
    """The tables hold no such conductor as that of ``missing``."""
    return Answer(
        part=part,
        outcome=Outcome.UNDETERMINED,
        says=said(
            'Cannot tell for {section} "{part}": the tables list no {size} {material} conductor, as in cable '
            '"{cable}".',
            section="light" if isinstance(part, LowVoltageLoad) else part.section,
            part=part.id,
            material=missing.material,
            size=missing.size,
            cable=missing.id,
        ),
        open_says=said(
            'Cannot tell yet for {section} "{part}": the tables do not list every conductor that cable "{cable}" may '
            "have.",
            section="light" if isinstance(part, LowVoltageLoad) else part.section,
            part=part.id,
            cable=missing.id,
        ),
        unit=unit,
        keys=(missing.ref._replace(key="size" if missing.material == COPPER else "material"),),
        to_do={Outcome.UNDETERMINED: ("Read the size and the metal printed on the cable again.",)},
    )
