"""The program in one file (`make app`), from an empty folder with no Python on the path."""

from __future__ import annotations

import contextlib
import json
import os
import pty
import re
import select
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pypdf
import pytest

ROOT = Path(__file__).parents[1]
BUILT = ROOT / "dist" / ("circuitcheck.exe" if sys.platform == "win32" else "circuitcheck")


@pytest.fixture
def place(tmp_path) -> Path:
    """An empty folder with nothing but the program and one circuit file in it."""
    if not BUILT.exists():
        pytest.skip("dist/circuitcheck is not built: make app")
    shutil.copy(BUILT, tmp_path / BUILT.name)
    shutil.copy(ROOT / "examples" / "hallway.circuit.toml", tmp_path / "my.circuit.toml")
    return tmp_path


def bare_environment(folder: Path) -> dict[str, str]:
    """No Python on the path, and nothing of ours."""
    nowhere = folder / "no programs"
    nowhere.mkdir(exist_ok=True)
    environment = {"PATH": str(nowhere), "HOME": str(folder), "TERM": "xterm-256color", "LC_ALL": "C.UTF-8"}
    assert shutil.which("python3", path=environment["PATH"]) is None
    return environment


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(folder / BUILT.name), *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=folder,
        env=bare_environment(folder),
        timeout=120,
    )


def test_check_note_and_everything_it_tries_of_itself(place) -> None:
    checked = run(place, "check", "--json", "my.circuit.toml")
    assert checked.returncode == 1, checked.stderr
    box = next(one for one in json.loads(checked.stdout)["findings"] if one["check"] == "box-fill")
    assert (box["subject"], box["value"], box["limit"]) == ("attic", 16.0, 15.5)  # NFPA 70 2023, Table 314.16
    noted = run(place, "note", "my.circuit.toml", "-o", "my.pdf")
    assert noted.returncode == 1, noted.stderr
    assert "attic" in "".join(page.extract_text() for page in pypdf.PdfReader(place / "my.pdf").pages)
    tried = run(place, "self-test")
    assert tried.returncode == 0, tried.stdout
    assert len(re.findall(r"^\w+ +works", tried.stdout, re.MULTILINE)) == 5, tried.stdout
    assert run(place, "demo").returncode == 0
    assert (place / "hallway-note.html").exists()
    assert json.loads(run(place, "schema").stdout)["title"] == "Circuit file"
    for command in (["completion", "bash"], ["tables", "ampacity"], ["survey", "-o", "sheet.html"], ["--help"]):
        assert run(place, *command).returncode == 0, command


def test_the_screens_on_a_terminal(place) -> None:
    process, terminal = pty.fork()
    if process == 0:
        os.chdir(place)
        os.execve(place / BUILT.name, [BUILT.name, "edit", "my.circuit.toml"], bare_environment(place))
    shown = ""
    try:
        end = time.monotonic() + 60
        while "DOES NOT FIT" not in shown and time.monotonic() < end:
            shown += heard(terminal)
        assert "DOES NOT FIT" in shown
        os.write(terminal, b"\x11")  # Ctrl+Q
        while time.monotonic() < end:
            heard(terminal)
            ended, status = os.waitpid(process, os.WNOHANG)
            if ended:
                assert os.waitstatus_to_exitcode(status) == 0
                return
        raise AssertionError("the screens did not close")
    finally:
        os.close(terminal)
        with contextlib.suppress(ProcessLookupError, ChildProcessError):
            os.kill(process, signal.SIGKILL)


def heard(terminal: int) -> str:
    """What the terminal shows next, within a little while."""
    if not select.select([terminal], [], [], 0.1)[0]:
        return ""
    try:
        return os.read(terminal, 65536).decode("utf-8", "replace")
    except OSError:  # the other end is gone
        return ""


async def test_the_screens_in_a_browser(place) -> None:
    """The page comes, and the program that it starts anew for each visitor is the same file."""
    import aiohttp

    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [str(place / BUILT.name), "serve", "my.circuit.toml", "--port", str(port)]
    serving = subprocess.Popen(
        command, cwd=place, env=bare_environment(place), start_new_session=True, stderr=subprocess.PIPE, text=True
    )
    try:
        assert serving.stderr
        said = re.search(r"Open (http://[^/]+)(/\S+) in a browser", serving.stderr.readline())
        assert said
        origin, address = said[1], said[1] + said[2]
        end = time.monotonic() + 60
        while True:
            try:
                page = urllib.request.urlopen(address, timeout=5).read().decode()
                break
            except OSError:
                assert time.monotonic() < end
                time.sleep(0.2)
        assert "circuitcheck" in page
        async with (
            aiohttp.ClientSession() as session,
            session.ws_connect(f"{address}ws?width=100&height=30", headers={"Origin": origin}) as connection,
        ):
            shown = b""
            while b"DOES NOT FIT" not in shown:
                message = await connection.receive(timeout=60)
                assert message.type in (aiohttp.WSMsgType.BINARY, aiohttp.WSMsgType.TEXT), message
                shown += message.data if isinstance(message.data, bytes) else message.data.encode()
    finally:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(serving.pid, signal.SIGTERM)
        serving.wait(timeout=20)
