"""How long circuitcheck takes, printed beside what it is held against. Not a test: nothing here passes or fails.

    python benchmarks/benchmark.py            all of it
    python benchmarks/benchmark.py --profile  also where the time goes with 1,000 loads

Whole processes are timed by the clock, one after the other in turns, so that a busy machine disturbs all of them alike;
work in memory by the processor's time, which leaves out what else the machine does. Of every time the fastest, the
median and the worst are printed: the fastest is nearest to what the program itself takes, the other two say how busy
the machine was. Compare only numbers of one run.
"""

from __future__ import annotations

import argparse
import cProfile
import gc
import math
import os
import pstats
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from circuitcheck.advice.advised import advised
from circuitcheck.advice.fixes import first_fix, fixes_of
from circuitcheck.advice.questions import questions_of
from circuitcheck.api.json_report import report_json
from circuitcheck.checking import check, findings_of
from circuitcheck.circuit.model import Circuit
from circuitcheck.circuit.reader import read_circuit
from circuitcheck.cli.lines import PageStyle
from circuitcheck.cli.page import report_page
from circuitcheck.findings import Report
from circuitcheck.rules import ALL_RULES
from circuitcheck.tables.rulebook import Rulebook, load_rulebook, vocabulary

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
DEMO = EXAMPLES / "hallway.circuit.toml"
APP = EXAMPLES.parent / "dist" / ("circuitcheck.exe" if sys.platform == "win32" else "circuitcheck")
SIZES = (10, 100, 1_000, 10_000)

#: Processor time of this process, so that others on the machine do not count.
PROCESSOR = time.process_time

IMPORTS = "python -c 'import pydantic, pint'"
CHECK = "circuitcheck check (demo)"
PDF = "circuitcheck note -o note.pdf (demo)"


def times(action: Callable[[], object], count: int, clock: Callable[[], float] = time.perf_counter) -> list[float]:
    """How long each of several runs takes [s], by the clock unless another is given."""
    found: list[float] = []
    for _ in range(count):
        start = clock()
        action()
        found.append(clock() - start)
    return found


def fastest(action: Callable[[], object], count: int, clock: Callable[[], float] = time.perf_counter) -> float:
    """The shortest of several runs [s]."""
    return min(times(action, count, clock))


def spread(seconds: Sequence[float], digits: int = 1) -> str:
    """Fastest, median and worst [ms] as columns."""
    columns = (min(seconds), statistics.median(seconds), max(seconds))
    return "".join(f"{1000 * one:10.{digits}f}" for one in columns)


def process(environment: dict[str, str], *arguments: str) -> float:
    """One whole run of this interpreter [s]."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *arguments], capture_output=True, check=False, env=environment)
    return time.perf_counter() - start


def whole_processes(turns: int) -> None:
    """``check`` on the demo against importing its two largest libraries, and a note beside ``check``, in turns."""
    with tempfile.TemporaryDirectory() as folder:
        run = ("-m", "circuitcheck")
        runs = {
            'python -c ""': ("-c", ""),
            IMPORTS: ("-c", "import pydantic, pint"),
            "circuitcheck --version": (*run, "--version"),
            CHECK: (*run, "check", str(DEMO)),
            "circuitcheck check --json (demo)": (*run, "check", "--json", str(DEMO)),
            PDF: (*run, "note", str(DEMO), "-o", str(Path(folder) / "note.pdf"), "--replace"),
        }
        # Compiled modules are kept, as they are for everyone who has run the program once; the first turn makes them.
        environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        environment["PYTHONPYCACHEPREFIX"] = str(Path(folder) / "compiled")
        for arguments in runs.values():
            process(environment, *arguments)
        taken: dict[str, list[float]] = {name: [] for name in runs}
        for _ in range(turns):
            for name, arguments in runs.items():
                taken[name].append(process(environment, *arguments))
    print(f"Whole processes [ms], {turns} turns (aim: check at most 1.3 x the two imports; PDF under 300 ms more)")
    print(f"  {'':37}   fastest    median     worst   fastest and median x the imports'")
    for name, seconds in taken.items():
        ratios = (min(seconds) / min(taken[IMPORTS]), statistics.median(seconds) / statistics.median(taken[IMPORTS]))
        print(f"  {name:37}{spread(seconds, 0)}   {ratios[0]:7.2f} {ratios[1]:7.2f}")
    beside = [pdf - checked for pdf, checked in zip(taken[PDF], taken[CHECK], strict=True)]
    print(f"  {'one PDF more than check, turn by turn':37}{spread(beside, 0)}")


def one_file(turns: int) -> None:
    """The program built into one file by ``make app``: how large it is and how soon it answers."""
    if not APP.exists():
        print("\nThe program in one file: not built (make app)")
        return
    runs = {"--version": ("--version",), "check (demo)": ("check", str(DEMO))}
    print(f"\nThe program in one file: {APP.stat().st_size / 1e6:.0f} MB; whole runs [ms], {turns} turns")
    print(f"  {'':37}   fastest    median     worst")
    for name, arguments in runs.items():
        command = [str(APP), *arguments]
        seconds = times(partial(subprocess.run, command, capture_output=True, check=False), turns)
        print(f"  {name:37}{spread(seconds, 0)}")


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
    """The demo checked again in memory, as the terminal screens do on each change."""
    words = vocabulary()
    print("\nOne re-check in memory [ms], 200 times, and reading the text, 20 times (aim: demo checked in under 5 ms)")
    print(f"  {'':28}         fastest    median     worst")
    for path in sorted(EXAMPLES.glob("*.circuit.toml")):
        text = path.read_text("utf-8")
        circuit = read_circuit(text, path.name, words)
        book = load_rulebook(circuit.job.rulebook)
        check(circuit, book)
        print(f"  {path.name:28} check{spread(times(partial(check_anew, circuit, book), 200, PROCESSOR), 2)}")
        print(f"  {'':28} read {spread(times(partial(read_circuit, text, path.name, words), 20, PROCESSOR), 2)}")


def half_unknown() -> None:
    """The demo with half of its entries left out, six times otherwise: what a check takes while much is open."""
    sys.path.insert(0, str(EXAMPLES.parent))
    from tests.generating.dice import Dice, Shares
    from tests.generating.opening import opened

    circuit = read_circuit(DEMO.read_text("utf-8"), DEMO.name, vocabulary())
    book = load_rulebook(circuit.job.rulebook)
    print("\nOne re-check of the demo with half of its entries unknown [ms], 10 times (aim: under 40 ms)")
    print(f"  {'':6}   fastest    median     worst")
    for number in range(1, 7):
        half = opened(circuit, Dice(f"half {number}"), Shares(left_out=0.5, ranges=0.1))
        check(half, book)
        print(f"  half {number}{spread(times(partial(check_anew, half, book), 10, PROCESSOR), 1)}")


def fixes() -> None:
    """The fixes of each example: the first that the search comes upon, and all of them."""
    print("\nFixes in memory [ms], 5 times (aim: first fix of the demo in under 400 ms)")
    print(f"  {'':28}         fastest    median     worst")
    for path in sorted(EXAMPLES.glob("*.circuit.toml")):
        circuit = read_circuit(path.read_text("utf-8"), path.name, vocabulary())
        book = load_rulebook(circuit.job.rulebook)
        report = check(circuit, book)
        print(f"  {path.name:28} first{spread(times(partial(first_fix, circuit, book, report), 5, PROCESSOR), 2)}")
        print(f"  {'':28} all  {spread(times(partial(fixes_of, circuit, book, report), 5, PROCESSOR), 2)}")


def advice() -> None:
    """What is asked again for each example: the questions, the smallest set of them, the room left."""
    words = vocabulary()
    print("\nAdvice in memory [ms], 3 times (aim: first question under 400 ms, all advice under 3 s)")
    print(f"  {'':28}                 fastest    median     worst")
    for path in sorted(EXAMPLES.glob("*.circuit.toml")):
        circuit = read_circuit(path.read_text("utf-8"), path.name, words)
        book = load_rulebook(circuit.job.rulebook)
        report = check(circuit, book)
        for name, asked in (("questions", partial(questions_of, report, circuit, book)),
                            ("all advice", partial(advised, report, circuit, book))):  # fmt: skip
            print(f"  {path.name:28} {name:12}{spread(times(asked, 3, PROCESSOR), 1)}")


def open_circuit(boxes: int) -> str:
    """A circuit file of so many boxes in a chain, each with light and cable, of which next to nothing is known."""
    lines = [
        "format = 1",
        '[job]\ntitle = "benchmark"\nrulebook = "nec-2023"',
        '[supply]\nvoltage = "120 V"\nbreaker = "15 A"',
    ]
    for number in range(boxes):
        origin = "existing" if number < boxes // 3 else "added"
        start = f"b{number - 1}" if number else "panel"
        lines.append(f'[[box]]\nid = "b{number}"\norigin = "{origin}"')
        lines.append(f'[[cable]]\nid = "c{number}"\nfrom = "{start}"\nto = "b{number}"\norigin = "{origin}"')
        lines.append(
            f'[[load]]\nid = "l{number}"\nbox = "b{number}"\norigin = "{origin}"\nkind = "light"\npower = "4 W"'
        )
    return "\n\n".join(lines) + "\n"


def large_advice() -> None:
    """All advice for circuits of which next to nothing is known, and for a large one that is known."""
    words, book = vocabulary(), load_rulebook("nec-2023")
    print("\nAdvice for large circuits [s], once (aim: 200 parts under 30 s, in the background)")
    print(f"  {'':44}   check  all advice   fixes")
    texts = {f"{3 * boxes} parts, next to nothing known": open_circuit(boxes) for boxes in (10, 20)}
    texts["200 parts, known, a tree of tens"] = long_circuit(66, chain=False)
    for name, text in texts.items():
        circuit = read_circuit(text, "benchmark", words)
        report = check_anew(circuit, book)
        seconds = [
            fastest(action, 1, PROCESSOR)
            for action in (
                partial(check_anew, circuit, book),
                partial(advised, report, circuit, book),
                partial(fixes_of, circuit, book, report),
            )
        ]
        print(f"  {name:44}{seconds[0]:8.2f}{seconds[1]:12.2f}{seconds[2]:8.2f}")


def check_anew(circuit: Circuit, book: Rulebook) -> Report:
    """A check of a circuit that remembers nothing of an earlier one, as a changed circuit is a new object."""
    return check(replace(circuit), book)


def growth() -> None:
    """Time against size; the last column is one for time that grows with the size, two for time with its square."""
    words = vocabulary()
    book = load_rulebook("nec-2023")
    for chain in (False, True):
        print(f"\nTime against size [ms], {'one chain' if chain else 'branches of ten'}")
        print("(power: of the size, with which the median grows; garbage is not collected, as when the command runs)")
        print("   loads   read once | check: fastest    median     worst  power | JSON once  text once")
        before: tuple[int, float] | None = None
        for loads in SIZES:
            text = long_circuit(loads, chain=chain)
            gc.collect()
            gc.disable()
            read = fastest(partial(read_circuit, text, "benchmark", words), 1, PROCESSOR)
            circuit = read_circuit(text, "benchmark", words)
            checked = times(partial(check_anew, circuit, book), 7 if loads < max(SIZES) else 3, PROCESSOR)
            report = check_anew(circuit, book)
            as_json = fastest(lambda report=report: sum(map(len, report_json(report))), 1, PROCESSOR)
            as_text = fastest(lambda report=report: len(report_page(report, PageStyle())), 1, PROCESSOR)
            gc.enable()
            median, power = statistics.median(checked), ""
            if before is not None:
                power = f"{math.log(median / before[1]) / math.log(loads / before[0]):.2f}"
            print(
                f"  {loads:6}  {read * 1000:10.1f} |       {spread(checked)}  {power:>5} | "
                f"{as_json * 1000:9.1f}  {as_text * 1000:9.1f}"
            )
            before = (loads, median)


def rules(loads: int) -> None:
    """What each rule takes on a long chain."""
    book = load_rulebook("nec-2023")
    circuit = read_circuit(long_circuit(loads, chain=True), "benchmark", vocabulary())
    print(f"\nEach rule on a chain of {loads} loads, with the tree and what rules share worked out anew each time")
    for rule in ALL_RULES:
        seconds = fastest(lambda rule=rule: findings_of(replace(circuit), book, (rule,)), 2, PROCESSOR)
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
    one_file(arguments.turns)
    rechecks()
    half_unknown()
    fixes()
    advice()
    large_advice()
    rules(1_000)
    growth()
    if arguments.profile:
        profile()


if __name__ == "__main__":
    main()
