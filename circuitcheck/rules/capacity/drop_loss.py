"""What the rule of voltage drop knows about a circuit once it is solved: losses, and the volts that arrive."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Part, Source, merge_sources
from circuitcheck.quantities import Interval
from circuitcheck.rules.capacity.branch_state import BranchState, Terminals
from circuitcheck.rules.capacity.drop_words import span
from circuitcheck.rules.capacity.solved_branch import branch_state
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

#: Keys that one finding names at most, so that a circuit of thousands of unknowns stays readable.
NAMED = 40


@dataclass(slots=True)
class DropContext:
    """What all findings of one check share. ``legs``: sentences and keys about each leg's open loads.

    ``lines`` and ``parts`` hold what was already written about a stretch, by its node.
    """

    state: BranchState
    terminals: Terminals | None
    panel_v: tuple[float, float]
    limit: float
    total: float
    sources: tuple[Source, ...]
    measured: str
    supply_keys: tuple[str, ...]
    legs: list[tuple[tuple[str, ...], tuple[str, ...]]]
    lines: dict[int, str] = field(default_factory=dict)
    parts: dict[int, Part] = field(default_factory=dict)


def drop_context(circuit: Circuit, book: Rulebook) -> DropContext:
    """The circuit solved, and what all its findings share."""
    state = branch_state(circuit, book)
    branch, total = book.value("voltage-drop-recommended-branch"), book.value("voltage-drop-recommended-total")
    supply = circuit.supply
    panel = supply.measured_voltage_v or supply.voltage_v
    impedance = supply.impedance_ohm or Interval(0.0, 0.0)
    terminals = None
    if supply.measured_voltage_v is not None or supply.impedance_ohm is not None:
        terminals = state.terminal_volts(panel.low, panel.high, impedance.low, impedance.high)
    given = {"voltage": supply.voltage_v, "measured_voltage": supply.measured_voltage_v, "impedance": impedance}
    measured = "measured" if supply.measured_voltage_v is not None else "nominal"
    if supply.impedance_ohm is not None:
        measured += f" behind {span(impedance.low, impedance.high, 'ohm')} of supply"
    return DropContext(
        state=state,
        terminals=terminals,
        panel_v=(panel.low, panel.high),
        limit=100.0 * branch.number,
        total=100.0 * total.number,
        sources=merge_sources((branch.source, total.source), state.sources),
        measured=measured,
        supply_keys=tuple(f"supply.{name}" for name, value in given.items() if value is not None and not value.exact),
        legs=[_about_leg(leg.unknown_factors, leg.losses_left_out, book) for leg in state.legs],
    )


def _about_leg(
    unknown_factors: list[str], losses_left_out: list[str], book: Rulebook
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is assumed about the other loads and cables of a leg: sentences and keys."""
    sentences = []
    if unknown_factors:
        worst = shown_number(book.value("unknown-power-factor").number)
        sentences.append(f"loads without a power factor are counted with anything from {worst} to 1")
    if losses_left_out:
        names = ", ".join(losses_left_out[:3]) + (" and more" if len(losses_left_out) > 3 else "")
        sentences.append(
            f"the losses in cables of unknown length or size ({names}) are left out of the current that others share"
        )
    return tuple(sentences), (*unknown_factors[:NAMED], *losses_left_out[:NAMED])


class DropLoss(NamedTuple):
    """The volts lost up to one node and those that arrive, best and worst end; None where there is no such end."""

    low_percent: float | None
    high_percent: float | None
    low_v: float
    high_v: float
    best_arrives_v: float | None
    worst_arrives_v: float | None


def drop_loss(node: int, context: DropContext) -> DropLoss:
    """The loss up to ``node`` (-1: the panel itself), from nominal voltage; and what arrives there."""
    low_panel, high_panel = context.panel_v
    if node < 0:
        return DropLoss(0.0, 0.0, 0.0, 0.0, high_panel, low_panel)
    stretch = context.state.stretches[node]
    low_v, high_v = stretch.low_loss_v, stretch.high_loss_v
    best, worst = (
        (high_panel - low_v if low_v is not None else None, low_panel - high_v if high_v is not None else None)
        if context.terminals is None
        else context.terminals.at(node)
    )
    low_nominal, high_nominal = context.state.volts
    return DropLoss(
        low_percent=None if low_v is None else 100.0 * low_v / high_nominal,
        high_percent=None if high_v is None else 100.0 * high_v / low_nominal,
        low_v=low_v or 0.0,
        high_v=high_v or 0.0,
        best_arrives_v=best,
        worst_arrives_v=worst,
    )
