"""Random circuits that show which way an entry is worse: ``python -m tests.checking.shown [SEEDS]`` looks for them.

It writes ``shown_directions.toml``, a circuit for each declaration, so that `make test` looks only where there is
something to see. Nothing goes wrong where that list is old: it shows less.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from circuitcheck.case import CaseRule
from circuitcheck.case.making import case_of
from circuitcheck.checking import case_rules
from circuitcheck.tables.rulebook import load_rulebook
from tests.checking.directions import MIXES, Declaration, Tried, declarations, try_in, turned
from tests.generating.circuits import draw_circuit

FILE = Path(__file__).with_name("shown_directions.toml")
FIRST = 1000


def shown() -> dict[int, list[Declaration]]:
    """By the seed of a circuit, the checks and entries of which it shows the direction."""
    listed = tomllib.loads(FILE.read_text("utf-8"))["seeds"]
    return {int(seed): [tuple(name.split(": ")) for name in names] for seed, names in listed.items()}


def try_shown(seeds: dict[int, Sequence[Declaration]]) -> Iterator[tuple[Declaration, Tried]]:
    """What each circuit shows of what it is listed for."""
    rules = {rule.name: rule for rule in case_rules()}
    for seed, names in seeds.items():
        circuit = draw_circuit(seed, MIXES[seed % len(MIXES)])
        case = case_of(circuit, load_rulebook(circuit.job.rulebook))
        for check, kind in names:
            if check in rules and kind in rules[check].worse:
                yield (check, kind), try_in(case, rules[check], seed, kind)


def looked_for(seeds: Iterable[int]) -> dict[int, list[Declaration]]:
    """The first circuit that shows a declaration: turned round it is wrong, and as it stands it is not."""
    waiting: dict[Declaration, tuple[CaseRule[Any], CaseRule[Any]]] = {
        (rule.name, kind): (rule, turned(rule, kind)) for rule, kind in declarations(case_rules())
    }
    where: dict[int, list[Declaration]] = {}
    for seed in seeds:
        circuit = draw_circuit(seed, MIXES[seed % len(MIXES)])
        case = case_of(circuit, load_rulebook(circuit.job.rulebook))
        kinds = {entry.kind for entry in case.entries}
        for name in [name for name in waiting if name[1] in kinds]:
            straight, other = waiting[name]
            if is_wrong(try_in(case, other, seed, name[1])) and not is_wrong(try_in(case, straight, seed, name[1])):
                where.setdefault(seed, []).append(name)
                del waiting[name]
    return where


def is_wrong(tried: Tried) -> bool:
    """Whether an answer, or its number, became better where the rule says worse."""
    return bool(tried.wrong or tried.wrong_numbers)


def main(arguments: list[str]) -> None:
    """Look through so many circuits, and write what they show."""
    where = looked_for(range(FIRST, FIRST + int(arguments[0] if arguments else 500)))
    lines = ["# Which random circuit shows which direction; made by: python -m tests.checking.shown", "[seeds]"]
    for seed, names in where.items():
        lines += [f"{seed} = [", *(f'    "{check}: {kind}",' for check, kind in sorted(names)), "]"]
    FILE.write_text("\n".join(lines) + "\n", "utf-8")
    print(f"{sum(map(len, where.values()))} directions shown by {len(where)} circuits")


if __name__ == "__main__":
    main(sys.argv[1:])
