"""``python -m circuitcheck``."""

from circuitcheck.cli.main import entry

if __name__ == "__main__":
    entry()
