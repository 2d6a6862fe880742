"""A built wheel, installed elsewhere, carries the tables and the examples and does the main job there.

The new environment borrows the dependencies of the one the tests run in (by a path file, which does not pass on the
editable install), so that nothing is fetched.
"""

import email
import json
import os
import re
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

#: One process builds the wheel, once.
pytestmark = pytest.mark.xdist_group("wheel")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)],
        check=True,
        capture_output=True,
        timeout=120,
    )
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def elsewhere(wheel, tmp_path_factory) -> Path:
    """The script folder of an environment in which only the wheel is installed, beside borrowed dependencies."""
    home = tmp_path_factory.mktemp("elsewhere")
    venv.create(home, with_pip=False)
    scripts = home / ("Scripts" if os.name == "nt" else "bin")
    python = scripts / "python"
    subprocess.run(
        [sys.executable, "-m", "pip", "--python", str(python), "install", "--no-deps", "--no-index", str(wheel)],
        check=True,
        capture_output=True,
        timeout=120,
    )
    (packages,) = (folder.parent for folder in home.rglob("circuitcheck") if folder.is_dir())
    (packages / "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n")
    return scripts


def run(scripts: Path, *arguments: str, folder: Path) -> subprocess.CompletedProcess[str]:
    environment = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    environment["PYTHONUTF8"] = "1"
    return subprocess.run(
        [str(scripts / "circuitcheck"), *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=folder,
        env=environment,
        timeout=120,
    )


def test_the_wheel_carries_all_data(wheel) -> None:
    with zipfile.ZipFile(wheel) as packed:
        inside = set(packed.namelist())
    for source, target in (("tables", "circuitcheck/tables/data"), ("examples", "circuitcheck/examples")):
        for path in (ROOT / source).rglob("*"):
            if path.is_file():
                assert f"{target}/{path.relative_to(ROOT / source).as_posix()}" in inside
    assert "circuitcheck/docs/circuit-file.schema.json" in inside
    ours = {
        f"circuitcheck/{path.relative_to(ROOT / 'circuitcheck').as_posix()}"
        for path in (ROOT / "circuitcheck").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert ours <= inside
    assert "circuitcheck/py.typed" in inside
    assert not any(name.startswith("tests/") for name in inside)


def test_it_is_the_installed_one_that_runs(elsewhere, tmp_path) -> None:
    code = (
        "import circuitcheck, circuitcheck.tables.loading as t; print(circuitcheck.__file__); print(t.tables_folder())"
    )
    shown = subprocess.run(
        [str(elsewhere / "python"), "-c", code], capture_output=True, text=True, cwd=tmp_path, check=True
    ).stdout
    assert str(ROOT / "circuitcheck") not in shown
    for line in shown.splitlines():
        assert Path(line).is_relative_to(elsewhere.parent)


def test_check(elsewhere, tmp_path) -> None:
    example = ROOT / "examples" / "bedroom.circuit.toml"
    (tmp_path / "mine.circuit.toml").write_bytes(example.read_bytes())
    ran = run(elsewhere, "check", "--json", "mine.circuit.toml", folder=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    report = json.loads(ran.stdout)
    assert (report["file"], report["verdict"]) == ("mine.circuit.toml", "fits")


def test_demo(elsewhere, tmp_path) -> None:
    ran = run(elsewhere, "demo", folder=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "DOES NOT FIT" in ran.stdout
    note = tmp_path / "hallway-note.html"
    assert "Three wall lights along the stair hall" in note.read_text("utf-8")
    before = note.read_bytes()
    again = run(elsewhere, "demo", folder=tmp_path)
    assert again.returncode == 2
    assert "--replace" in again.stderr
    assert note.read_bytes() == before
    assert run(elsewhere, "demo", "--replace", folder=tmp_path).returncode == 0


def test_what_a_package_index_shows_stands_alone(wheel) -> None:
    """No link of the README leads into a clone that is not there, and every one names the project's home."""
    with zipfile.ZipFile(wheel) as packed:
        (name,) = (name for name in packed.namelist() if name.endswith(".dist-info/METADATA"))
        metadata = email.message_from_bytes(packed.read(name))
        manual = [name for name in packed.namelist() if name.endswith("share/man/man1/circuitcheck.1")]
    urls = dict(line.split(", ") for line in metadata.get_all("Project-URL"))
    assert {"Homepage", "Documentation", "Changes", "Safety"} <= urls.keys()
    assert metadata["Description-Content-Type"] == "text/markdown"
    links = re.findall(r"\]\(([^)]+)\)", metadata.get_payload())
    assert len(links) > 10
    assert all(link.startswith(f"{urls['Homepage']}/") for link in links), links
    assert all((ROOT / link.removeprefix(f"{urls['Homepage']}/").partition("#")[0]).exists() for link in links)
    assert len(manual) == 1
