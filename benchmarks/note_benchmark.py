"""How long a note takes beside a check of the same file, in each form, and how it grows. Nothing here passes or fails.

    python benchmarks/note_benchmark.py

Whole processes are timed in turns and the fastest of each is shown. Aim for one PDF: under 300 ms more than a check.
"""

from __future__ import annotations

import math
import os
import tempfile
from datetime import date
from functools import partial
from pathlib import Path

from benchmark import DEMO, fastest, long_circuit, process

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.note import TOOL, note_outline
from circuitcheck.paper.writing import ENDINGS, rendered
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

TURNS = 7
SIZES = (10, 200, 2_000)


def whole_processes(folder: Path) -> None:
    """``check`` and ``note`` on the demo, in turns."""
    runs: dict[str, tuple[str, ...]] = {"check": ("check", str(DEMO))}
    runs |= {
        f"note {ending}": ("note", str(DEMO), "-o", str(folder / f"note{ending}"), "--replace") for ending in ENDINGS
    }
    runs["plan .pdf"] = ("plan", str(DEMO), "-o", str(folder / "plan.pdf"), "--replace")
    runs["survey .pdf"] = ("survey", "-o", str(folder / "survey.pdf"), "--replace")
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(folder / "compiled")
    best = dict.fromkeys(runs, math.inf)
    for turn in range(TURNS + 1):  # the first compiles the modules and does not count
        for name, arguments in runs.items():
            seconds = process(environment, "-m", "circuitcheck", *arguments)
            best[name] = min(best[name], seconds) if turn else math.inf
    print(f"Whole processes on the demo, fastest of {TURNS}")
    for name, seconds in best.items():
        print(f"  {name:14} {seconds * 1000:7.0f} ms   {(seconds - best['check']) * 1000:+7.0f} ms beside check")


def growth() -> None:
    """Notes of long circuits in memory."""
    book = load_rulebook("nec-2023")
    for chain, words in ((True, "alike, one chain"), (False, "branches of ten")):
        print(f"\nNotes against size ({words}), fastest of 2")
        for loads in SIZES:
            circuit = read_circuit(long_circuit(loads, chain=chain), "benchmark", vocabulary())
            report = check(circuit, book)
            outline = partial(note_outline, report, circuit, book, digest="0" * 64, tool=TOOL, made=date(2026, 1, 2))
            note = outline()
            line = f"  {loads:6} loads: outline {fastest(outline, 2) * 1000:6.0f} ms"
            for ending in ENDINGS:
                seconds = fastest(partial(rendered, note, Path("note" + ending), paper="letter"), 2)
                line += f"   {ending} {seconds * 1000:6.0f} ms"
            print(line)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as where:
        whole_processes(Path(where))
    growth()
