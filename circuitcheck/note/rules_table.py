"""Where the values stand that the answers rest on: each place of the code once, with the checks that rest on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from circuitcheck.findings import Finding, Source, Status
from circuitcheck.tables.rulebook import Rulebook

_STATUS_MARK = {
    Status.PUBLISHED: "",
    Status.DERIVED: " (derived)",
    Status.COMMON_PRACTICE: " (common practice)",
    Status.FROM_MEMORY: " (from memory, not yet compared)",
}


def sources_by_place(findings: Sequence[Finding], book: Rulebook) -> Mapping[str, tuple[str, ...]]:
    """Places -> names of the checks that rest on them, the code's own places in order, other documents after them.

    Places that the same checks rest on stand together.
    """
    places: dict[tuple[int, str], dict[str, None]] = {}
    for finding in findings:
        for source in finding.sources:
            places.setdefault(_place(source, book), {})[finding.check] = None
    alike: dict[tuple[int, tuple[str, ...]], list[str]] = {}
    for (outside, place), checks in sorted(places.items(), key=lambda item: item[0]):
        alike.setdefault((outside, tuple(checks)), []).append(place)
    return {("; " if outside else ", ").join(named): checks for (outside, checks), named in alike.items()}


def _place(source: Source, book: Rulebook) -> tuple[int, str]:
    """Whether it stands outside the code of the whole sheet, and its words; the document is named only outside."""
    whole = ", ".join(part for part in (source.document, source.place) if part)
    own = source.document == "NFPA 70" and book.edition.endswith(source.edition)
    where = source.place if own else whole
    mark = "" if where == source.status else _STATUS_MARK[source.status]
    return (0 if own else 1, f"{where}{mark}")
