"""Completion, sourced in bash, zsh and fish themselves."""

from __future__ import annotations

import os
import pty
import re
import select
import subprocess
import sys
import time
from pathlib import Path

import pytest


def completion(shell: str, folder: Path) -> Path:
    """What the command prints, as a file."""
    command = [sys.executable, "-m", "circuitcheck", "completion", shell]
    printed = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=True).stdout
    file = folder / {"zsh": "_circuitcheck"}.get(shell, f"circuitcheck.{shell}")
    file.write_text(printed, "utf-8")
    return file


BASH = """\
source "$1"; shift
function_name=$(complete -p circuitcheck | sed -E 's/.*-F ([^ ]+).*/\\1/')
COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); COMP_LINE="$*"; COMP_POINT=${#COMP_LINE}
"$function_name" circuitcheck "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
printf '%s\\n' "${COMPREPLY[@]}"
"""

LINES = [
    (["circuitcheck", "sel"], "self-test"),
    (["circuitcheck", "check", "--wo"], "--working"),
    (["circuitcheck", "completion", "fi"], "fish"),
    (["circuitcheck", "tables", "ampa"], "ampacity"),
    (["circuitcheck", "check", "--rulebook", "nec-202"], "nec-2020"),
]


@pytest.mark.parametrize(("words", "expected"), LINES, ids=lambda value: str(value))
def test_bash(words, expected, tmp_path, needs) -> None:
    file = completion("bash", tmp_path)
    command = [needs("bash"), "-c", BASH, "bash", str(file), *words]
    ran = subprocess.run(command, capture_output=True, text=True, check=True, cwd=tmp_path)
    assert expected in ran.stdout.split(), ran.stdout + ran.stderr
    assert ran.stderr == ""


def test_bash_completes_files(tmp_path, needs) -> None:
    file = completion("bash", tmp_path)
    (tmp_path / "house.circuit.toml").touch()
    command = [needs("bash"), "-c", BASH, "bash", str(file), "circuitcheck", "check", "hou"]
    assert "house.circuit.toml" in subprocess.run(command, capture_output=True, text=True, cwd=tmp_path).stdout


@pytest.mark.parametrize(("words", "expected"), LINES, ids=lambda value: str(value))
def test_fish(words, expected, tmp_path, needs) -> None:
    file = completion("fish", tmp_path)
    command = [needs("fish", "apt-get install fish"), "--no-config", "-c"]
    command.append(f"source {file}; complete --do-complete '{' '.join(words)}'")
    environment = {**os.environ, "HOME": str(tmp_path)}
    ran = subprocess.run(command, capture_output=True, text=True, check=True, cwd=tmp_path, env=environment)
    assert expected in [line.split("\t")[0] for line in ran.stdout.splitlines()], ran.stdout + ran.stderr


@pytest.mark.parametrize(("words", "expected"), LINES, ids=lambda value: str(value))
def test_zsh(words, expected, tmp_path, needs) -> None:
    file = completion("zsh", tmp_path)
    zsh = needs("zsh", "apt-get install zsh")
    start = f"fpath=({file.parent} $fpath); autoload -Uz compinit; compinit -u -d {tmp_path}/dump; echo rea''dy\n"
    screen = typed_in_zsh(zsh, tmp_path, start, " ".join(words) + "\t")
    assert expected in re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", screen).split(), screen


def typed_in_zsh(zsh: str, home: Path, start: str, keys: str) -> str:
    """What an interactive zsh shows after these keys."""
    environment = {"HOME": str(home), "TERM": "dumb", "PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8"}
    process, terminal = pty.fork()
    if process == 0:
        os.chdir(home)
        os.execve(zsh, [zsh, "-f", "-i"], environment)
    try:
        os.write(terminal, start.encode())
        shown = read_until(terminal, "ready", 20)
        os.write(terminal, keys.encode())
        return read_until(terminal, None, 2) or shown
    finally:
        os.close(terminal)
        os.waitpid(process, 0)


def read_until(terminal: int, word: str | None, seconds: float) -> str:
    """What the terminal shows until a word stands in it or the time is over."""
    shown, end = "", time.monotonic() + seconds
    while time.monotonic() < end and (word is None or word not in shown):
        if select.select([terminal], [], [], 0.1)[0]:
            shown += os.read(terminal, 65536).decode("utf-8", "replace")
    return shown
