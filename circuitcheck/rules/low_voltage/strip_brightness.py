"""Strip brightness: whether the far end of a light strip gives visibly less light than its near end.

What it asks: how much less light a strip with resistors gives at its darkest point than at its brightest. The current
of such a strip, and its light with it, follows the volts above those of its diodes, so the light falls several times as
fast as the voltage. 15 percent less, which half of all people notice, is a caution.

Why: nothing is overloaded, and every other check may pass, but everybody sees the dark end along a shelf or a cove.

What to do: feed the strip in its middle or at both ends, feed long runs in several shorter pieces, or take a strip for
a higher voltage or with less watts a foot.

Cannot see: how many diodes sit in one row of the strip, so a range is told. Strips that hold their current or their
power keep their light as long as their voltage is enough. Colors that drift as the voltage falls are left out.
"""

from __future__ import annotations

from typing import Any

from circuitcheck.case import EACH, Amount, Answer, Case, CaseRule, Family, Rounding, Said, Things, said
from circuitcheck.case.parts import LowVoltageLoad, Part
from circuitcheck.domain.low_voltage_answers import not_in_tables_answer
from circuitcheck.domain.low_voltage_flow import RUN_WORSE, not_in_tables, output_v, run_sources, solved_for
from circuitcheck.domain.low_voltage_lights import is_strip, keeps_power, longer_is_worse
from circuitcheck.domain.low_voltage_pairs import even_lengths, of_a_pair
from circuitcheck.domain.low_voltage_runs import low_voltage_runs
from circuitcheck.findings import Outcome, exceeds, merge_sources
from circuitcheck.physics.low_voltage_strip import Feed, Law, drawn_share
from circuitcheck.tables.rulebook import Rulebook


def answer(light: LowVoltageLoad, case: Case, book: Rulebook) -> Answer | None:
    """How much less light one strip gives at its darkest point [percent]; None where its light holds."""
    run = low_voltage_runs(case).at.get(light.id)
    if run is None or not is_strip(light) or light.kind != Law.RESISTOR:
        return None
    missing = not_in_tables(case, run.key)
    if missing is not None:
        return not_in_tables_answer(light, missing, "percent")
    state, volts = solved_for(case, run, light), output_v(run.driver)
    shares = book.value("resistor-strip-diode-share"), book.value("resistor-strip-diode-share-most")
    near = far = 0.0  # where no voltage serves the run the strip is dark
    if state.served:
        near, far = state.highest_v[light.id] / volts, state.lowest_v[light.id] / volts
    least, most = (_less_light(near, far, share.number) for share in shares)
    visible = book.value("visible-light-difference")
    things: Things = {
        "light": light.id,
        "least": Amount(100.0 * least, "%", significant=2),
        "most": Amount(100.0 * most, "%", significant=2),
        "near": Amount(volts * near, "V", significant=4),
        "far": Amount(volts * far, "V", Rounding.DOWN, 4),
        "visible": Amount(100.0 * visible.number, "%"),
    }
    shows = exceeds(most, visible.number)
    gives = 'Strip "{light}" gives about {least} to {most} less light at its darkest point than at its brightest'
    return Answer(
        part=light,
        outcome=Outcome.CAUTION if shows else Outcome.PASS,
        says=said(gives + (". Half of all people notice {visible}." if shows else "."), **things),
        value=100.0 * most,
        limit=100.0 * visible.number,
        unit="percent",
        working=lambda: (
            said("highest voltage along {light}: {near}, lowest {far}", **things),
            *(_line(share.number, near, far, volts) for share in shares),
        ),
        sources=merge_sources((*(share.source for share in shares), visible.source), run_sources(case, run.key)),
        keys=(light.entry("fed_from"), light.entry("length")),
        to_do={Outcome.CAUTION: _cures(light)},
    )


def _less_light(near: float, far: float, diode_share: float) -> float:
    """How much less light at ``far`` than at ``near``, both shares of the rated voltage, as a share of the light there.

    The light of a diode goes with its current, and the current with the volts above those of the diodes. A strip that
    is dark all along has lost all of it: else a cable that loses still more would seem to cure it.
    """
    bright = drawn_share(near, diode_share)
    return 1.0 - drawn_share(far, diode_share) / bright if bright > 0.0 else 1.0


def _line(diode_share: float, near: float, far: float, volts: float) -> Said:
    return said(
        "diodes that take {diodes} of {volts}: {less} less light",
        diodes=Amount(diode_share * volts, "V"),
        volts=Amount(volts, "V"),
        less=Amount(100.0 * _less_light(near, far, diode_share), "%", significant=2),
    )


def _cures(light: LowVoltageLoad) -> tuple[str, ...]:
    if light.fed_from == Feed.ONE_END:
        return (
            "Feed the strip in its middle or at both ends.",
            "Or feed it in several shorter pieces, each with its own cable.",
        )
    return (
        "Feed it in several shorter pieces, each with its own cable.",
        "Or use a strip made for a higher voltage, or with fewer watts per foot.",
    )


def _kind(value: Any, part: Part, case: Case) -> Any:
    """Only a strip with resistors gives visibly less light; of the other lights on its cable those that keep their
    power take most from it. A strip that shares its cable may count both ways.
    """
    run = low_voltage_runs(case).at.get(part.ref.id)
    alone = run is None or len(tuple(run.lights)) == 1
    if alone:
        return value == Law.RESISTOR
    return EACH if isinstance(part, LowVoltageLoad) and is_strip(part) else keeps_power(value, part, case)


def _length(value: Any, part: Part, case: Case) -> Any:
    """Of watts that are given in all a longer strip takes fewer from the others on its cable."""
    in_all = isinstance(part, LowVoltageLoad) and part.power_per_length_w_per_m is None
    return EACH if in_all else longer_is_worse(value, part, case)


_RESISTS = ("material", "stranding", "conductor_temperature")

RULE = CaseRule[LowVoltageLoad](
    name="strip-brightness",
    title="Light at the far end of a strip",
    family=Family.LOW_VOLTAGE,
    rank=135,
    subjects=lambda case: case.low_voltage_loads,
    answer=answer,
    worse={
        **RUN_WORSE,
        # The more uneven two cables to one strip are, the more uneven is its light.
        **{f"cable.{name}": of_a_pair(RUN_WORSE[f"cable.{name}"], of_known_size=True) for name in _RESISTS},
        "cable.size": of_a_pair(RUN_WORSE["cable.size"], of_one_size=True),
        "cable.length": of_a_pair(RUN_WORSE["cable.length"], of_one_size=True),
        "low_voltage_load.kind": _kind,
        "low_voltage_load.length": _length,
    },
    turns={"cable.length": even_lengths},
)
