"""``note``, ``plan`` and ``survey``: what is written where, and that a file that is there is left alone."""

import errno
import os
import time
from pathlib import Path

import pytest

from circuitcheck.errors import CommandError
from circuitcheck.paper.writing import refuse_output
from circuitcheck.safety import SHORT

COMMANDS = ("note", "plan", "survey")
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("ending", ["html", "md", "txt", "pdf"])
@pytest.mark.parametrize("command", COMMANDS)
def test_it_writes(run, circuit_file, tmp_path, command, ending) -> None:
    out = tmp_path / f"out.{ending}"
    ran = run(command, circuit_file(), "-o", out)
    assert ran.err == ""
    assert str(out) in ran.out
    assert out.stat().st_size > 1000
    assert SHORT[0][:40] in " ".join(ran.out.split())


@pytest.mark.parametrize("command", ["note", "plan"])
def test_the_status_is_that_of_the_verdict(run, circuit_file, tmp_path, command) -> None:
    file = circuit_file(('breaker = "15 A"', 'breaker = "30 A"'))
    assert run(command, file, "-o", tmp_path / "out.txt").status == run("check", file).status == 1


def test_a_blank_survey_needs_no_file(run, tmp_path) -> None:
    out = tmp_path / "sheet.txt"
    ran = run("survey", "-o", out)
    assert (ran.status, ran.err) == (0, "")
    assert "breaker" in out.read_text("utf-8").lower()


@pytest.mark.parametrize("command", COMMANDS)
def test_what_is_there_is_replaced_only_when_asked(run, circuit_file, tmp_path, command) -> None:
    out = tmp_path / "out.txt"
    out.write_text("mine")
    ran = run(command, circuit_file(), "-o", out)
    assert ran.status == 2
    assert ran.out == ""
    assert "--replace" in ran.err
    assert out.read_text() == "mine"
    assert run(command, circuit_file(), "-o", out, "--replace").err == ""
    assert out.read_text("utf-8") != "mine"


@pytest.mark.parametrize("link", ["", "symbolic", "hard"])
@pytest.mark.parametrize("command", COMMANDS)
def test_it_never_replaces_its_own_circuit_file(run, circuit_file, tmp_path, command, link) -> None:
    file = circuit_file(name="small.txt")
    before = file.read_bytes()
    out = tmp_path / "out.txt" if link else file
    if link == "symbolic":
        out.symlink_to(file)
    elif link == "hard":
        out.hardlink_to(file)
    ran = run(command, file, "-o", out, "--replace")
    assert ran.status == 2
    assert "is the circuit file itself" in ran.err
    assert file.read_bytes() == before


@pytest.mark.parametrize("where", ["nowhere/out.txt", "out.docx", "out", f"{'x' * 300}.txt"])
@pytest.mark.parametrize("command", COMMANDS)
def test_where_it_cannot_write_it_says_so(run, circuit_file, tmp_path, command, where) -> None:
    file = circuit_file()
    before = sorted(tmp_path.rglob("*"))
    ran = run(command, file, "-o", tmp_path / where)
    assert ran.status == 2
    assert ran.out == ""
    assert ran.err.startswith("circuitcheck: ")
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("command", ["note", "plan"])
def test_several_files_have_a_sheet_each_in_a_folder(run, circuit_file, tmp_path, command) -> None:
    files = [circuit_file(name=f"{name}.circuit.toml") for name in ("one", "two")]
    folder = tmp_path / "sheets"
    assert run(command, *files, "-o", folder).status == 2
    folder.mkdir()
    ran = run(command, *files, "-o", folder, "--form", "md")
    assert sorted(path.name for path in folder.iterdir()) == [f"one.{command}.md", f"two.{command}.md"]
    assert ran.status in (0, 1, 3)
    assert ran.out.count("Wrote ") == 2
    again = run(command, files[0], "-o", folder, "--form", "md")
    assert again.status == 2
    assert "already exists" in again.err


@pytest.mark.parametrize("command", [("tidy",), ("fixes", "--apply", "1"), ("survey", "--fill", "answers.json")])
def test_a_name_that_no_file_can_have_is_no_fault_of_the_program(run, circuit_file, tmp_path, command) -> None:
    """Of 300 letters: a name of a file has at most 255 bytes (NAME_MAX)."""
    file = EXAMPLES / "den.circuit.toml" if command[0] == "fixes" else circuit_file()  # which has a fix
    ran = run(command[0], file, *command[1:], "-o", tmp_path / ("a" * 300))
    assert (ran.status, "cannot be written: File name too long" in ran.err) == (2, True)


def test_one_wrong_file_among_several_writes_nothing(run, circuit_file, tmp_path) -> None:
    files = [circuit_file(name="one.circuit.toml"), circuit_file(('"15 A"', '"15 W"'), name="two.circuit.toml")]
    folder = tmp_path / "sheets"
    folder.mkdir()
    assert run("note", *files, "-o", folder).status == 2
    assert not list(folder.iterdir())


def test_two_files_of_one_name_are_told(run, circuit_file, tmp_path) -> None:
    file = circuit_file(name="one.circuit.toml")
    folder = tmp_path / "sheets"
    folder.mkdir()
    ran = run("note", file, file, "-o", folder)
    assert ran.status == 2
    assert "would have one name" in ran.err


def test_the_answers_of_a_form_come_into_a_circuit_file(run, circuit_file, tmp_path) -> None:
    file, answers, out = circuit_file(), tmp_path / "survey.json", tmp_path / "new.circuit.toml"
    answers.write_text('{"circuitcheck survey": 1, "parts": [{"section": "supply", "id": "-", "entries": '
                       '{"breaker": {"value": "20 A", "how": "label"}}}]}', "utf-8")  # fmt: skip
    assert run("survey", file, "--fill", answers, "-o", out).status == 0
    assert 'breaker = "label 20 A"' in out.read_text("utf-8")
    assert run("survey", file, "--fill", answers, "-o", out).status == 2
    assert run("survey", file, "--form", "-o", tmp_path / "form.html").status == 0
    assert run("survey", file, "--form", "-o", tmp_path / "form.pdf").status == 2


def test_a_folder_that_may_not_be_looked_into_is_told(monkeypatch, tmp_path) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "exists", refuse)
    with pytest.raises(CommandError, match="cannot be written: Permission denied"):
        refuse_output(tmp_path / "out.txt", replace=False)


def test_a_name_cannot_steer_the_terminal(run, circuit_file, tmp_path) -> None:
    ran = run("plan", circuit_file(), "-o", tmp_path / "a\x1b[31m.txt")
    assert "\x1b" not in ran.out
    assert "a\\x1b[31m.txt" in ran.out


@pytest.mark.parametrize("command", COMMANDS)
def test_a_wrong_file_writes_nothing(run, circuit_file, tmp_path, command) -> None:
    file = circuit_file(('"15 A"', '"15 W"'))
    out = tmp_path / "out.txt"
    ran = run(command, file, "-o", out)
    assert ran.status == 2
    assert "supply.breaker" in ran.err
    assert not out.exists()


@pytest.mark.parametrize(
    ("name", "status", "answer"),
    [
        ("bedroom", 0, "nothing open on paper."),
        ("hallway", 1, "NOT READY, something must change first."),
        ("den", 3, "NOT READY, something is still unknown."),
        ("old-house", 1, "STOP, call a licensed electrician first."),
    ],
)
def test_a_plan_gives_its_own_answer(run, tmp_path, name, status, answer) -> None:
    ran = run("plan", EXAMPLES / f"{name}.circuit.toml", "-o", tmp_path / "out.txt")
    assert ran.status == status
    assert f"out.txt: {answer}" in " ".join(ran.out.split())


def test_a_circuit_that_fits_may_have_a_plan_that_is_not_ready(run, tmp_path) -> None:
    """The bedroom fits; with a second switch in the light's box, nobody can tell which one the light hangs on."""
    text = (EXAMPLES / "bedroom.circuit.toml").read_text("utf-8")
    file = tmp_path / "untold.circuit.toml"
    file.write_text(text.replace('carries = "switched"', "").replace('switched_by = "door"', ""), "utf-8")
    assert run("check", file).status == 0
    ran = run("plan", file, "-o", tmp_path / "out.txt")
    assert ran.status == 3
    assert "out.txt: NOT READY, something is still unknown." in " ".join(ran.out.split())
    assert "out.txt: fits" not in ran.out


def test_a_note_and_a_survey_of_a_circuit_that_stops_say_so(run, tmp_path) -> None:
    for command, status in (("note", 1), ("survey", 0)):
        ran = run(command, EXAMPLES / "old-house.circuit.toml", "-o", tmp_path / f"{command}.txt")
        assert ran.status == status
        assert "STOP, call a licensed electrician first." in " ".join(ran.out.split())


def test_what_a_killed_process_left_half_written_is_taken_away(run, circuit_file, tmp_path) -> None:
    stale, fresh, other = (
        tmp_path / name for name in (".circuitcheck-a1b2c3.part", ".circuitcheck-d4.part", ".x.part")
    )
    for path in (stale, fresh, other):
        path.write_text("half")
    two_hours_ago = time.time() - 7200
    for path in (stale, other):
        os.utime(path, (two_hours_ago, two_hours_ago))
    run("note", circuit_file(), "-o", tmp_path / "out.txt")
    assert not stale.exists()
    assert fresh.exists(), "another process may be writing it right now"
    assert other.exists(), "not ours"


def test_a_process_killed_while_it_writes_leaves_a_file_that_is_swept(tmp_path, monkeypatch) -> None:
    from circuitcheck.paper import writing

    def killed(*_):
        raise SystemExit

    left = []
    monkeypatch.setattr(writing.Path, "unlink", lambda path, **_: left.append(path.name))
    monkeypatch.setattr(writing.os, "fsync", killed)
    with pytest.raises(SystemExit):
        writing.write_whole(tmp_path / "out.txt", b"x", replace=False)
    (name,) = left
    assert name.startswith(".circuitcheck-")
    assert name.endswith(".part")
