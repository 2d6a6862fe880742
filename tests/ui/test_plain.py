"""The line-by-line mode: the same pages and the same work without a screen, and without the screen library."""

import os
import signal
import subprocess
import sys
import time
from io import StringIO
from pathlib import Path

import pytest

from circuitcheck.safety import SHORT
from circuitcheck.ui.document.disk import recovery_path
from circuitcheck.ui.plain.start import begin
from circuitcheck.ui.plain.talk import EndedError, Talk
from circuitcheck.ui.starting.file import starting_text


def talk_through(path: Path | None, *answers: str) -> str:
    """What is said when these answers are given; running out of answers ends the talk."""
    said = StringIO()
    try:
        begin(Talk(StringIO("".join(f"{answer}\n" for answer in answers)), said), path)
    except EndedError:
        said.write("\n(end)")
    return said.getvalue()


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_pages_are_said_as_text(hallway: Path) -> None:
    said = words(talk_through(hallway, "findings", "finding 1", "leave"))
    assert "DOES NOT FIT: 2 fail" in said
    assert "Breaker: 12.2 of 15 A, 81 %, caution." in said
    assert "5. box attic: 4 x 1-1/2 octagon, attic [fail]" in said
    assert "cable to wall 1, added" in said
    assert "1. fail, box fill attic:" in said
    assert "Working: insulated conductors of feed: 2 x 2 (14 AWG)" in said
    assert "Source: NFPA 70 2023" in said
    assert "Breaker off and locked or tagged" in said
    for stroke in "│├─█░■✗✓":
        assert stroke not in said, "no strokes that a screen reader would spell"


def test_a_new_circuit_to_a_note_by_questions_and_answers(folder: Path) -> None:
    panel = ("I looked, and saw none of these", "15", "", "lights", "hall light 60 W", "lamp 1,5 W", "")
    cable = ("14/2 nm-b with ground", "copper", "40", "?", "", "a light", "1", "4 x 1-1/2 octagon, metal")
    lights = ("one", "1", "9", "on a wall", "yes", "a", "15", "", "", "hallway", "a house", "2023")
    end = ("save", "note", "yes", "", "leave", "")
    said = words(talk_through(None, "1", *panel, *cable, *lights, *end))
    assert "u. I do not know" in said, "the letters are those of the screens"
    assert "Understood: hall light: light, 60 W" in said
    assert "The comma in 1,5" in said
    assert "If you cannot find it" in said, "a question mark explains"
    assert "Enter a whole number from 1 to 40." in said
    assert "The first answer" in said
    assert "Do next" in said
    assert "Have you read this?" in said
    written = {path.name for path in folder.iterdir()}
    assert written == {"hallway-lights.circuit.toml", "hallway-lights-note.html"}
    text = (folder / "hallway-lights.circuit.toml").read_text("utf-8")
    assert 'length = "about 40 ft"' in text
    assert 'breaker = "15 A"' in text


def test_an_entry_is_changed_marked_and_undone(hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    said = words(talk_through(hallway, "4", "11", "1,5", "11.5m", "11", "measured", "", "undo", "undo", "leave"))
    assert "The comma in 1,5" in said
    assert "Length: 11.5 m." in said
    assert "Length: 11.5 m (measured)." in said
    assert hallway.read_text("utf-8") == before
    assert not recovery_path(hallway).exists()


def test_a_list_of_small_tables(hallway: Path) -> None:
    talk_through(hallway, "5", "8", "add", "18 awg", "2", "", "", "save", "leave")
    assert 'fixture_wires = [{ size = "18 AWG", count = 2 }]' in hallway.read_text("utf-8")


def test_input_that_ends_keeps_the_work(hallway: Path) -> None:
    said = talk_through(hallway, "duplicate 27")
    assert "(end)" in said
    assert "a copy is kept" in words(said)
    assert "wall light 4" in recovery_path(hallway).read_text("utf-8")


def test_hostile_text_is_said_as_text(folder: Path) -> None:
    path = folder / "a.circuit.toml"
    path.write_text(
        'format = 1\n[job]\ntitle = "[/x] \\u001b[31m \\u202e"\nrulebook = "nec-2023"\n'
        '[supply]\nvoltage = "120 V"\nbreaker = "15 A"\n',
        "utf-8",
    )
    said = talk_through(path, "leave")
    assert "[/x] \\x1b[31m \\u202e" in said
    assert "\x1b" not in said


@pytest.mark.parametrize("encoding", ["ascii", "utf-8"])
def test_the_command_says_it_in_any_encoding_and_loads_no_screen(hallway: Path, encoding: str) -> None:
    code = (
        "import sys; from circuitcheck.cli.main import main; status = main(['edit', sys.argv[1], '--plain']);"
        "print('loaded:', sorted({n.split('.')[0] for n in sys.modules} & {'textual', 'rich'}), status)"
    )
    run = subprocess.run(
        [sys.executable, "-X", "utf8=0", "-c", code, str(hallway)],
        input=b"findings\nleave\n", capture_output=True, check=True, env={"PYTHONIOENCODING": encoding, "PATH": ""},
    )  # fmt: skip
    said = run.stdout.decode(encoding)
    assert "DOES NOT FIT" in said
    assert "'textual'" not in said.partition("loaded:")[2]
    assert said.rstrip().endswith("0")


@pytest.mark.parametrize("answers", [b"leave\n", b"", b"findings\n"])
def test_every_conversation_ends_with_the_cautions(hallway: Path, answers: bytes) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "circuitcheck", "edit", str(hallway), "--plain"],
        input=answers, capture_output=True, check=True,
    )  # fmt: skip
    said = words(run.stdout.decode())
    for sentence in SHORT:
        assert sentence in said
    assert said.endswith(SHORT[-1])


@pytest.mark.skipif(os.name != "posix", reason="sends a signal")
def test_ctrl_c_ends_the_conversation_with_its_own_status(hallway: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "circuitcheck", "edit", str(hallway), "--plain"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:  # fmt: skip
        said = b""
        while b"DOES NOT FIT" not in said:
            said += os.read(process.stdout.fileno(), 65536)
        time.sleep(0.3)
        process.send_signal(signal.SIGINT)
        rest, wrong = process.communicate(timeout=20)
    assert process.returncode == 130
    assert b"Traceback" not in wrong
    assert b"Before you open anything" in said + rest


def test_what_is_offered_is_taken_by_number_with_a_dot_or_by_its_words(hallway: Path) -> None:
    said = words(talk_through(hallway, "4", "length", "11.5 m", "", "add", "box attic", "2.", "leave"))
    assert "Length: 11.5 m." in said
    assert "light lamp 1" in said


def test_alike_findings_are_told_once_and_what_passes_is_counted(hallway: Path) -> None:
    said = talk_through(hallway, "f", "p", "leave")
    short, _, long = said.partition("checks found nothing wrong. Type passes for them.")
    assert "pass, " not in short
    assert "pass, breaker vs wire" in long


def test_the_letters_of_the_screens_work_and_what_cannot_be_found_out_is_remembered(folder: Path) -> None:
    path = folder / "a.circuit.toml"
    path.write_text(starting_text({"breaker": "15 A", "serves": "general lighting"}), "utf-8")
    first = words(talk_through(path, "n", "cannot", "n", "", "q"))
    assert "To find out, 1 of" in first
    asked = first.partition("To find out, 1 of ")[2]
    count = int(asked.split(":")[0])
    again = words(talk_through(path, "n", "", "q"))
    assert f"To find out, 1 of {count - 1}:" in again
