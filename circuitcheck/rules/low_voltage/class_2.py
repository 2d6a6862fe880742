"""Class 2: whether a driver that is called class 2 can be one, and what follows where it is not.

What it asks: whether the rated volt-amperes and amperes of a driver stay within what a class 2 source may be rated for
at its voltage, and whether its voltage is one of low-voltage lighting at all.

Why: behind a class 2 source thin cable without boxes is allowed, because the source itself cannot give enough to start
a fire. That holds only for a source that is listed and marked so. Behind any other source the rules of house wiring
hold for the low-voltage side as well.

What to do: read the label; it says "Class 2" where it is one. Above the limit, use several class 2 drivers, each with
its own wires, or wire the low-voltage side with methods for house wiring.

Cannot see: drivers with several class 2 outputs, where each output counts alone: enter each output as a driver of its
own. Wet places, where the limits are lower.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitcheck.circuit.model import Circuit, Driver
from circuitcheck.findings import Finding, Outcome, Source, exceeds, merge_sources
from circuitcheck.rules.branch_loads import span
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

KINDS = ("ac", "dc")


@dataclass(frozen=True, slots=True)
class Allowance:
    """What a class 2 source may be rated for at one voltage: [VA], [A]; both zero where there is no such source."""

    power_va: float
    current_a: float
    sources: tuple[Source, ...]


def class_2_allowance(book: Rulebook, kind: str, output_v: float) -> Allowance:
    """The rating that a class 2 source of this kind (``ac``, ``dc``) may have at ``output_v`` [V].

    Source: NFPA 70, Chapter 9, Tables 11(A) and 11(B).
    """
    table = book.table(f"class-2-{kind}")
    row = table.band(output_v)
    if row is None:
        return Allowance(0.0, 0.0, (table.rows[-1].source,))
    current, power = row.number("current"), row.number("power")
    if current is not None:
        return Allowance(current * output_v, current, (row.source,))
    watts = power or 0.0
    return Allowance(watts, watts / output_v, (row.source,))


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """One finding for each driver."""
    for driver in circuit.drivers:
        yield _finding(driver, book)


def _finding(driver: Driver, book: Rulebook) -> Finding:
    place = f"driver.{driver.id}"
    volts, rating = driver.output_voltage_v, driver.output_power_w
    listed = book.value("class-2-source").source
    missing = tuple(
        f"{place}.{name}"
        for name, value in (("output_voltage", volts), ("output_power", rating), ("class_2", driver.class_2))
        if value is None
    )
    if volts is None or rating is None:
        return Finding(
            check=RULE.name,
            subject=driver.id,
            outcome=Outcome.UNDETERMINED,
            says=f"Cannot tell which wiring rules hold behind {driver.id}: its label has not been read.",
            unit="VA",
            sources=(listed,),
            needs=missing,
            keys=missing[:1],
        )
    kinds = KINDS if driver.output_kind is None else (driver.output_kind,)
    too_high = _beyond_low_voltage(driver, kinds, book)
    if too_high is not None:
        return too_high
    limits = [class_2_allowance(book, kind, end) for kind in kinds for end in (volts.low, volts.high)]
    least, most = min(one.power_va for one in limits), max(one.power_va for one in limits)
    amperes = min(one.current_a for one in limits)
    drawn = span(rating.low, rating.high, "VA")
    working = (
        f"rating {drawn} at {span(volts.low, volts.high, 'V')} = "
        f"{span(rating.low / volts.high, rating.high / volts.low, 'A')}",
        f"a class 2 source of that voltage: {span(least, most, 'VA')} and {shown_number(amperes)} A at most",
    )
    over, certain = exceeds(rating.high, least), exceeds(rating.low, most)
    needs: tuple[str, ...] = ()
    to_do: tuple[str, ...] = ()
    if driver.class_2 is None:
        outcome = Outcome.UNDETERMINED
        needs = (f"{place}.class_2",)
        tail = "its rating is too high for that" if certain else "only its label tells"
        says = f"Cannot tell whether {driver.id} is a class 2 source; {tail}."
        to_do = ("Look for the words Class 2 on the label; until then wire as if it were not.",)
    elif not driver.class_2:
        outcome = Outcome.CAUTION
        says = (
            f"{driver.id} is not a class 2 source, so the wires behind it follow the rules of house wiring: cable for "
            "branch circuits, splices in boxes."
        )
        to_do = ("Use no class 2 cable behind it, and no open splices.",)
    elif not over:
        outcome = Outcome.PASS
        says = f"{driver.id} is made for {drawn}; a class 2 source of its voltage may give {span(least, most, 'VA')}."
    elif certain:
        outcome = Outcome.FAIL
        says = (
            f"{driver.id} is called class 2, but {drawn} is more than the {span(least, most, 'VA')} that a class 2 "
            "source of its voltage may give."
        )
        to_do = ("Read the label again: the output voltage, the watts of each output, the words Class 2.",)
    else:
        outcome = Outcome.UNDETERMINED
        says = f"{driver.id} is called class 2; whether {drawn} is within the limit depends on what is not known."
        needs = tuple(_open_keys(driver))
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=outcome,
        says=says,
        value=rating.high,
        limit=least,
        unit="VA",
        low=rating.low,
        high=rating.high,
        working=working,
        sources=merge_sources((listed,), *(one.sources for one in limits)),
        needs=needs,
        keys=(f"{place}.class_2", f"{place}.output_power"),
        to_do=to_do,
    )


def _open_keys(driver: Driver) -> Iterator[str]:
    """The keys that keep the answer open."""
    place = f"driver.{driver.id}"
    if driver.output_kind is None:
        yield f"{place}.output_kind"
    if driver.output_voltage_v is not None and not driver.output_voltage_v.exact:
        yield f"{place}.output_voltage"
    if driver.output_power_w is not None and not driver.output_power_w.exact:
        yield f"{place}.output_power"


def _beyond_low_voltage(driver: Driver, kinds: tuple[str, ...], book: Rulebook) -> Finding | None:
    """A finding where the output is above what the book calls low-voltage lighting, in volts or in amperes."""
    volts, rating = driver.output_voltage_v, driver.output_power_w
    if volts is None or rating is None:
        return None
    limits = [book.value(f"low-voltage-lighting-{kind}") for kind in kinds]
    current = book.value("low-voltage-lighting-current")
    highest = max(limit.number for limit in limits)
    if exceeds(volts.low, highest):
        reason = f"{shown_number(volts.low)} V, and low-voltage lighting ends at {shown_number(highest)} V"
        sources = tuple(limit.source for limit in limits)
    elif exceeds(rating.low / volts.high, current.number):
        reason = (
            f"{shown_number(rating.low / volts.high)} A, and a low-voltage lighting circuit may be made for "
            f"{shown_number(current.number)} A at most"
        )
        sources = (current.source,)
    else:
        return None
    return Finding(
        check=RULE.name,
        subject=driver.id,
        outcome=Outcome.FAIL,
        says=f"The output of {driver.id} is {reason}: the rules checked here do not cover it.",
        value=rating.high,
        unit="VA",
        low=rating.low,
        high=rating.high,
        sources=sources,
        keys=(f"driver.{driver.id}.output_voltage", f"driver.{driver.id}.output_power"),
        to_do=("Read the output on the label again; if it is right, leave this output to a licensed electrician.",),
        ask=("Which wiring rules hold for this output?",),
    )


RULE = Rule(
    name="class-2",
    title="Class 2 limit of a driver",
    family="low voltage",
    uses=(
        "class-2-ac",
        "class-2-dc",
        "value:class-2-source",
        "value:low-voltage-lighting-ac",
        "value:low-voltage-lighting-dc",
        "value:low-voltage-lighting-current",
    ),
    check=check,
)
