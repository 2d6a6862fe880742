"""The circuits of the short run: the cheapest of a hundred in which each check is settled in four, where it ever is.

Drawn from the first seeds on, two of three circuits took most of the time and added little: large ones of which little
is known, in which the same few checks are settled again. After a change of what is drawn or of what is asked,
``.venv/bin/python -m tests.checking.short_run 100`` chooses anew.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterable

from circuitcheck.findings import Outcome
from circuitcheck.tables.rulebook import load_rulebook
from tests.checking import refinement
from tests.checking.comparing import worst_of

SEEDS = (
    0, 6, 12, 14, 15, 18, 19, 23, 28, 34, 38, 39, 41, 43, 47, 49, 53, 54, 60, 70, 73, 77, 79, 82, 89, 91, 97,
)  # fmt: skip

#: Open answers of each circuit for which it is tried whether finding out what they ask for settles them.
ASKED_A_CIRCUIT = 4

#: In so many circuits each check is settled, where the candidates allow it.
_EACH_IN = 4

#: What a circuit costs beside its answers: the rest is found out of each, and asked of it.
_SECONDS_A_CIRCUIT = 0.1


def settled_in(seed: int) -> tuple[frozenset[str], float]:
    """The checks that are settled in the circuit of this seed as it is drawn, and the seconds that took."""
    circuit = refinement.circuit_of_seed(seed)
    began = time.process_time()
    answers = refinement.answers_of(circuit, load_rulebook(circuit.job.rulebook))
    seconds = time.process_time() - began
    settled = (name for (name, _), findings in answers.items() if worst_of(findings) is not Outcome.UNDETERMINED)
    return frozenset(settled), seconds


def chosen(candidates: Iterable[int]) -> list[int]:
    """Of these seeds, one after the other the one that brings most of what is missing for its time."""
    known = {seed: settled_in(seed) for seed in candidates}
    ever = Counter(name for settled, _ in known.values() for name in settled)
    missing = Counter({name: min(_EACH_IN, times) for name, times in ever.items()})
    seeds = []
    while +missing:
        best = max(
            known, key=lambda seed: len(known[seed][0] & (+missing).keys()) / (known[seed][1] + _SECONDS_A_CIRCUIT)
        )
        missing -= Counter(known.pop(best)[0])
        seeds.append(best)
    return sorted(seeds)


if __name__ == "__main__":
    print(chosen(range(int(sys.argv[1]))))
