"""The wiring behind each driver as the file describes it, made ready for solving at its worst and at its best end.

A driver holds its output voltage, so the runs that leave it do not know of one another: what is unknown in one of them
leaves the others as they are. Each such run with all that hangs on it is a ``Run`` here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from circuitcheck.circuit.model import Cable, Circuit, Driver, LowVoltageLoad
from circuitcheck.findings import Source, merge_sources
from circuitcheck.quantities import Interval
from circuitcheck.rules.cable_impedance import CABLE_IMPEDANCE_USES, Impedances
from circuitcheck.rules.low_voltage.light import LIGHT_USES, Light, light_of
from circuitcheck.rules.low_voltage.run_state import Lead, RunState, Step, solved
from circuitcheck.tables.rulebook import Rulebook

#: What ``driver_trees`` may cite; a rule that calls it adds them to its ``uses``.
DRIVER_TREE_USES = (*CABLE_IMPEDANCE_USES, *LIGHT_USES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Cables and lights that hang on one cable (or one ring of two) from a driver, parents first.

    ``needs``: keys without which nothing can be solved. ``loose``: keys that keep the two ends apart.
    """

    driver: Driver
    steps: tuple[Step, ...]
    needs: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    @property
    def lights(self) -> tuple[Light, ...]:
        """The lights of this run, in the order in which they are fed."""
        return tuple(step.light for step in self.steps if step.light is not None)

    @property
    def cables(self) -> tuple[Cable, ...]:
        """The cables of this run, in the order in which they are fed."""
        return tuple(lead.cable for step in self.steps for lead in step.leads)

    def output_v(self, *, worst: bool) -> float | None:
        """The driver's voltage at this end of its range [V]."""
        volts = self.driver.output_voltage_v
        return None if volts is None else (volts.low if worst else volts.high)

    def state(
        self, *, worst: bool, worst_wires: bool | None = None, lead_ohm: Mapping[str, float] | None = None
    ) -> RunState | None:
        """The solved run at one end; None where a key is missing.

        ``worst_wires``: another end for cables and strips than for the lights. ``lead_ohm`` tries other resistances for
        cables.
        """
        volts = self.output_v(worst=worst)
        if self.needs or volts is None:
            return None
        wires = worst if worst_wires is None else worst_wires
        return solved(self.driver.id, volts, self.steps, worst=worst, worst_wires=wires, lead_ohm=lead_ohm or {})

    def crossed_states(self) -> tuple[RunState, ...]:
        """The solved run with its lights at one end and its wires at the other, where the two ends differ.

        A light that draws less when it gets less takes the most current through the best wires, so the most and the
        least that a driver gives may lie here; for the voltage at the lights it is no end.
        """
        if not self.loose or self.needs:
            return ()
        found = []
        for worst in (False, True):
            state = self.state(worst=worst, worst_wires=not worst)
            if state is not None and state.served:
                found.append(state)
        return tuple(found)


@dataclass(frozen=True, slots=True)
class DriverTree:
    """A driver and its runs. ``shared``: ids of cables that also feed something a first cable feeds already."""

    driver: Driver
    runs: tuple[Run, ...]

    @property
    def needs(self) -> tuple[str, ...]:
        """Every key without which some run cannot be solved."""
        return tuple(dict.fromkeys(key for run in self.runs for key in run.needs))


@dataclass(slots=True)
class _Draft:
    """A run while it is being gathered."""

    steps: list[Step] = field(default_factory=list)
    needs: list[str] = field(default_factory=list)
    loose: list[str] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    assumed_keys: list[str] = field(default_factory=list)
    sources: list[Source] = field(default_factory=list)


def driver_trees(circuit: Circuit, book: Rulebook) -> tuple[DriverTree, ...]:
    """The wiring behind each driver, in file order. Linear in the size of the circuit."""
    tree = circuit.tree
    impedances = Impedances(book)
    by_driver: dict[str, list[Cable]] = {driver.id: [] for driver in circuit.drivers}
    for cable in tree.low_voltage_cables:
        by_driver[tree.driver_of[cable.id]].append(cable)
    onward = {cable.from_id for cable in tree.low_voltage_cables}
    taken: set[str] = set()
    found = []
    for driver in circuit.drivers:
        runs = _runs(driver, by_driver[driver.id], tree.low_voltage_load, onward, taken, impedances, book)
        found.append(DriverTree(driver, tuple(runs)))
    return tuple(found)


def _runs(
    driver: Driver,
    cables: Iterable[Cable],
    loads: Mapping[str, LowVoltageLoad],
    onward: set[str],
    taken: set[str],
    impedances: Impedances,
    book: Rulebook,
) -> Iterable[Run]:
    """The runs of one driver. ``taken`` holds every place that is fed already; a second feed of it is left out."""
    drafts: list[_Draft] = []
    draft_of: dict[str, _Draft] = {}
    cables = list(cables)
    feeds: dict[str, list[Cable]] = {}
    for cable in cables:
        feeds.setdefault(cable.to_id, []).append(cable)
    for cable in cables:
        if cable.to_id in taken:
            continue
        taken.add(cable.to_id)
        if cable.from_id == driver.id:
            draft = _Draft()
            drafts.append(draft)
        else:
            draft = draft_of[cable.from_id]
        draft_of[cable.to_id] = draft
        load = loads.get(cable.to_id)
        chosen, left_out = _feeds_used(cable, feeds[cable.to_id], load)
        leads = tuple(_lead(one, impedances, draft) for one in chosen)
        for other in left_out:
            draft.assumed.append(
                f"cable {other.id} also feeds {cable.to_id}; it is left out, which can only make the answer worse."
            )
            draft.assumed_keys.append(f"cable.{other.id}.to")
        light = None
        if load is not None:
            light = light_of(load, driver, book, carries_on=load.id in onward)
            draft.needs.extend(light.needs)
            draft.loose.extend(light.loose)
            draft.assumed.extend(light.assumed)
            draft.assumed_keys.extend(light.assumed_keys)
            draft.sources.extend(light.sources)
        draft.steps.append(Step(cable.from_id, cable.to_id, leads, light))
    volts = driver.output_voltage_v
    for draft in drafts:
        yield Run(
            driver=driver,
            steps=tuple(draft.steps),
            needs=tuple(dict.fromkeys((*_output_needs(driver.id, volts), *draft.needs))),
            loose=tuple(dict.fromkeys((*_output_loose(driver.id, volts), *draft.loose))),
            assumed=tuple(dict.fromkeys(draft.assumed)),
            assumed_keys=tuple(dict.fromkeys(draft.assumed_keys)),
            sources=merge_sources(draft.sources),
        )


def _output_needs(driver_id: str, volts: Interval | None) -> tuple[str, ...]:
    return (f"driver.{driver_id}.output_voltage",) if volts is None or volts.low <= 0.0 else ()


def _output_loose(driver_id: str, volts: Interval | None) -> tuple[str, ...]:
    return () if volts is None or volts.exact else (f"driver.{driver_id}.output_voltage",)


def _feeds_used(
    cable: Cable, feeds: list[Cable], load: LowVoltageLoad | None
) -> tuple[tuple[Cable, ...], tuple[Cable, ...]]:
    """The cables that count as feeding a place, and those left out: a strip fed at both ends may have two."""
    others = [one for one in feeds if one is not cable]
    if load is not None and load.fed_from == "both ends":
        twins = [one for one in others if one.from_id == cable.from_id]
        if twins:
            return (cable, twins[0]), tuple(one for one in others if one is not twins[0])
    return (cable,), tuple(others)


def _lead(cable: Cable, impedances: Impedances, draft: _Draft) -> Lead:
    """Resistance of both conductors of a cable at both ends; what is missing goes into the draft."""
    impedance = impedances.cable(cable)
    draft.needs.extend(impedance.needs)
    # Reactance is left out here, so what only it hangs on (the kind of cable) makes no difference.
    kind = f"cable.{cable.id}.type"
    keys = [key for key in impedance.assumed_keys if key != kind]
    if keys:
        draft.assumed.extend(impedance.assumed)
        draft.assumed_keys.extend(keys)
    if impedance.low.real != impedance.high.real:
        draft.loose.extend(key for key in impedance.loose if key != kind)
    if impedance.conductor is not None:
        draft.sources.extend(impedance.conductor.sources)
    return Lead(cable, impedance.low.real, impedance.high.real)
