"""Contradictions in circuits as small as can be: ``python -m tests.checking.least_circuits [SEEDS] [CHECK …]``."""

from __future__ import annotations

import sys

from circuitcheck.circuit.model import Circuit
from circuitcheck.quantities import Interval
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook
from tests.checking import asking
from tests.checking.comparing import Contradiction, State, contradictions, wrong_asking, wrong_numbers
from tests.checking.refinement import RuleRaisedError, answers_of, run
from tests.generating.entries import Entry, all_entries, only_narrows, open_entries
from tests.generating.model_form import document_of
from tests.generating.smallest import smallest
from tests.generating.toml_form import toml_text


def made_smallest(found: Contradiction) -> Contradiction:
    """The same kind of contradiction of the same check in circuits as small as can be."""

    rules = [rule for rule in ALL_RULES if rule.name == found.check]

    def again(before: Circuit, after: Circuit) -> Contradiction | None:
        if not only_narrows(before, after):
            return None
        book = load_rulebook(after.job.rulebook)
        try:
            first, second = (State(circuit, answers_of(circuit, book, rules)) for circuit in (before, after))
        except RuleRaisedError as error:
            raised = error.contradiction
            return raised if (raised.check, raised.kind) == (found.check, found.kind) else None
        known = found.kind == asking.KNOWN_AND_OPEN
        if known and any(open_entries(after)):
            return None
        second_known = State(after, second.answers, known=known)
        every = [*contradictions(first, second, by_plans=False), *wrong_numbers(second), *wrong_asking(second_known)]
        return next((one for one in every if (one.check, one.kind) == (found.check, found.kind)), None)

    pair = smallest((found.before, found.after), lambda before, after: again(before, after) is not None)
    return again(*pair) or found


def shown_smallest(found: Contradiction) -> str:
    """The smallest circuits as a user would write them: the open one, and what was found out."""
    least = made_smallest(found)
    differences = [
        _difference(entry, least)
        for entry in all_entries(least.before)
        if entry.value(least.before) != entry.value(least.after)
    ]
    return "\n".join([str(least), toml_text(document_of(least.before)), "found out:", *differences])


def _difference(entry: Entry, pair: Contradiction) -> str:
    old, new = entry.value(pair.before), entry.value(pair.after)
    return f"{entry.path(pair.before)}: {shown_value(old)} -> {shown_value(new)}"


def shown_value(value: object) -> str:
    """A value for one line."""
    if isinstance(value, Interval):
        return f"{value.low:.6g}" if value.exact else f"{value.low:.6g} to {value.high:.6g}"
    return "unknown" if value is None else str(value)


def main(arguments: list[str]) -> None:
    """Print the smallest circuits for the checks named, or for all that contradict."""
    tally = run(range(int(arguments.pop(0)) if arguments and arguments[0].isdigit() else 150))
    for name in sorted(tally.contradictions):
        if not arguments or name in arguments:
            for kind, found in tally.contradictions[name].items():
                print(f"=== {name}: {kind}: {tally.counts[name, kind]}\n{shown_smallest(found)}\n", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
