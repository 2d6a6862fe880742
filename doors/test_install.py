"""Installed as the README says, away from the clone: with each Python found here, with uv, and with pipx."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

ROOT = Path(__file__).parents[1]
EXTRAS = "[pdf,serve]"
OLDEST = (3, 11)


def pythons() -> dict[str, str]:
    """Every Python from the oldest that we support, one for each minor version, with its path."""
    candidates = [sys.executable, *(f"/usr/bin/python3.{minor}" for minor in range(11, 20))]
    for root in (Path.home() / ".pyenv/versions", Path.home() / ".local/share/uv/python"):
        candidates += map(str, sorted(root.glob("*/bin/python3")))
    folders = os.environ.get("PATH", "").split(os.pathsep)
    candidates += [f"{folder}/python3.{minor}" for folder in folders for minor in range(11, 20)]
    found: dict[str, str] = {}
    for candidate in filter(os.path.exists, candidates):
        ran = subprocess.run(
            [candidate, "-c", "import sys, venv; print(*sys.version_info[:2])"], capture_output=True, text=True
        )
        version = tuple(map(int, ran.stdout.split())) if ran.returncode == 0 else (0, 0)
        if version >= OLDEST:
            found.setdefault(".".join(map(str, version)), candidate)
    return found


def environment(**more: str) -> dict[str, str]:
    """The environment without anything that leads back to the clone."""
    kept = {key: value for key, value in os.environ.items() if not key.startswith(("PYTHON", "VIRTUAL_ENV"))}
    return {**kept, "PYTHONUTF8": "1", **more}


def does_its_work(command: Path, folder: Path) -> None:
    """Self-test, check, a note as PDF and the schema, from an empty folder."""
    folder.mkdir()

    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [str(command), *arguments],
            capture_output=True,
            text=True,
            encoding="utf-8",
            cwd=folder,
            env=environment(CIRCUITCHECK_CONFIG=str(folder / "config")),
            timeout=120,
        )

    tried = run("self-test")
    assert tried.returncode == 0, tried.stdout + tried.stderr
    assert re.findall(r"^(check|tables|pdf|screens|browser) +works", tried.stdout, re.MULTILINE) == [
        "check", "tables", "pdf", "screens", "browser",
    ]  # fmt: skip
    assert str(ROOT) not in tried.stdout
    demo = run("demo", "-o", "note.pdf")
    assert demo.returncode == 0, demo.stderr
    example = re.search(r"The circuit file of this example: (\S+)", demo.stdout)
    assert example
    assert str(ROOT) not in example[1]
    assert "box" in pypdf.PdfReader(folder / "note.pdf").pages[0].extract_text().lower()
    checked = run("check", "--json", example[1])
    assert checked.returncode == 1
    assert json.loads(checked.stdout)["verdict"] == "does not fit"
    assert json.loads(run("schema").stdout)["title"] == "Circuit file"


@pytest.mark.parametrize(("version", "python"), pythons().items(), ids=lambda value: value if "/" not in value else "")
def test_the_wheel_with_each_python(version, python, wheel, tmp_path) -> None:
    place = tmp_path / "venv"
    subprocess.run([python, "-m", "venv", str(place)], check=True, env=environment())
    pip = [str(place / "bin" / "python"), "-m", "pip", "install", "--quiet", f"{wheel}{EXTRAS}"]
    ran = subprocess.run(pip, capture_output=True, text=True, env=environment(), timeout=600)
    assert ran.returncode == 0, ran.stderr
    does_its_work(place / "bin" / "circuitcheck", tmp_path / "empty")


def test_uv_tool_install_from_the_clone(needs, tmp_path) -> None:
    uv = needs("uv", "pip install uv")
    places = {"UV_TOOL_DIR": str(tmp_path / "tools"), "UV_TOOL_BIN_DIR": str(tmp_path / "bin")}
    command = [uv, "tool", "install", "--python", sys.executable, f".{EXTRAS}"]
    ran = subprocess.run(command, cwd=ROOT, env=environment(**places), capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stderr
    does_its_work(tmp_path / "bin" / "circuitcheck", tmp_path / "empty")


def test_pipx_install_from_the_clone_with_its_manual_page(needs, tmp_path) -> None:
    pipx = needs("pipx", "pip install pipx")
    places = {f"PIPX_{name}": str(tmp_path / name.lower()) for name in ("HOME", "BIN_DIR", "MAN_DIR")}
    command = [pipx, "install", "--python", sys.executable, f".{EXTRAS}"]
    ran = subprocess.run(command, cwd=ROOT, env=environment(**places), capture_output=True, text=True, timeout=600)
    assert ran.returncode == 0, ran.stderr
    assert (tmp_path / "man_dir" / "man1" / "circuitcheck.1").read_text("utf-8").startswith(".TH CIRCUITCHECK")
    does_its_work(tmp_path / "bin_dir" / "circuitcheck", tmp_path / "empty")
