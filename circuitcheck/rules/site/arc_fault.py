"""Arc-fault protection: what an extension of the circuit sets off in the rooms that the book lists.

What it asks: whether the circuit that is extended has arc-fault protection, where the room and the edition call for
it.

Why: adding an outlet to a circuit in a listed room brings the whole circuit under the rule, however old it is. Watts
do not matter. It is among the first things an inspector looks for.

What to do: plan for a combination-type arc-fault breaker made for the panel, or ask whether a listed outlet-type
device at the first receptacle is accepted. A circuit with a shared neutral needs its own answer.

Cannot see: local amendments, which often change this rule, and whether a panel takes an arc-fault breaker. Dormitory
units and guest rooms are not judged. Experts differ on where the device may stand when the first outlet is a light.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome, Source, exceeds
from circuitcheck.quantities import in_unit
from circuitcheck.rules.parts import has_added_outlet, has_added_work, is_added, room_of
from circuitcheck.rules.rule import Rule
from circuitcheck.tables.rulebook import Rulebook

PROTECTION = "supply.protection"
ASK = (
    "Does the local code keep this arc-fault rule as printed, and where may the protection stand when the first outlet "
    "of the circuit is a light?",
)


def _rooms(circuit: Circuit) -> tuple[set[str], set[str]]:
    """Rooms of the added outlets that are known, and the keys of those that are not."""
    known: set[str] = set()
    missing: set[str] = set()
    boxes = circuit.tree.box
    homes = [load.box for load in circuit.loads if is_added(load)]
    homes += [driver.box for driver in circuit.drivers if driver.origin != "existing"]
    for home in homes or [box.id for box in circuit.boxes if is_added(box)] or [""]:
        room = room_of(circuit, boxes.get(home))
        if room is None:
            missing.add("site.room")
        else:
            known.add(room)
    return known, missing


def _short_extension(circuit: Circuit, longest_m: float) -> bool | None:
    """Whether all added cable together is short enough for the exception; None when a length is unknown."""
    total = 0.0
    for cable in circuit.tree.branch_cables:
        if is_added(cable):
            if cable.length_m is None:
                return None
            total += cable.length_m.high
    return not exceeds(total, longest_m)


def check(circuit: Circuit, book: Rulebook) -> Iterator[Finding]:
    """At most one finding, about the circuit; none where nothing is added or the rule cannot apply."""
    rooms = book.value("arc-fault-rooms")
    short = book.value("arc-fault-short-extension")
    largest = book.value("arc-fault-largest-circuit")
    sources = (rooms.source, short.source, largest.source)
    if not has_added_work(circuit) or circuit.site.dwelling is False:
        return
    if exceeds(circuit.supply.breaker_a.low, largest.number):
        return
    known, missing = _rooms(circuit)
    listed = sorted(known & set(rooms.items))
    if not listed and not missing:
        return
    exempt = None if has_added_outlet(circuit) else _short_extension(circuit, short.number)
    yield from _answer(circuit, listed, missing, exempt, sources, in_unit(short.number, "ft"))


def _answer(
    circuit: Circuit,
    listed: list[str],
    missing: set[str],
    exempt: bool | None,
    sources: tuple[Source, ...],
    short_ft: float,
) -> Iterable[Finding]:
    protection = circuit.supply.protection
    where = ", ".join(listed) if listed else "a room that the file does not name"
    needs: list[str] = []
    outcome = Outcome.FAIL
    if protection in ("arc-fault", "both"):
        outcome, says = Outcome.PASS, f"The circuit has arc-fault protection, which an extension in {where} calls for."
    elif exempt:
        outcome = Outcome.PASS
        says = f"Only a splice is moved: the added cable is at most {short_ft:g} ft and no outlet or device is added."
    elif protection is None or not listed:
        outcome = Outcome.UNDETERMINED
        needs = ([PROTECTION] if protection is None else []) + ([] if listed else sorted(missing))
        says = (
            f"An extension in {where} may call for arc-fault protection of the whole circuit; the file "
            "does not settle it."
        )
    else:
        says = f"Adding an outlet in {where} calls for arc-fault protection of the whole circuit, and it has none."
    yield Finding(
        check=RULE.name,
        subject="circuit",
        outcome=outcome,
        says=says,
        working=(
            f"rooms of the added work: {where}",
            f"protection: {protection or 'unknown'}",
            f"exception for at most {short_ft:g} ft of cable: "
            + ("holds, no outlet or device is added" if exempt else "does not hold or is not shown to"),
        ),
        sources=sources,
        needs=tuple(needs),
        keys=(PROTECTION, "site.room"),
        to_do=()
        if outcome is Outcome.PASS
        else (
            "Plan for arc-fault protection of the circuit (a breaker made for this panel, or a "
            "listed outlet-type device "
            "where accepted), and settle it with the electrician or the inspector before buying.",
        ),
        ask=() if outcome is Outcome.PASS else ASK,
    )


RULE = Rule(
    name="arc-fault",
    title="Arc-fault protection when a circuit is extended",
    family="site",
    uses=("value:arc-fault-rooms", "value:arc-fault-short-extension", "value:arc-fault-largest-circuit"),
    check=check,
)
