"""Lights in clothes closets, a part of the clearance check: the kinds that are allowed, and their distances."""

from __future__ import annotations

from collections.abc import Iterator

from circuitcheck.circuit.model import Load
from circuitcheck.findings import Finding, Outcome
from circuitcheck.rules.site.clearance_findings import clearance_finding, distance_finding
from circuitcheck.tables.rulebook import Rulebook

USES = ("value:closet-clearance-surface", "value:closet-clearance-recessed", "value:closet-open-lamps")
HOT = ("incandescent", "halogen")
MARKED_KINDS = ("LED", "fluorescent")

Judged = tuple[Outcome, str, tuple[str, ...]]


def closet_findings(check: str, load: Load, book: Rulebook) -> Iterator[Finding]:
    """Up to two findings about one light in a clothes closet: whether it is of an allowed kind, and its distance."""
    kinds = book.value("closet-open-lamps")
    keys = (f"load.{load.id}.lamp", f"load.{load.id}.enclosed", f"load.{load.id}.closet_marked")
    judged = _kind(load, keys)
    if judged is not None:
        outcome, says, needs = judged
        yield clearance_finding(check, load, outcome, says, kinds, needs=needs, keys=keys)
        if outcome in (Outcome.FAIL, Outcome.PASS):
            return
    near = load.mounting == "recessed" or load.lamp == "fluorescent"
    limit = book.value("closet-clearance-recessed" if near else "closet-clearance-surface")
    yield distance_finding(
        check,
        load,
        load.closet_distance_m,
        limit,
        f"load.{load.id}.closet_distance",
        "from the storage space of the closet",
    )


def _kind(load: Load, keys: tuple[str, str, str]) -> Judged | None:
    """Whether the kind of light is allowed in a closet; None where it is and only the distance counts."""
    lamp_key, enclosed_key, _ = keys
    if load.mounting == "pendant":
        return Outcome.FAIL, f"{load.id} hangs down, and no pendant is allowed in a clothes closet.", ()
    if load.closet_marked and load.lamp in MARKED_KINDS and load.mounting != "recessed":
        return Outcome.PASS, f"{load.id} is marked for use inside the storage space of a closet.", ()
    if load.enclosed or load.lamp == "fluorescent":
        return None
    if load.enclosed is False and load.lamp in HOT:
        return Outcome.FAIL, f"{load.id} has an open hot lamp, which is not allowed in a clothes closet.", ()
    if load.enclosed is False and load.lamp == "LED":
        says = (
            f"{load.id} has an open lamp: in a clothes closet an LED light is fully enclosed or marked for that place."
        )
        return Outcome.FAIL, says, ()
    if load.lamp == "LED":
        return Outcome.CAUTION, f"Choose {load.id} with a fully enclosed lamp, as a clothes closet asks.", ()
    needs = tuple(key for key, value in ((lamp_key, load.lamp), (enclosed_key, load.enclosed)) if value is None)
    return Outcome.UNDETERMINED, f"Cannot tell whether {load.id} has an open hot lamp in the closet.", needs
