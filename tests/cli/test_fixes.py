"""``circuitcheck fixes``: what it lists, what it writes, and what it refuses."""

import json
from pathlib import Path

from circuitcheck.checking import check
from circuitcheck.circuit.reader import read_file
from circuitcheck.findings import Verdict
from circuitcheck.tables.rulebook import load_rulebook, vocabulary

HALLWAY = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"
STOPS = Path(__file__).parents[2] / "examples" / "old-house.circuit.toml"


def test_it_lists_them_with_what_they_clear_and_ends_with_safety(run) -> None:
    ran = run("fixes", HALLWAY)
    assert (ran.status, ran.err) == (1, "")  # the status of check
    assert "1. Together:" in ran.out
    assert 'Clears: box fill, "attic"; arc-fault protection.' in ran.out
    assert "Other ways" in ran.out
    assert "licensed" in ran.out.rsplit("Before you open anything", 1)[1]


def test_json_has_the_shape_of_the_contract(run) -> None:
    ran = run("fixes", HALLWAY, "--json")
    assert ran.status == 1
    document = json.loads(ran.out)
    assert set(document) == {"fixes", "other_ways", "why_none", "faults"}
    first = document["fixes"][0]
    assert set(first) == {"n", "verdict", "clears", "leaves", "brings", "changes"}
    assert (first["n"], first["verdict"], first["leaves"]) == (1, "fits", [])
    assert {"check": "box-fill", "subject": "attic"} in first["clears"]
    assert set(first["changes"][0]) == {"part", "action", "key", "from", "to", "says"}


def test_a_fix_is_written_beside_with_every_comment(run, tmp_path) -> None:
    out = tmp_path / "new.circuit.toml"
    ran = run("fixes", HALLWAY, "--apply", "1", "-o", out)
    assert (ran.status, ran.err) == (1, "")
    assert f"Wrote {out}: fits." in ran.out
    assert out.read_text().startswith(HALLWAY.read_text().rstrip("\n"))
    circuit = read_file(out, vocabulary())
    assert check(circuit, load_rulebook(circuit.job.rulebook)).verdict is Verdict.FITS
    assert run("fixes", HALLWAY, "--apply", "1", "-o", out).status == 2  # it is there already
    assert run("check", out).status == 0


def test_line_ends_stay(run, tmp_path) -> None:
    file, out = tmp_path / "a.toml", tmp_path / "b.toml"
    file.write_bytes(HALLWAY.read_bytes().replace(b"\n", b"\r\n"))
    assert run("fixes", file, "--apply", "1", "-o", out).status == 1
    assert out.read_bytes().count(b"\n") == out.read_bytes().count(b"\r\n")


def test_what_cannot_be_done_is_told_and_nothing_written(run, tmp_path) -> None:
    out = tmp_path / "b.toml"
    for arguments, words in (
        (("--apply", "99", "-o", out), "there is no fix 99"),
        (("--apply", "1"), "go together"),
        (("-o", out), "go together"),
    ):
        ran = run("fixes", HALLWAY, *arguments)
        assert (ran.status, out.exists()) == (2, False)
        assert words in ran.err


def test_a_stop_has_no_fixes(run) -> None:
    ran = run("fixes", STOPS)
    assert ran.status == 1
    assert "call a licensed electrician first" in " ".join(ran.out.split())
    assert "1." not in ran.out
    assert json.loads(run("fixes", STOPS, "--json").out)["fixes"] == []
