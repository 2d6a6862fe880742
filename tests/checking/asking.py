"""What an open answer asks for: entries that are open, and that settle it once they are found out."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.circuit.model import Circuit
from circuitcheck.findings import Finding, Outcome
from tests.generating.defaults import default_of
from tests.generating.entries import Entry, gone_loads, is_open
from tests.generating.narrowing import Narrowing
from tests.generating.possible import may_be_absent

NAMES_NOTHING = "open, and names nothing to find out"
NAMES_NO_ENTRY = "names what is no entry of the file"
NAMES_THE_KNOWN = "names an entry that is known"
KNOWN_AND_OPEN = "all is known, and it is open still"

#: A user who was asked so often for one answer gives up.
_PATIENCE = 8

#: What is set aside, each with its reason.
KNOWN_FAULTS = tomllib.loads(Path(__file__).with_name("known_faults.toml").read_text("utf-8"))
#: Checks that ask again for entries that are known, since they cannot be as they are: which entries, and why.
ASKED_AGAIN = KNOWN_FAULTS["asked_again"]


def entry_named(circuit: Circuit, path: str) -> Entry | None:
    """The entry that ``section.id.key`` names; of a small table the list. None where there is no such entry.

    Of a load that goes it is written in the load as it was found, and so is whether a load was on before the work.
    """
    if circuit.before is not None:
        found = _named_in(circuit.before.circuit, path)
        if found is not None and found.section == "load" and found.place in gone_loads(circuit):
            here = _named_in(circuit, path)
            if here is None or found.key.name == "on_at_reading":
                return replace(found, gone=True)
    return _named_in(circuit, path)


def _named_in(circuit: Circuit, path: str) -> Entry | None:
    name, _, rest = path.partition(".")
    section = SECTIONS.get(name)
    if section is None:
        return None
    if not section.many:
        return Entry(name, 0, section.keys[rest]) if rest in section.keys else None
    best: tuple[int, Entry] | None = None
    for place, part in enumerate(getattr(circuit, section.attribute)):
        if rest.startswith(f"{part.id}."):
            key = section.keys.get(rest[len(part.id) + 1 :].split(".")[0])
            if key is not None and (best is None or len(part.id) > best[0]):
                best = (len(part.id), Entry(name, place, key))
    return best[1] if best else None


def open_answers(findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings that cannot tell."""
    return (finding for finding in findings if finding.outcome is Outcome.UNDETERMINED)


def wrong_questions(finding: Finding, circuit: Circuit, *, known: bool) -> Iterator[tuple[str, str]]:
    """What is wrong with the questions of an open answer, and the entry or the sentence that shows it."""
    if not finding.needs and finding.ask:
        return  # the tables hold nothing for it: it says whom to ask
    needs = [path for path in finding.needs if not _is_asked_again(finding.check, path, circuit)]
    if known:
        if not finding.needs or not all(_may_be_absent(path, circuit) for path in needs):
            yield KNOWN_AND_OPEN, f"{finding.says} (needs {', '.join(finding.needs)})"
        return
    if not finding.needs:
        yield NAMES_NOTHING, finding.says
    for path in needs:
        entry = entry_named(circuit, path)
        if entry is None:
            yield NAMES_NO_ENTRY, path
        elif not _may_be_open(entry, circuit):
            yield NAMES_THE_KNOWN, path


def _is_asked_again(check: str, path: str, circuit: Circuit) -> bool:
    """Whether a check rightly asks for what is known: as it is, it cannot be."""
    if NAMES_THE_KNOWN in KNOWN_FAULTS["by_design"].get(check, {}).get("kinds", ()):
        return True
    entry = entry_named(circuit, path)
    return entry is not None and entry.name in ASKED_AGAIN.get(check, {}).get("entries", ())


def _may_be_absent(path: str, circuit: Circuit) -> bool:
    """Whether it is left out and may be so although everything is known: a reading, a mark."""
    entry = entry_named(circuit, path)
    return entry is not None and entry.value(circuit) is None and may_be_absent(entry.section, entry.key)


def _may_be_open(entry: Entry, circuit: Circuit) -> bool:
    """Whether it is open, or left out: today's model cannot tell an empty list from one that was left out."""
    value = entry.value(circuit)
    return (
        is_open(entry, circuit) or value is None or value == default_of(type(entry.part(circuit)), entry.key.attribute)
    )


@dataclass(slots=True)
class Asked:
    """How it went on when all that was asked for was found out, by check.

    at_once: the answer was settled. again: it was open and asked for more. in_vain: it was open and asked for the
    same, or for nothing. beyond: nothing in the file settles it; it says whom to ask, or that what was found out cannot
    be so (``ASKED_AGAIN``). rounds: how often somebody had to find something out until it was settled.
    """

    at_once: Counter[str] = field(default_factory=Counter)
    again: Counter[str] = field(default_factory=Counter)
    in_vain: Counter[str] = field(default_factory=Counter)
    beyond: Counter[str] = field(default_factory=Counter)
    rounds: Counter[int] = field(default_factory=Counter)

    def lines(self) -> Iterator[str]:
        """How often a user is asked again for the same answer, all told and by check."""
        once, again, vain = (sum(counter.values()) for counter in (self.at_once, self.again, self.in_vain))
        total = once + again + vain
        if total:
            yield (
                f"of {total} open answers for which everything that was asked was found out, {once} were settled,"
                f" {again} ({again / total:.0%}) asked for more, {vain} ({vain / total:.0%}) asked in vain;"
                f" times asked until settled: {dict(sorted(self.rounds.items()))};"
                f" {self.beyond.total()} more are beyond what a file can settle, and say so"
            )
        for name in sorted({*self.again, *self.in_vain}):
            counts = f"asked for more {self.again[name]}, in vain {self.in_vain[name]}"
            yield f"  {name}: settled {self.at_once[name]}, {counts}"

    def ask(
        self,
        circuit: Circuit,
        finding: Finding,
        narrowing: Narrowing,
        findings_of: Callable[[Circuit], Iterable[Finding]],
    ) -> None:
        """Find out everything that this open answer asks for, as often as it asks, and count."""
        asked: set[str] = set()
        needs, ask = finding.needs, finding.ask
        for times in range(1, _PATIENCE + 1):
            if not set(needs) - asked:
                again = needs and all(_is_asked_again(finding.check, path, circuit) for path in needs)
                (self.beyond if again or (ask and not needs) else self.in_vain)[finding.check] += 1
                return
            asked |= set(needs)
            for path in needs:
                entry = entry_named(circuit, path)
                if entry is not None:
                    circuit = narrowing.settled(circuit, entry, at_any_price=True)
            later = [
                one
                for one in open_answers(findings_of(circuit))
                if (one.check, one.subject) == (finding.check, finding.subject)
            ]
            if not later:
                self.rounds[times] += 1
                (self.at_once if times == 1 else self.again)[finding.check] += 1
                return
            needs = tuple(path for one in later for path in one.needs)
            ask = tuple(text for one in later for text in one.ask)
        self.again[finding.check] += 1
