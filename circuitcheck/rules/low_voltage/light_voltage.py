"""What is to be said about the voltage of one low-voltage light: outcome, sentence, working and what would do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from circuitcheck.findings import Finding, Outcome, Part, Source, exceeds, merge_sources
from circuitcheck.physics.low_voltage_strip import Feed, Law, drawn_share, greatest_power_w
from circuitcheck.quantities import in_unit, rounded_down
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.cable_currents import MOST_KEYS
from circuitcheck.rules.cable_impedance import Impedances
from circuitcheck.rules.low_voltage.driver_tree import Run
from circuitcheck.rules.low_voltage.greatest_lead import LONGEST_M, lead_advice
from circuitcheck.rules.low_voltage.light import Light
from circuitcheck.rules.low_voltage.run_state import RunState, Step
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

#: The check whose findings these are.
CHECK = "low-voltage-drop"

#: Single values that ``LightVoltage`` may cite besides those of the driver tree.
LIGHT_VOLTAGE_USES = ("value:low-voltage-drop-limit", "value:resistor-strip-diode-share-most")


@dataclass(frozen=True, slots=True)
class Way:
    """How a place is fed: its own step, the place before it, and the resistance from the driver up to here [ohm]."""

    step: Step
    before: str
    ohm: float


def ways_of(run: Run) -> dict[str, Way]:
    """The way to each place of a run, counting the lesser of two leads; one pass, since steps come parents first."""
    ways: dict[str, Way] = {}
    for step in run.steps:
        above = ways.get(step.from_id)
        ohm = min(lead.high_ohm for lead in step.leads) + (above.ohm if above is not None else 0.0)
        ways[step.to_id] = Way(step, step.from_id, ohm)
    return ways


class LightVoltage:
    """What is to be said about one light, gathered piece by piece."""

    def __init__(
        self,
        run: Run,
        step: Step,
        light: Light,
        best: RunState,
        worst: RunState,
        ways: Mapping[str, Way],
        few: bool,
        book: Rulebook,
    ) -> None:
        """``few``: the run has so few lights that each finding may name what was assumed about all of them."""
        self.run, self.step, self.light, self.ways, self.book = run, step, light, ways, book
        self.few = few
        self.id = light.load.id
        self.served = worst.served
        self.worst_v = worst.lowest_v.get(self.id)
        self.best_v = best.lowest_v.get(self.id)
        self.worst_output = run.output_v(worst=True) or 0.0
        self.best_output = run.output_v(worst=False) or 0.0
        self.cable_a = worst.cable_a
        self.limit_sources: tuple[Source, ...] = ()
        least = light.load.min_voltage_v
        if least is not None:
            self.worst_limit, self.best_limit = least.high, least.low
            self.limit_text = f"{span(least.low, least.high, 'V')} that it needs"
        else:
            share = book.value("low-voltage-drop-limit")
            self.worst_limit = (1.0 - share.number) * self.worst_output
            self.best_limit = (1.0 - share.number) * self.best_output
            self.limit_text = (
                f"{shown_number(self.worst_limit)} V that is usual as the least "
                f"({shown_number(100 * share.number)} % under the driver's output)"
            )
            self.limit_sources = (share.source,)

    def finding(self, impedances: Impedances | None) -> Finding:
        """The finding. ``impedances`` None: without the longest cable and the thinnest conductor."""
        needs: tuple[str, ...] = ()
        if self.best_v is None or exceeds(self.best_limit, self.best_v):
            outcome = Outcome.FAIL
        elif self.worst_v is None or exceeds(self.worst_limit, self.worst_v):
            outcome = Outcome.UNDETERMINED
            needs = self._open_keys()
        else:
            outcome = Outcome.PASS
        advice, chosen, smallest = self._advice(impedances)
        to_do: tuple[str, ...] = ()
        if outcome is not Outcome.PASS:
            spread = self.light.length_m is not None and Feed.ONE_END in self.light.feeds
            middle = ("Or feed the strip in its middle or at both ends.",) if spread else ()
            to_do = (*advice, *middle, "Or move the driver closer, or take lights for a higher voltage.")
        return Finding(
            check=CHECK,
            subject=self.id,
            outcome=outcome,
            says=self._says(outcome),
            value=self.worst_v,
            limit=self.worst_limit,
            unit="V",
            low=self.worst_v,
            high=self.best_v,
            working=(*self._working(), *advice),
            sources=merge_sources(self.limit_sources, self.run.sources, self._light_sources()),
            needs=needs,
            assumed=self.run.assumed if self.few else self.light.assumed,
            assumed_keys=self.run.assumed_keys if self.few else self.light.assumed_keys,
            keys=(
                *(f"cable.{lead.cable.id}.length" for lead in self.step.leads),
                f"low_voltage_load.{self.id}.min_voltage",
            ),
            parts=self._parts(),
            to_do=to_do,
            chosen=chosen,
            smallest=smallest,
            decided_by=CHECK if smallest is not None else None,
        )

    def _open_keys(self) -> tuple[str, ...]:
        least = self.light.load.min_voltage_v
        ranged = least is not None and not least.exact
        own = (*((f"low_voltage_load.{self.id}.min_voltage",) if ranged else ()), *self.light.loose)
        return tuple(dict.fromkeys((*own, *(self.run.loose if self.few else self.run.loose[:MOST_KEYS]))))

    def _says(self, outcome: Outcome) -> str:
        output = f"{shown_number(self.worst_output)} V"
        if self.worst_v is None:
            reason = self._reason()
            if self.best_v is None:
                return f"No voltage serves {self.id}: {reason}"
            return (
                f"{self.id} may get {self._volts(self.best_v, self.best_output)}, or find no voltage at all: {reason}"
            )
        start = f"{self.id} gets {self._volts(self.worst_v, self.worst_output)} of {output} at its lowest point"
        if outcome is Outcome.PASS:
            return f"{start}, and keeps the {self.limit_text}{self._light()}."
        if outcome is Outcome.UNDETERMINED:
            best = self._volts(self.best_v or 0.0, self.best_output)
            return f"{start} at worst and {best} at best, against the {self.limit_text}."
        return f"{start}, under the {self.limit_text}{self._light()}."

    def _volts(self, volts: float, output: float) -> str:
        return f"{shown_number(volts)} V ({shown_number(100.0 * (1.0 - volts / output), 2)} % less)"

    def _reason(self) -> str:
        most = greatest_power_w(self.worst_output, self.ways[self.id].ohm)
        power = self.light.power_w.high
        if power > most:
            return (
                f"it takes {shown_number(power)} W, and these wires can bring it {shown_number(most)} W at most, "
                "however far the voltage falls."
            )
        return "its wires lose more than they bring, however far the voltage falls."

    def _dims(self) -> bool:
        return Law.RESISTOR in self.light.laws

    def _light_shares(self) -> tuple[float, float] | None:
        """Light at the lowest point as a share of the rated light, least and most, for a strip with resistors."""
        if self.worst_v is None or not self._dims():
            return None
        share = self.worst_v / self.worst_output
        steepest = self.book.value("resistor-strip-diode-share-most").number
        return drawn_share(Law.RESISTOR, share, steepest), drawn_share(Law.RESISTOR, share, self.light.diode_share)

    def _light(self) -> str:
        shares = self._light_shares()
        if shares is None:
            return ""
        least, most = (shown_number(100.0 * (1.0 - share), 2) for share in reversed(shares))
        given = "its light falls" if self.light.load.kind is not None else "if it has resistors, its light falls"
        return f"; {given} faster than its volts, by about {least} % to {most} % there"

    def _light_sources(self) -> tuple[Source, ...]:
        if self._light_shares() is None:
            return ()
        return (
            self.book.value("resistor-strip-diode-share").source,
            self.book.value("resistor-strip-diode-share-most").source,
        )

    def _working(self) -> tuple[str, ...]:
        lines = [f"driver's output: {shown_number(self.worst_output)} V"]
        for lead in self.step.leads:
            current = self.cable_a.get(lead.cable.id)
            if current is not None:
                lines.append(
                    f"{lead.cable.id}: {shown_number(current)} A x {shown_number(lead.high_ohm)} ohm (both conductors) "
                    f"= {shown_number(current * lead.high_ohm)} V"
                )
        if self.worst_v is not None:
            lines.append(f"lowest point of {self.id}: {shown_number(self.worst_v, 4)} V")
            lines.append(
                f"{shown_number(100.0 * (1.0 - self.worst_v / self.worst_output))} % under the driver's output"
            )
        if self.best_v is not None and self.best_v != self.worst_v:
            lines.append(f"at best: {shown_number(self.best_v, 4)} V")
        return tuple(lines)

    def _parts(self) -> tuple[Part, ...]:
        """Where the volts go: each cable on the way, and the light itself."""
        if self.worst_v is None:
            return ()
        parts: list[Part] = []
        way: Way | None = self.ways[self.id]
        while way is not None and len(parts) < MOST_KEYS:
            lead = min(way.step.leads, key=lambda one: one.high_ohm)
            current = self.cable_a.get(lead.cable.id, 0.0)
            parts.append(Part(lead.cable.id, current * lead.high_ohm, lead.cable.id))
            way = self.ways.get(way.before)
        parts.reverse()
        rest = self.worst_output - self.worst_v - sum(part.value for part in parts)
        return (*parts, Part("along the light and other lights on the way", max(0.0, rest), self.id))

    def _advice(self, impedances: Impedances | None) -> tuple[tuple[str, ...], str | None, str | None]:
        """Sentences about the cable to this light, its size, and the thinnest size that would do."""
        if impedances is None or len(self.step.leads) != 1:
            return (), None, None
        lead = self.step.leads[0]
        advice = lead_advice(self.run, lead, self.id, self.worst_limit, impedances, self.book)
        size = lead.cable.size
        if advice is None:
            return (
                (f"No cable {lead.cable.id}, however short, would do: the rest of the way loses too much.",),
                size,
                None,
            )
        thinnest = (
            f"the thinnest conductor at this length is {advice.thinnest}"
            if advice.thinnest is not None
            else "no conductor of the table would do at this length"
        )
        if advice.longest_m is None:
            most = f"{rounded_down(in_unit(LONGEST_M, 'ft'))} ft"
            return (
                (f"Up to {most} of {lead.cable.id} in {size} would still do; {thinnest}.",),
                size,
                advice.thinnest,
            )
        longest = f"{rounded_down(in_unit(advice.longest_m, 'ft'))} ft"
        return (
            (f"The longest {lead.cable.id} of {size} that would still do is {longest}; {thinnest}.",),
            size,
            advice.thinnest,
        )
