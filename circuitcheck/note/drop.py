"""The volts that arrive at each load and driver, and at the lights behind drivers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from circuitcheck.checking.volts import Arriving, BranchVolts, branch_volts
from circuitcheck.circuit.model import PANEL, Circuit
from circuitcheck.findings import Finding, Part
from circuitcheck.note.alike import SHORT, alike_together
from circuitcheck.note.answer import outcome_word
from circuitcheck.note.known import physical
from circuitcheck.note.typeset import figures, needed, typeset
from circuitcheck.paper import Cell, Column, Known, Row, Section, Table
from circuitcheck.quantities import down_to
from circuitcheck.tables.rulebook import Rulebook
from circuitcheck.text import shown_number

COLUMNS = (
    Column("Load or driver", 2.2),
    Column("Lost V", 1.4, numeric=True),
    Column("Lost %", 1.4, numeric=True),
    Column("V there, worst case", 1.2, numeric=True),
    Column("Needs V", 1.3, numeric=True),
    Column("Lost in (V)", 3.2),
    Column("Answer", 1.2),
)

LOW_COLUMNS = (Column("Check", 1.4), Column("Part", 1.5), Column("What was found", 5.5), Column("Answer", 1.2))

LOW_CHECKS = ("driver-capacity", "class-2", "low-voltage-drop")

#: Shares of a drop that are named, the largest first; a usual circuit has fewer.
MOST_SHARES = 8


class Volts:
    """The solved branch circuit: what arrives where."""

    def __init__(self, circuit: Circuit, book: Rulebook) -> None:
        """Solve the circuit once for all tables and the diagram."""
        self.circuit = circuit
        self.branch: BranchVolts = branch_volts(circuit, book)

    def shown(self, low_voltage: Sequence[Finding]) -> dict[str, str]:
        """What the diagram shows beside each box, load and driver, by id, and beside lights behind drivers."""
        branch = self.branch
        shown = {PANEL: f"{shown_number(branch.panel_v[0], 4)} V"}
        for name, there in (*branch.boxes.items(), *branch.parts.items()):
            if not there.known:
                shown[name] = "? V"
            else:
                shown[name] = f"{down_to(there.arrives_v, 1)} V" if there.arrives_v is not None else "none"
        for finding in low_voltage:
            volts = finding.value if not finding.is_without_bound else None
            shown[finding.subject] = f"{down_to(volts, 2)} V" if volts is not None else "? V"
        return shown


def drop_section(circuit: Circuit, volts: Volts, findings: Mapping[str, Finding]) -> Section:
    """A row for each load and driver. ``findings``: those of voltage-drop by id."""
    branch = volts.branch
    rows = [_row(name, there, circuit, branch, findings.get(name)) for name, there in branch.parts.items()]
    if len(rows) > SHORT:
        rows = [Row((*row.cells[:5], Cell("as in the file"), row.cells[6])) for row in rows]
    rows = alike_together(rows, spread=(1, 2, 3))
    read = "measured" if branch.measured else "nominal"
    if branch.impedance_ohm is not None:
        read += f" behind {figures(*branch.impedance_ohm, 2)} ohm of supply"
    note = (
        f"From {figures(*branch.panel_v, 1)} V ({read}) at the panel, everything on. Lost %: of nominal, "
        f"from the panel on; {shown_number(branch.limit_percent)} % is recommended, not a rule."
    )
    return Section("Voltage drop", (Table("", COLUMNS, tuple(rows), note),), together=False)


def _row(name: str, there: Arriving, circuit: Circuit, branch: BranchVolts, finding: Finding | None) -> Row:
    tree = circuit.tree
    part = tree.load.get(name) or tree.driver.get(name)
    minimum = part.min_voltage_v if part is not None else None
    if there.known and there.least_v is None:
        lost, percent, arrives = Cell(""), Cell("no voltage works"), Cell("none")
    elif not there.known or there.least_v is None or there.most_v is None:
        lost, percent, arrives = Cell(""), Cell("", Known.UNKNOWN), Cell("")
    else:
        low_v, high_v = sorted((there.least_v, there.most_v))
        lost = Cell(needed(low_v, high_v, 2))
        least, most = 100.0 * there.least_v / branch.nominal_v[1], 100.0 * there.most_v / branch.nominal_v[0]
        percent = Cell(needed(least, most, 2))
        arrives = Cell(down_to(there.arrives_v, 2) if there.arrives_v is not None else "none")
    return Row(
        (
            Cell(name),
            lost,
            percent,
            arrives,
            physical(minimum, "V") if minimum is not None else Cell(""),
            Cell(_shares(finding.parts) if finding is not None and there.known else ""),
            Cell(outcome_word(finding) if finding is not None else ""),
        )
    )


def _shares(parts: Sequence[Part]) -> str:
    """Where the volts are lost, every cable by name; of a very long way the largest, and how many there are besides."""
    shares = sorted(parts, key=lambda share: -share.value)
    told = [f"{share.name} {share.value:.2f}" for share in shares[:MOST_SHARES]]
    rest = shares[MOST_SHARES:]
    others = f"{len(rest)} others together {sum(share.value for share in rest):.2f}"
    return ", ".join([*told, others] if rest else told)


def low_voltage_section(findings: Sequence[Finding]) -> Section | None:
    """What was found about drivers and the lights behind them; None where there are none."""
    mine = [finding for finding in findings if finding.check in LOW_CHECKS]
    if not mine:
        return None
    rows = tuple(
        Row((Cell(finding.check), Cell(finding.subject), Cell(typeset(finding.says)), Cell(outcome_word(finding))))
        for finding in mine
    )
    return Section("Drivers and low-voltage lights", (Table("", LOW_COLUMNS, rows),), together=False)
