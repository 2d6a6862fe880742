"""``circuitcheck demo``: shows number, working and source of each finding, writes the note, and never over a file."""

import json
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"


@pytest.fixture
def here(tmp_path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def flat(text: str) -> str:
    """The text without line ends, so that a sentence can be found wherever it was wrapped."""
    return " ".join(text.split())


def test_the_demo_shows_everything(run, here) -> None:
    ran = run("demo")
    assert (ran.status, ran.err) == (0, "")
    shown = flat(ran.out)
    report = json.loads(run("check", "--json", EXAMPLE).out)
    for finding in report["findings"]:
        assert flat(finding["subject"]) in shown
        for step in finding["working"]:
            assert flat(step) in shown, finding["check"]
        for source in finding["sources"]:
            assert source["place"] in shown, finding["check"]
        if finding["outcome"] != "pass":
            assert flat(finding["says"]) in shown
    outcomes = {(finding["check"], finding["outcome"]) for finding in report["findings"]}
    assert ("box-fill", "fail") in outcomes  # something worth knowing
    assert any(outcome == "caution" for _, outcome in outcomes)
    assert "Before you open anything" in ran.out[-1200:]


def test_the_note_is_written_beside(run, here) -> None:
    run("demo")
    note = here / "hallway-note.html"
    assert "Three wall lights along the stair hall" in note.read_text("utf-8")
    assert [path.name for path in here.iterdir()] == ["hallway-note.html"]


def test_a_note_that_is_there_is_replaced_only_when_asked(run, here) -> None:
    note = here / "hallway-note.html"
    note.write_text("mine")
    ran = run("demo")
    assert ran.status == 2
    assert ran.out == ""
    assert "--replace" in ran.err
    assert note.read_text() == "mine"
    assert run("demo", "--replace").status == 0
    assert note.read_text("utf-8") != "mine"


def test_a_folder_that_is_missing_is_told(run, here) -> None:
    ran = run("demo", "-o", "nowhere/note.html")
    assert ran.status == 2
    assert ran.out == ""
    assert "nowhere" in ran.err
