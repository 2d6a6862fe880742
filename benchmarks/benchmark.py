"""How long circuitcheck takes, printed beside what it is held against. Not a test: nothing here passes or fails.

    python benchmarks/benchmark.py            all of it
    python benchmarks/benchmark.py --profile  also where the time goes with 1,000 loads

Whole processes are timed one after the other in turns, and the fastest of each is shown, so that a busy machine
disturbs both sides alike.
"""

from __future__ import annotations

import argparse
import cProfile
import math
import os
import pstats
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
DEMO = EXAMPLES / "hallway.circuit.toml"
SIZES = (10, 100, 1_000, 10_000)


def fastest(action: Callable[[], object], times: int) -> float:
    """The shortest of several runs [s]."""
    best = math.inf
    for _ in range(times):
        start = time.perf_counter()
        action()
        best = min(best, time.perf_counter() - start)
    return best


def process(environment: dict[str, str], *arguments: str) -> float:
    """One whole run of this interpreter [s]."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *arguments], capture_output=True, check=False, env=environment)
    return time.perf_counter() - start


def whole_processes(turns: int) -> None:
    """``check`` on the demo against importing its two largest libraries, in turns."""
    runs = {
        'python -c ""': ("-c", ""),
        "python -c 'import pydantic, pint'": ("-c", "import pydantic, pint"),
        "circuitcheck check (demo)": ("-m", "circuitcheck", "check", str(DEMO)),
        "circuitcheck check --json (demo)": ("-m", "circuitcheck", "check", "--json", str(DEMO)),
        "circuitcheck --version": ("-m", "circuitcheck", "--version"),
    }
    best = dict.fromkeys(runs, math.inf)
    with tempfile.TemporaryDirectory() as compiled:
        # Compiled modules are kept, as they are for everyone who has run the program once; the first turn makes them.
        environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = compiled
        for arguments in runs.values():
            process(environment, *arguments)
        for _ in range(turns):
            for name, arguments in runs.items():
                best[name] = min(best[name], process(environment, *arguments))
    against = best["python -c 'import pydantic, pint'"]
    print(f"Whole processes, fastest of {turns}")
    for name, seconds in best.items():
        print(f"  {name:36} {seconds * 1000:7.0f} ms   {seconds / against:5.2f} x the two imports")


def long_circuit(loads: int, *, chain: bool) -> str:
    """A circuit file with that many boxes, each with a light: one long chain, or branches of ten."""
    lines = [
        "format = 1",
        '[job]\ntitle = "benchmark"\nrulebook = "nec-2023"',
        '[supply]\nvoltage = "120 V"\nbreaker = "15 A"',
    ]
    for number in range(loads):
        above = number - 1 if chain or number % 10 else number - 10
        start = f"b{above}" if above >= 0 else "panel"
        lines.append(f'[[box]]\nid = "b{number}"\ntrade_size = "4 x 1-1/2 octagon"\norigin = "added"')
        lines.append(
            f'[[cable]]\nid = "c{number}"\nfrom = "{start}"\nto = "b{number}"\norigin = "added"\ntype = "NM-B"\n'
            'size = "14 AWG"\nconductors = 2\nground = true\nmaterial = "copper"\nstranding = "solid"\n'
            f'length = "{max(1.0, 200 / loads):.4f} ft"\nplace = "inside"'
        )
        lines.append(
            f'[[load]]\nid = "l{number}"\nbox = "b{number}"\norigin = "added"\nkind = "light"\n'
            f'power = "{40 / loads:.4f} W"\npower_factor = 0.9\ncontinuous = false\ngrounding = "wire"'
        )
    return "\n\n".join(lines) + "\n"


def rechecks() -> None:
    """The demo checked again in memory, as the terminal screen does on each change."""
    words = vocabulary()
    print("\nOne re-check in memory, fastest of 50 (reading the text apart)")
    for path in sorted(EXAMPLES.glob("*.circuit.toml")):
        text = path.read_text("utf-8")
        circuit = read_circuit(text, path.name, words)
        book = load_rulebook(circuit.job.rulebook)
        check(circuit, book)
        # A changed circuit is a new object, which remembers nothing of the one before.
        again = fastest(lambda circuit=circuit, book=book: check(replace(circuit), book), 50)
        read = fastest(lambda text=text, path=path: read_circuit(text, path.name, words), 20)
        print(f"  {path.name:28} check {again * 1000:6.2f} ms   read {read * 1000:6.2f} ms")


def growth() -> None:
    """Time against size; the last column is one for time that grows with the size, two for time with its square."""
    words = vocabulary()
    book = load_rulebook("nec-2023")
    for chain in (False, True):
        print(f"\nTime against size, {'one chain' if chain else 'branches of ten'}")
        before: tuple[int, float] | None = None
        for loads in SIZES:
            text = long_circuit(loads, chain=chain)
            start = time.perf_counter()
            circuit = read_circuit(text, "benchmark", words)
            read = time.perf_counter() - start
            checked = fastest(lambda circuit=circuit: check(replace(circuit), book), 3 if loads < 10_000 else 1)
            power = ""
            if before is not None:
                power = (
                    f"grows with size to the power {math.log(checked / before[1]) / math.log(loads / before[0]):.2f}"
                )
            print(f"  {loads:6} loads: read {read * 1000:8.1f} ms, check {checked * 1000:8.1f} ms   {power}")
            before = (loads, checked)


def rules(loads: int) -> None:
    """What each rule takes on a long chain."""
    book = load_rulebook("nec-2023")
    circuit = read_circuit(long_circuit(loads, chain=True), "benchmark", vocabulary())
    print(f"\nEach rule on a chain of {loads} loads, with the tree and what rules share worked out anew each time")
    for rule in ALL_RULES:
        seconds = fastest(lambda rule=rule: list(rule.check(replace(circuit), book)), 2)
        print(f"  {rule.name:28} {seconds * 1000:8.1f} ms")


def profile() -> None:
    """Where the time goes."""
    book = load_rulebook("nec-2023")
    circuit = read_circuit(long_circuit(1_000, chain=True), "benchmark", vocabulary())
    watch = cProfile.Profile()
    watch.runcall(check, circuit, book)
    pstats.Stats(watch).sort_stats("tottime").print_stats(25)


def main() -> None:
    """Print everything."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--profile", action="store_true", help="also print where the time goes with 1,000 loads")
    parser.add_argument("--turns", type=int, default=7, metavar="N", help="runs of each whole process (default 7)")
    arguments = parser.parse_args()
    whole_processes(arguments.turns)
    rechecks()
    rules(1_000)
    growth()
    if arguments.profile:
        profile()


if __name__ == "__main__":
    main()
