"""The four answers at one glance, each with a bar, its numbers and a word: breaker, boxes, farthest lamp, unknowns."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from rich.cells import cell_len

from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import SEVERITY, Finding, Outcome, Report
from circuitcheck.outcomes import OUTCOME_WORD
from circuitcheck.quantities import beside_limit
from circuitcheck.text import shown_number, shown_text
from circuitcheck.ui.spans import OUTCOME_ROLE, Line, cut


@dataclass(frozen=True, slots=True)
class Bar:
    """The strokes of a bar: the part that is sure, the part between best and worst, the rest, the overflow."""

    full: str
    between: str
    rest: str
    over: str


BAR = Bar(full="█", between="▒", rest="░", over="▶")


#: Cells of a bar: shorter says nothing, longer says no more.
_SHORTEST_BAR, _LONGEST_BAR = 4, 24

#: A name that is cut keeps at least so many cells, else a shorter one takes its place.
_LEAST_NAME = 14


@dataclass(frozen=True, slots=True)
class Gauge:
    """One answer.

    ``low`` and ``high`` are shares of the limit, None where nothing can be told; ``high`` is infinite where it has no
    bound. ``short`` says it where ``says`` has no room, and ``short_name`` the name; ``finding``: where it comes from.
    """

    name: str
    says: str
    short: str = ""
    low: float | None = None
    high: float | None = None
    outcome: Outcome | None = None
    finding: Finding | None = None
    short_name: str = ""

    def line(self, width: int) -> Line:
        """Name, bar, numbers and word in at most ``width`` cells; the bar gives way first, then the longer wording."""
        word = OUTCOME_WORD[self.outcome] if self.outcome not in (None, Outcome.PASS) else ""
        role = OUTCOME_ROLE[self.outcome] if self.outcome else "plain"
        wordings = [says for says in (self.says, self.short) if says]
        with_bar = [says for says in wordings if self._room(says, word, width) - 3 >= _SHORTEST_BAR]
        fitting = [says for says in wordings if self._room(says, word, width) >= 0]
        if self.low is None or self.high is None or not with_bar:
            tail = f"{(fitting or wordings[-1:])[0]} {word}".rstrip()
            name = self._name(width - cell_len(tail) - 1)
            return ((name, "strong"), (" ", "plain"), (cut(tail, width - cell_len(name) - 1), role))
        tail = f"{with_bar[0]} {word}".rstrip()
        room = self._room(with_bar[0], word, width) - 3
        return (
            (self.name, "strong"),
            (" [", "dim"),
            (_bar(self.low, self.high, min(room, _LONGEST_BAR)), role if word else "value"),
            ("] ", "dim"),
            (tail, role),
        )

    def _name(self, room: int) -> str:
        """The name where there is room for it or for most of it, else the short one, never a stump of either."""
        if cell_len(self.name) <= room or (room >= _LEAST_NAME and room > cell_len(self.short_name)):
            return cut(self.name, room)
        return self.short_name or cut(self.name, room)

    def _room(self, says: str, word: str, width: int) -> int:
        """Cells left when name, numbers and word stand on the line."""
        return width - cell_len(self.name) - cell_len(f"{says} {word}".rstrip()) - 1


def _bar(low: float, high: float, length: int) -> str:
    sure = length if low > 1 else round(max(low, 0) * length)
    worst = length if high > 1 else max(round(high * length), sure)
    drawn = BAR.full * sure + BAR.between * (worst - sure) + BAR.rest * (length - worst)
    return drawn[:-1] + BAR.over if high > 1 and length else drawn


def gauges_of(report: Report, circuit: Circuit) -> tuple[Gauge, ...]:
    """Breaker, fullest box, farthest lamp, unknowns."""
    return (
        breaker_gauge(report.findings),
        box_gauge(report.findings),
        lamp_gauge(report.findings, circuit),
        unknown_gauge(report),
    )


def breaker_gauge(findings: Iterable[Finding]) -> Gauge:
    """How much of the breaker is used."""
    found = next((finding for finding in findings if finding.check == "load-share"), None)
    if found is None or not found.limit:
        return Gauge("Breaker", "load not known yet", "not known yet", finding=found)
    if found.value is None:
        return Gauge("Breaker", "load not known yet", "not known yet", outcome=found.outcome, finding=found)
    low, high = ends_of(found, found.value)
    span, worst, limit = _against(low, high, found.limit)
    share = shown_number(100 * (high if high < math.inf else low) / found.limit, 2)
    says = f"{span} of {limit} A, {share} %{' or more' if high == math.inf else ''}"
    short = f"{worst} of {limit} A"
    return Gauge("Breaker", says, short, low / found.limit, high / found.limit, found.outcome, found)


def box_gauge(findings: Iterable[Finding]) -> Gauge:
    """The box that is the worst off: what fails, then what is open, then the fullest."""
    worst = min((finding for finding in findings if finding.check == "box-fill"), key=_how_good, default=None)
    return _box_gauge(worst) if worst is not None else Gauge("Boxes", "none counted yet")


def _how_good(finding: Finding) -> tuple[int, float]:
    """By which the worst comes first: its answer, then how much it has; of what is over, that without a number."""
    if finding.value is None:
        return SEVERITY[finding.outcome], -math.inf
    return SEVERITY[finding.outcome], -ends_of(finding, finding.value)[1] / (finding.limit or 1.0)


def _box_gauge(found: Finding) -> Gauge:
    name = f"Box {shown_text(found.subject)}"
    if found.value is None or not found.limit:
        return Gauge(name, "not known how full", "not known", outcome=found.outcome, finding=found, short_name="Box")
    low, high = ends_of(found, found.value)
    span, worst, limit = _against(low, high, found.limit)
    says = f"{span} of {limit} in³"
    short = f"{worst} of {limit} in³"
    return Gauge(name, says, short, low / found.limit, high / found.limit, found.outcome, found, short_name="Box")


def lamp_gauge(findings: Iterable[Finding], circuit: Circuit) -> Gauge:
    """The volts at the lamp that loses most; the bar is the share of the loss that is recommended at most."""
    worst = min((finding for finding in findings if finding.check == "voltage-drop"), key=_how_good, default=None)
    if worst is None:
        return Gauge("Farthest lamp", "volts not known yet", "not known yet", short_name="Volts")
    name, limit = f"Farthest, {shown_text(worst.subject)}", worst.limit
    if worst.value is None and worst.outcome is Outcome.FAIL:
        return Gauge(name, "no voltage works", outcome=worst.outcome, finding=worst, short_name="Farthest")
    if worst.value is None or not limit:
        says, short = "volts not known yet", "not known yet"
        return Gauge("Farthest lamp", says, short, outcome=worst.outcome, finding=worst, short_name="Volts")
    low, high = ends_of(worst, worst.value)
    nominal = circuit.supply.voltage_v.low
    start = circuit.supply.measured_voltage_v
    volts = (start.low if start else nominal) - nominal * (high if high < math.inf else low) / 100
    short = f"{'at most ' if high == math.inf else ''}{shown_number(volts, 4)} V"
    says = f"{short}, {_span(low, high)} % lost"
    return Gauge(name, says, short, low / limit, high / limit, worst.outcome, worst, short_name="Farthest")


def unknown_gauge(report: Report) -> Gauge:
    """How much is unknown, and how much of it decides."""
    count = len(report.unknowns)
    deciding = sum(unknown.decides for unknown in report.unknowns)
    guesses = len(report.guesses)
    says = f"{count}, {deciding} of them decide" if count else "nothing"
    short = f"{count} ({deciding} decide)" if count else "nothing"
    if guesses:
        says += f"; guessed: {guesses}"
    return Gauge("Not known", says, short, outcome=Outcome.UNDETERMINED if deciding else None)


def ends_of(finding: Finding, value: float) -> tuple[float, float]:
    """What a finding with this value says from its least to its most; infinite where the worst has no bound."""
    low, high = (end if end is not None else value for end in (finding.low, finding.high))
    if finding.is_without_bound:
        return (-math.inf, high) if finding.at_least else (low, math.inf)
    return low, high


def _against(low: float, high: float, limit: float) -> tuple[str, str, str]:
    """What is used from best to worst, at worst, and the most that may be, as text."""
    if high == math.inf:
        least, most = beside_limit(low, limit)
        return f"at least {least}", f"at least {least}", most
    worst, most = beside_limit(high, limit)
    first = shown_number(low)
    return worst if low == high or first == worst else f"{first} to {worst}", worst, most


def _span(low: float, high: float) -> str:
    first = shown_number(low)
    if high == math.inf:
        return f"at least {first}"
    last = shown_number(high)
    return last if first == last else f"{first} to {last}"
