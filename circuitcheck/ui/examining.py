"""The file as it stands now, examined: problems or a report, the drawing, the gauges, and what each entry needs."""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import inf
from time import monotonic

from circuitcheck.checking import worst_first
from circuitcheck.checking.check_again import Told, check_again, made_ready
from circuitcheck.circuit.conversion import Converted
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.planning import as_planned
from circuitcheck.circuit.reader import circuit_in
from circuitcheck.circuit.written.block import Block, data_of, text_of
from circuitcheck.errors import CircuitFileError, Problem
from circuitcheck.findings import Finding, Outcome, Report
from circuitcheck.outcomes import OUTCOME_MARK, OUTCOME_WORD, VERDICT_WORD
from circuitcheck.refs import Ref
from circuitcheck.tables.rulebook import load_rulebook, vocabulary
from circuitcheck.ui.collecting import PAUSE_S, collect_all, collect_some
from circuitcheck.ui.document.long_form import long_form
from circuitcheck.ui.drawing import DrawnPart, circuit_drawing, straight_runs
from circuitcheck.ui.gauges import Gauge, gauges_of
from circuitcheck.ui.rows import FindingRows, Row, circuit_rows, fault_row, problem_rows
from circuitcheck.ui.spans import Line


class AskedAnewError(Exception):
    """Something else is asked for."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What is known about one state of the file.

    ``report`` and ``circuit`` are None while ``problems`` is to be corrected first. ``fault`` is a fault of the
    program itself. ``needs`` says per key whether it decides an open answer or had the worst case taken. ``told``: the
    report with what it was made from, for the check of the next state.
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
    told: Told | None = None

    @property
    def is_whole(self) -> bool:
        """Whether every rule was asked about this very state."""
        return self.told is None or self.told.is_whole

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


def examine(
    blocks: Sequence[Block],
    file: str,
    before: Mapping[str, int] | None = None,
    told: Told | None = None,
    go_on: Callable[[], None] = lambda: None,
    converted: Converted | None = None,
) -> Checked:
    """Reads and checks the file as its blocks stand. ``before``: the straight runs of the drawing that is shown.

    told: what was told of the state before; rules that the change does not concern are not asked again. go_on: is
    called before each rule, and may raise AskedAnewError to end the check. converted: the parts of states before.
    """
    blocks = tuple(blocks)
    parts = long_form(blocks).parts
    straight = straight_runs(parts, before)
    try:
        circuit = as_planned(circuit_in(data_of(blocks), text_of(blocks), file, vocabulary(), converted))
        told = check_again(circuit, load_rulebook(circuit.job.rulebook), told, go_on=go_on)
        report = told.report
    except AskedAnewError:  # raised by ``go_on``
        raise
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
        told=told,
    )


def problem_text(problem: Problem) -> str:
    """The problem as a sentence, without file and line."""
    says = problem.says[:1].upper() + problem.says[1:]
    given = f" (written: {problem.given})" if problem.given else ""
    allowed = f" Allowed: {problem.allowed}." if problem.allowed else ""
    meant = f" Did you mean {problem.nearest}?" if problem.nearest else ""
    return f"{says}{given}.{allowed}{meant}"


#: How long nothing was asked before what was taken over from earlier states is asked of the rules again [s].
WHOLE_AFTER_S = 2.0
#: How long one stands on an entry before the check of another value of it is made ready [s].
READY_AFTER_S = 0.15
#: A circuit of which a check takes longer is not checked beforehand for what may never be typed [s].
_MOST_READY_S = 1.0


class Examiner:
    """Examines in a thread of its own, always the newest state only, so that typing never waits.

    What is asked for anew ends the examination of the state before. Rules that do not read what changed are not asked
    again. Once nobody has typed for a moment all of them are, and what they say is delivered in its place. Which
    answers do not hang on the entry that one stands on is found out before anything is typed into it.
    """

    def __init__(self, deliver: Callable[[Checked], None], *, whole_after_s: float = WHOLE_AFTER_S) -> None:
        """``deliver`` is called in that thread with each result."""
        self._deliver = deliver
        self._whole_after_s = whole_after_s
        self._state = threading.Condition()
        self._waiting: tuple[tuple[Block, ...], str] | None = None
        self._closed = False
        #: The entry that one stands on, and whether that is news.
        self._stands_on: Ref | None = None
        self._moved = False
        self._thread = threading.Thread(target=self._work, name="examiner", daemon=True)
        self._thread.start()

    def ask(self, blocks: tuple[Block, ...], file: str) -> None:
        """Asks for this state; one that was asked for before and is not delivered yet is dropped."""
        with self._state:
            self._waiting = (blocks, file)
            self._state.notify()

    def expect(self, entry: Ref | None) -> None:
        """Says on which entry one stands: it may be typed into next."""
        with self._state:
            self._moved = self._moved or entry != self._stands_on
            self._stands_on = entry
            self._state.notify()

    def close(self) -> None:
        """Ends the thread after what it is at."""
        with self._state:
            self._closed = True
            self._state.notify()

    def _next(self, timeout_s: float | None) -> tuple[tuple[Block, ...], str] | None:
        """The state to examine next.

        None where none is asked for within the time, where one stands on another entry, or the thread is to end.
        """
        with self._state:
            self._state.wait_for(self._is_called, timeout_s)
            asked, self._waiting = self._waiting, None
            return None if self._closed else asked

    def _nobody_types(self, pause_s: float) -> bool:
        """Whether nobody types or moves on for so long: meanwhile what was delivered is painted."""
        with self._state:
            return not self._state.wait_for(self._is_called, pause_s)

    def _is_called(self) -> bool:
        return self._waiting is not None or self._closed or self._moved

    def _work(self) -> None:
        shown: Checked | None = None
        told: Told | None = None
        file, whole_at = "", inf
        whole_took_s = 0.0
        converted: Converted = {}
        while not self._closed:
            asked = self._next(None if whole_at == inf else max(0.0, whole_at - monotonic()))
            before = [told, shown]  # these go while nobody waits, not beside the painting
            began = monotonic()
            try:
                if asked is not None:
                    file = asked[1]
                    shown = examine(*asked, shown.straight if shown is not None else None, told, self._go_on, converted)
                    self._deliver(shown)
                elif shown is not None and monotonic() >= whole_at:
                    shown = examine(shown.blocks, file, shown.straight, go_on=self._go_on)
                    self._deliver(shown)
            except AskedAnewError:
                continue
            if shown is not None and shown is not before[1]:
                whole_took_s = monotonic() - began if shown.is_whole else whole_took_s
                whole_at = inf if shown.is_whole else monotonic() + self._whole_after_s
                told = shown.told or told
                is_quiet = self._nobody_types(PAUSE_S)
                before.clear()
                if told is not None:
                    told.forget()
                if is_quiet:
                    (collect_all if asked is None else collect_some)()
            self._moved = False
            if whole_took_s < _MOST_READY_S:
                told = self._made_ready(told)

    def _made_ready(self, told: Told | None) -> Told | None:
        """What was told, ready for another value of the entry that one stands on, where nobody types for so long."""
        entry = self._stands_on
        if told is None or entry is None or not self._nobody_types(READY_AFTER_S):
            return told
        try:
            told = made_ready(told, entry, go_on=self._go_on)
        except AskedAnewError:
            return told
        except Exception:  # what goes wrong here goes wrong in the check as well, which tells it
            return told
        told.forget()
        return told

    def _go_on(self) -> None:
        if self._waiting is not None or self._closed:
            raise AskedAnewError
