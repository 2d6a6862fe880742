"""A small circuit that fits, variants of it, and a way to run the command line."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from circuitcheck.cli.main import main

FITS = """\
format = 1
[job]
title = "Porch light"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
[[box]]
id = "hall"
origin = "existing"
volume = "20 in^3"
internal_clamps = false
[[cable]]
id = "feed"
from = "panel"
to = "hall"
origin = "existing"
type = "NM-B"
size = "14 AWG"
conductors = 2
ground = true
length = "30 ft"
[[load]]
id = "hall lamp"
box = "hall"
origin = "existing"
kind = "light"
power = "60 W"
"""


@dataclass
class Ran:
    """What a command line did."""

    status: int
    out: str
    err: str


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    """Runs one command line within this process."""

    def run_it(*arguments: str | Path) -> Ran:
        status = main([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        return Ran(status, out, err)

    return run_it


@pytest.fixture
def circuit_file(tmp_path: Path) -> Callable[..., Path]:
    """Writes the small circuit with some text replaced."""

    def write(*changes: tuple[str, str], name: str = "small.circuit.toml") -> Path:
        text = FITS
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        path = tmp_path / name
        path.write_text(text, "utf-8")
        return path

    return write
