"""The file as it stands now, examined: problems or a report, the drawing, the gauges, and what each entry needs."""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from circuitcheck.checking import check, worst_first
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import circuit_in
from circuitcheck.circuit.written.block import Block, data_of, text_of
from circuitcheck.errors import CircuitFileError, Problem
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, VERDICT_WORD
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from circuitcheck.ui.document.long_form import long_form
from circuitcheck.ui.drawing import DrawnPart, circuit_drawing, straight_runs
from circuitcheck.ui.gauges import Gauge, gauges_of
from circuitcheck.ui.rows import FindingRows, Row, circuit_rows, fault_row, problem_rows
from circuitcheck.ui.spans import Line


@dataclass(frozen=True, slots=True)
class Checked:
    """What is known about one state of the file.

    ``report`` and ``circuit`` are None while ``problems`` is to be corrected first. ``fault`` is a fault of the
    program itself. ``needs`` says per key whether it decides an open answer or had the worst case taken.
    """

    blocks: tuple[Block, ...]
    drawing: tuple[DrawnPart, ...]
    report: Report | None = None
    circuit: Circuit | None = None
    findings: tuple[Finding, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    problems: tuple[Problem, ...] = ()
    fault: str = ""
    needs: Mapping[str, str] = field(default_factory=dict)
    wrong: Mapping[str, str] = field(default_factory=dict)
    circuit_rows: tuple[Row, ...] = ()
    finding_rows: Sequence[Row] = ()
    straight: Mapping[str, int] = field(default_factory=dict)

    def need_of(self, path: str) -> str:
        """Whether a key path "decides", had the "worst case" taken, or neither (empty)."""
        return self.needs.get(path, "")

    def problem_of(self, path: str) -> str:
        """What is wrong with the entry at a key path, or empty."""
        return self.wrong.get(path, "")

    def verdict_line(self) -> Line:
        """The answer and how the findings divide, in a line."""
        if self.fault:
            return (("✗ PROGRAM FAULT", "fail"), ("  no answer; see the findings", "plain"))
        if self.report is None:
            count = len(self.problems)
            entries = "1 entry" if count == 1 else f"{count} entries"
            return (("✗ NO ANSWER YET", "fail"), (f"  {entries} to correct first", "plain"))
        counts = Counter(finding.outcome for finding in self.findings)
        worst = next((o for o in (Outcome.FAIL, Outcome.UNDETERMINED) if counts[o]), Outcome.PASS)
        if self.report.faults and worst is Outcome.PASS:
            worst = Outcome.UNDETERMINED
        role = {Outcome.FAIL: "fail", Outcome.UNDETERMINED: "unknown", Outcome.PASS: "pass"}[worst]
        order = (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.CAUTION, Outcome.PASS)
        parts = [f"{counts[outcome]} {OUTCOME_WORD[outcome].lower()}" for outcome in order if counts[outcome]]
        stop = (("  STOP FIRST", "fail"),) if self.report.stop else ()
        return (
            (f"{OUTCOME_MARK[worst]} {VERDICT_WORD[self.report.verdict]}", role),
            *stop,
            *((f"  fault of the program in check {fault.check}", "fail") for fault in self.report.faults),
            ("  " + ", ".join(parts) if parts else "  nothing to check yet", "plain"),
        )


def examine(blocks: Sequence[Block], file: str, before: Mapping[str, int] | None = None) -> Checked:
    """Reads and checks the file as its blocks stand. ``before``: the straight runs of the drawing that is shown."""
    blocks = tuple(blocks)
    parts = long_form(blocks).parts
    straight = straight_runs(parts, before)
    try:
        circuit = as_planned(circuit_in(data_of(blocks), text_of(blocks), file, vocabulary()))
        report = check(circuit, load_rulebook(circuit.job.rulebook))
    except CircuitFileError as wrong:
        drawing = circuit_drawing(parts, (), straight)
        return Checked(
            blocks,
            drawing,
            problems=wrong.problems,
            wrong={problem.key: problem_text(problem) for problem in wrong.problems},
            circuit_rows=circuit_rows(drawing),
            finding_rows=problem_rows(wrong.problems, problem_text),
            straight=straight,
        )
    except Exception as fault:  # shown on screen as what it is; the work on the file must not be lost with it
        drawing = circuit_drawing(parts, (), straight)
        says = f"{type(fault).__name__}: {fault}"
        rows = (fault_row(says),)
        return Checked(
            blocks, drawing, fault=says, circuit_rows=circuit_rows(drawing), finding_rows=rows, straight=straight
        )
    findings = tuple(worst_first(report.findings))
    drawing = circuit_drawing(parts, findings, straight)
    return Checked(
        blocks,
        drawing,
        report,
        circuit,
        findings,
        gauges_of(report, circuit),
        needs={unknown.key: "decides" if unknown.decides else "worst case" for unknown in report.unknowns},
        circuit_rows=circuit_rows(drawing),
        finding_rows=FindingRows(findings),
        straight=straight,
    )


def problem_text(problem: Problem) -> str:
    """The problem as a sentence, without file and line."""
    says = problem.says[:1].upper() + problem.says[1:]
    given = f" (written: {problem.given})" if problem.given else ""
    allowed = f" Allowed: {problem.allowed}." if problem.allowed else ""
    meant = f" Did you mean {problem.nearest}?" if problem.nearest else ""
    return f"{says}{given}.{allowed}{meant}"


class Examiner:
    """Examines in a thread of its own, always the newest state only, so that typing never waits."""

    def __init__(self, deliver: Callable[[Checked], None]) -> None:
        """``deliver`` is called in that thread with each result."""
        self._deliver = deliver
        self._state = threading.Condition()
        self._waiting: tuple[tuple[Block, ...], str] | None = None
        self._closed = False
        self._thread = threading.Thread(target=self._work, name="examiner", daemon=True)
        self._thread.start()

    def ask(self, blocks: tuple[Block, ...], file: str) -> None:
        """Asks for this state; one that was asked for and not begun is dropped."""
        with self._state:
            self._waiting = (blocks, file)
            self._state.notify()

    def close(self) -> None:
        """Ends the thread after what it is at."""
        with self._state:
            self._closed = True
            self._state.notify()

    def _work(self) -> None:
        straight: Mapping[str, int] = {}
        while True:
            with self._state:
                while self._waiting is None and not self._closed:
                    self._state.wait()
                if self._closed:
                    return
                assert self._waiting is not None  # noqa: S101  (the loop above waits for it)
                blocks, file = self._waiting
                self._waiting = None
            checked = examine(blocks, file, straight)
            straight = checked.straight
            self._deliver(checked)
