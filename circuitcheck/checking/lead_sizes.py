"""What low-voltage cable would do: the longest of the planned size, and the thinnest at the planned length.

Length or size is changed in the circuit and the rules are asked again; no rule searches. Only cables that are still to
come are told about, and only those of the worst few findings.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import inf

from circuitcheck.checking.would_do import all_do, answers_about, changed
from circuitcheck.circuit.model import Cable, Circuit
from circuitcheck.findings import SEVERITY, Finding, Outcome
from circuitcheck.quantities import KINDS, Interval, in_unit, rounded_down
from circuitcheck.refs import Ref
from circuitcheck.rules.low_voltage.low_voltage_cable import RULE as CARRIES
from circuitcheck.rules.low_voltage.low_voltage_drop import RULE as DROPS
from circuitcheck.tables.rulebook import Rulebook

#: The check whose findings are told what would do.
LEADS = DROPS.name
#: The longest cable that a circuit file may name [m]: nobody needs to know of a longer one.
LONGEST_M = KINDS["length"].greatest_si
#: Findings of one check and report that are told what would do, the worst first.
_MOST_TOLD = 3
#: The search for a length ends when the volts left over are so small a part of those at no length, or after so many
#: tries.
_NEAR, _MOST_TRIES = 2e-3, 12


def longest_lead_m(cable: Cable, light: str, circuit: Circuit, book: Rulebook) -> float | None:
    """The longest that ``cable`` may be for enough voltage at a light, everything else at its worst [m].

    None: no cable, however short, would do. ``inf``: none that a file can name would be too long.
    """

    def volts_left(length_m: float) -> float:
        """Volts over the limit; under zero where there are too few, and -inf where no voltage serves the light."""
        entry = Ref("cable", cable.id, "length")
        other = changed(circuit, entry, Interval(length_m, length_m))
        (finding,) = answers_about(other, book, (DROPS,), frozenset({light}), named=False)
        if finding.value is None or finding.limit is None:
            return -inf
        return finding.value - finding.limit

    at_none = volts_left(0.0)
    if at_none < 0.0:
        return None
    if (at_most := volts_left(LONGEST_M)) >= 0.0:
        return inf
    low, high, over, under = 0.0, LONGEST_M, at_none, at_most
    for _ in range(_MOST_TRIES):
        if low > 0.0 and over <= _NEAR * at_none:
            break
        # Volts fall nearly in step with the length; the step stays a touch short, so that it ends where it still does.
        share = 0.999 * over / (over - under) if under > -inf else 0.1
        middle = low + share * (high - low)
        left = volts_left(middle)
        if left >= 0.0:
            low, over = middle, left
        else:
            high, under = middle, left
    return low


def thinnest_lead(cable: Cable, about: Iterable[str], circuit: Circuit, book: Rulebook) -> str | None:
    """The thinnest conductor of the cable's own table with which it carries its current and the lights get enough.

    ``about``: ids of the cable and of the lights that it concerns. None: no size of the table would do.
    """
    metric = book.table("metric-conductors")
    table = metric if cable.size is not None and metric.find(cable.size) is not None else book.table("conductors")
    sizes = [row.key[0] for row in table.rows]
    entry, concerned = Ref("cable", cable.id, "size"), frozenset(about)
    first, end = 0, len(sizes)
    while first < end:
        middle = (first + end) // 2
        other = changed(circuit, entry, sizes[middle])
        does = all_do(other, book, (CARRIES, DROPS), concerned, _does)
        first, end = (first, middle) if does else (middle + 1, end)
    return sizes[first] if first < len(sizes) else None


def _does(finding: Finding) -> bool:
    """Whether the cable carries its current and every light gets what it needs, or what is usual."""
    return finding.outcome is Outcome.PASS or (finding.outcome is Outcome.CAUTION and finding.check != DROPS.name)


def with_lead_sizes(findings: Sequence[Finding], circuit: Circuit, book: Rulebook) -> list[Finding]:
    """The findings, those about low-voltage cable that is too long or too thin with what would do."""
    told = {
        id(finding)
        for check in (DROPS.name, CARRIES.name)
        for finding in sorted(filter(lambda each: _is_short(each, check), findings), key=_worst_first)[:_MOST_TOLD]
    }
    return [_with_size(finding, circuit, book) if id(finding) in told else finding for finding in findings]


def _is_short(finding: Finding, check: str) -> bool:
    return finding.check == check and finding.outcome is not Outcome.PASS and finding.limit is not None


def _worst_first(finding: Finding) -> tuple[int, float]:
    left = -inf if finding.value is None or finding.limit is None else finding.value - finding.limit
    return SEVERITY[finding.outcome], left if finding.check == DROPS.name else -left


def _with_size(finding: Finding, circuit: Circuit, book: Rulebook) -> Finding:
    if finding.check == CARRIES.name:
        cable = circuit.tree.cable[finding.subject]
        if not cable.is_added:
            return finding
        thinnest = thinnest_lead(cable, {cable.id}, circuit, book)
        return replace(finding, chosen=cable.size, smallest=thinnest, decided_by=finding.check if thinnest else None)
    feeds = [cable for cable in circuit.tree.low_voltage_cables if cable.to_id == finding.subject]
    if len(feeds) != 1 or not feeds[0].is_added:
        return finding
    (cable,) = feeds
    thinnest = thinnest_lead(cable, {cable.id, finding.subject}, circuit, book)
    longest = longest_lead_m(cable, finding.subject, circuit, book) if cable.size is not None else None
    if thinnest is None and longest is None and finding.outcome is Outcome.UNDETERMINED:
        return finding
    return replace(
        finding,
        to_do=(_sentence(cable, longest, thinnest), *finding.to_do),
        chosen=cable.size,
        smallest=thinnest,
        decided_by=finding.check if thinnest is not None else None,
    )


def _sentence(cable: Cable, longest_m: float | None, thinnest: str | None) -> str:
    size = (
        f"the thinnest conductor that would do at this length is {thinnest}"
        if thinnest is not None
        else "no conductor of the tables would do at this length"
    )
    if longest_m is None:
        if cable.size is None or thinnest is not None:
            return f"{size[0].upper()}{size[1:]}."
        return f'No cable "{cable.id}", however short or thick, would do: the rest of the way loses too much.'
    feet = rounded_down(in_unit(min(longest_m, LONGEST_M), "ft"))
    return f'The longest cable "{cable.id}" of {cable.size} that would do is {feet} ft; {size}.'
