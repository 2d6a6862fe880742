"""``python -m circuitcheck``."""

from circuitcheck.cli.entry import entry

if __name__ == "__main__":
    entry()
