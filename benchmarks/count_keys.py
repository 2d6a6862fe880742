"""How many keys a circuit file takes, as it stands, in its long form and in its short form.

Run: python benchmarks/count_keys.py [FILE...]    (without files: the examples, and the short files of the tests)
An entry of a table counts as one key, also where its value is a small table in braces.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from circuitcheck.circuit.short.count import keys_in
from circuitcheck.circuit.short.tidy_long import long_text
from circuitcheck.circuit.short.tidy_short import short_text
from circuitcheck.tables.rulebook import vocabulary

TOP = Path(__file__).parents[1]


def main(names: Sequence[str]) -> int:
    """Print a line a file."""
    files = [Path(name) for name in names] or [
        *sorted((TOP / "examples").glob("*.circuit.toml")),
        *sorted((TOP / "tests" / "circuit" / "short").glob("*.circuit.toml")),
    ]
    width = max(len(file.name) for file in files)
    print(f"{'file':<{width}}  as written  long  short")
    for file in files:
        text = file.read_text("utf-8")
        long, short = keys_in(long_text(text, vocabulary())), keys_in(short_text(text, vocabulary()))
        print(f"{file.name:<{width}}  {keys_in(text):10}  {long:4}  {short:5}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
