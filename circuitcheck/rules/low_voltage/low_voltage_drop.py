"""Low-voltage drop: the voltage that is left at the far end of a low-voltage light.

What it asks: whether the lowest voltage anywhere along a light, after the drop in its cables and along the strip
itself, stays at what the light needs: its own least voltage, or 5 percent under the driver's output where that is not
known.

Why: at 12 V or 24 V a light needs ten or five times the current that it needs at 120 V, and every volt lost is ten or
five times the share. The far end of a strip with resistors dims much faster than its voltage falls, and a light that
keeps its power may find no voltage at which it works.

What to do: a shorter or thicker cable, a strip fed in its middle or at both ends, a driver closer by, or lights for a
higher voltage. The finding names the longest cable of this conductor and the thinnest conductor that would still do.

Cannot see: joints and clips that add resistance, drivers that lower their output under load, and lights on a
constant-current driver, whose voltage is not held. Reactance is left out: at 60 Hz it changes nothing that shows. Where
lights share a cable and several values are ranges, the ends shown are those with everything at its longest and at its
shortest; with lights whose current falls with the voltage, a mixture can lie a few hundredths of a volt outside.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.cable_currents import MOST_KEYS
from circuitcheck.rules.cable_impedance import Impedances
from circuitcheck.rules.low_voltage.driver_tree import DRIVER_TREE_USES, Run, driver_trees
from circuitcheck.rules.low_voltage.light_voltage import CHECK, LIGHT_VOLTAGE_USES, LightVoltage, ways_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

#: In a run of more lights than this only the one with the lowest voltage is told its longest cable, so that the time
#: stays in step with the number of lights.
MOST_ADVISED = 6


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each low-voltage light."""
    impedances = Impedances(book)
    fed: set[str] = set()
    for tree in driver_trees(circuit, book):
        for run in tree.runs:
            fed.update(light.load.id for light in run.lights)
            yield from _run_findings(run, impedances, book)
    for load in circuit.low_voltage_loads:
        if load.id not in fed:
            yield Finding(
                check=CHECK,
                subject=load.id,
                outcome=Outcome.UNDETERMINED,
                says=f"Cannot tell what voltage {load.id} gets: no cable joins it to a driver in the file.",
                unit="V",
                needs=(f"low_voltage_load.{load.id}.fed_from",),
                keys=(f"low_voltage_load.{load.id}",),
                to_do=(f"Add the cable that runs from the driver to {load.id}.",),
            )


def _run_findings(run: Run, impedances: Impedances, book: Rulebook) -> Iterator[Finding]:
    best, worst = run.state(worst=False), run.state(worst=True)
    if best is None or worst is None:
        for light in run.lights:
            yield Finding(
                check=CHECK,
                subject=light.load.id,
                outcome=Outcome.UNDETERMINED,
                says=f"Cannot tell what voltage {light.load.id} gets: not everything about its wiring is known.",
                unit="V",
                sources=run.sources,
                needs=run.needs[:MOST_KEYS],
                keys=run.needs[:1],
            )
        return
    lowest = min(worst.lowest_v, key=worst.lowest_v.__getitem__, default=None)
    few = len(run.lights) <= MOST_ADVISED
    ways = ways_of(run)
    for step in run.steps:
        if step.light is not None:
            advised = few or step.light.load.id == lowest
            about = LightVoltage(run, step, step.light, best, worst, ways, few, book)
            yield about.finding(impedances if advised else None)


RULE = Rule(
    name=CHECK,
    title="Voltage left at the far end of a low-voltage light",
    family="low voltage",
    uses=(*DRIVER_TREE_USES, *LIGHT_VOLTAGE_USES),
    check=check,
)
