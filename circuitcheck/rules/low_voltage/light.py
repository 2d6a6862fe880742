"""A low-voltage light as the file describes it: what it draws at its worst and at its best, and what was assumed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from circuitcheck.circuit.model import Driver, LowVoltageLoad
from circuitcheck.findings import Source
from circuitcheck.physics.low_voltage_network import Network
from circuitcheck.physics.low_voltage_strip import Feed, Lamp, Law, Place, Strip, add_lamp, add_strip
from circuitcheck.quantities import Interval
from circuitcheck.tables.rulebook import Rulebook

#: What ``light_of`` may cite.
LIGHT_USES = ("value:unknown-strip-resistance", "value:resistor-strip-diode-share")

_NOTHING = Interval(0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """A light with its two ends. ``length_m`` None: it sits at one point.

    ``laws`` and ``feeds`` are (best, worst): the kind or feed given, or where it is unknown the two that bound it.
    """

    load: LowVoltageLoad
    power_w: Interval
    length_m: Interval | None
    resistance_ohm_per_m: Interval
    laws: tuple[Law, Law]
    feeds: tuple[Feed, Feed]
    diode_share: float
    carries_on: bool
    needs: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    assumed_keys: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()

    def law(self, *, worst: bool) -> Law:
        """How its current answers to the voltage at this end."""
        return self.laws[1 if worst else 0]

    def add_to(
        self,
        network: Network,
        parent: int,
        resistances: Sequence[float],
        rated_v: float,
        *,
        worst: bool,
        worst_wires: bool,
    ) -> Place:
        """Add it to a network behind leads of these resistances (two for a strip with a lead to each end) [ohm].

        ``worst_wires``: the end at which its own conductors, and where it is fed, are taken.
        """
        power_w = self.power_w.high if worst else self.power_w.low
        law = self.law(worst=worst)
        if self.length_m is None:
            lamp = Lamp(law=law, power_w=power_w, rated_v=rated_v, diode_share=self.diode_share)
            return add_lamp(network, parent, resistances[0], lamp)
        ohm = self.resistance_ohm_per_m
        strip = Strip(
            law=law,
            power_w=power_w,
            rated_v=rated_v,
            length_m=self.length_m.high if worst else self.length_m.low,
            resistance_ohm_per_m=ohm.high if worst_wires else ohm.low,
            diode_share=self.diode_share,
        )
        return add_strip(
            network,
            parent,
            resistances[0],
            strip,
            self.feeds[1 if worst_wires else 0],
            return_ohm=resistances[1] if len(resistances) > 1 else None,
            carries_on=self.carries_on,
        )


class _Found:
    """What is gathered while a light is looked at."""

    def __init__(self, place: str) -> None:
        self.place = place
        self.needs: list[str] = []
        self.loose: list[str] = []
        self.assumed: list[str] = []
        self.assumed_keys: list[str] = []
        self.sources: list[Source] = []

    def assume(self, sentence: str, key: str) -> None:
        self.assumed.append(sentence)
        self.assumed_keys.append(f"{self.place}.{key}")
        self.loose.append(f"{self.place}.{key}")

    def range(self, interval: Interval, key: str) -> Interval:
        if not interval.exact:
            self.loose.append(f"{self.place}.{key}")
        return interval


def light_of(load: LowVoltageLoad, driver: Driver, book: Rulebook, *, carries_on: bool) -> Light:
    """The light of a file's entry behind ``driver``. ``carries_on``: a further cable leaves it."""
    found = _Found(f"low_voltage_load.{load.id}")
    power_w, length_m = _power(load, found)
    laws, share = _laws(load, length_m is not None, book, found)
    feeds = (Feed.ONE_END, Feed.ONE_END)
    resistance = _NOTHING
    if length_m is not None:
        feeds = _feeds(load, found)
        resistance = _resistance(load, book, found)
    return Light(
        load=load,
        power_w=power_w,
        length_m=length_m,
        resistance_ohm_per_m=resistance,
        laws=laws,
        feeds=feeds,
        diode_share=share,
        carries_on=carries_on,
        needs=tuple(found.needs),
        loose=tuple(found.loose),
        assumed=tuple(found.assumed),
        assumed_keys=tuple(found.assumed_keys),
        sources=tuple(found.sources),
    )


def _power(load: LowVoltageLoad, found: _Found) -> tuple[Interval, Interval | None]:
    """Rated power of the whole light [W] and its length where it is spread."""
    per_length, length = load.power_per_length_w_per_m, load.length_m
    if per_length is not None:
        if length is None:
            found.needs.append(f"{found.place}.length")
            return _NOTHING, _NOTHING
        found.range(per_length, "power_per_length")
        found.range(length, "length")
        return Interval(per_length.low * length.low, per_length.high * length.high), length
    if load.power_w is not None:
        if length is not None:
            found.range(length, "length")
        return found.range(load.power_w, "power"), length
    found.needs.append(f"{found.place}.{'power' if length is None else 'power_per_length'}")
    return _NOTHING, length


def _laws(load: LowVoltageLoad, spread: bool, book: Rulebook, found: _Found) -> tuple[tuple[Law, Law], float]:
    """How the current answers to the voltage, (best, worst), and the diodes' share of the rated voltage."""
    share = book.value("resistor-strip-diode-share")
    if load.kind is not None:
        law = Law(load.kind)
        if law is Law.RESISTOR:
            found.sources.append(share.source)
        return (law, law), share.number
    found.sources.append(share.source)
    found.assume(
        f"{load.id}: how it draws current is not given, so it counts as keeping its power at worst (lowest voltage) "
        f"and as a {'strip' if spread else 'lamp'} with resistors at best.",
        "kind",
    )
    return (Law.RESISTOR, Law.POWER), share.number


def _feeds(load: LowVoltageLoad, found: _Found) -> tuple[Feed, Feed]:
    if load.fed_from is not None:
        feed = Feed(load.fed_from)
        return feed, feed
    found.assume(f"{load.id}: where it is fed is not given, so one end is counted at worst.", "fed_from")
    return Feed.MIDDLE, Feed.ONE_END


def _resistance(load: LowVoltageLoad, book: Rulebook, found: _Found) -> Interval:
    """Resistance of the strip's own two conductors together [ohm/m]."""
    if load.resistance_per_length_ohm_per_m is not None:
        return found.range(load.resistance_per_length_ohm_per_m, "resistance_per_length")
    worst = book.value("unknown-strip-resistance")
    found.sources.append(worst.source)
    found.assume(
        f"{load.id}: the resistance of its own conductors is not given, so anything from nothing to that of a thin, "
        "narrow copper foil is counted.",
        "resistance_per_length",
    )
    return Interval(0.0, worst.number)
