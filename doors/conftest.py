"""What the trials of the doors share. Each says what it needs beyond Python and is skipped without it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.fixture
def needs():
    """Skips the trial where a program is not installed, and gives its path where it is."""
    beside_python = str(Path(sys.executable).parent)

    def look(program: str, how: str = "") -> str:
        path = shutil.which(program, path=os.pathsep.join([beside_python, os.environ.get("PATH", "")]))
        if not path:
            pytest.skip(f"{program} is not installed{f': {how}' if how else ''}")
        return path

    return look


@pytest.fixture(scope="session")
def wheel(tmp_path_factory) -> Path:
    """The wheel of this checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    (built,) = folder.glob("*.whl")
    return built
