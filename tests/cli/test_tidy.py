"""``circuitcheck tidy``: what it writes, and what it refuses."""

from pathlib import Path

from circuitcheck.circuit.reader import read_file
from circuitcheck.tables.rulebook import vocabulary

SHORT = Path(__file__).parents[1] / "circuit" / "short" / "hallway.circuit.toml"
LONG = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"


def test_it_writes_both_forms(run, tmp_path) -> None:
    short, long = tmp_path / "short.circuit.toml", tmp_path / "long.circuit.toml"
    ran = run("tidy", LONG, "-o", short)
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == f"Wrote {short}: 235 keys, 392 before.\n"
    assert run("tidy", "--long", short, "-o", long).status == 0
    read = read_file(long, vocabulary())
    assert {load.id for load in read.loads} == {load.id for load in read_file(LONG, vocabulary()).loads}


def test_line_ends_stay(run, tmp_path) -> None:
    file, out = tmp_path / "a.toml", tmp_path / "b.toml"
    file.write_bytes(SHORT.read_bytes().replace(b"\n", b"\r\n"))
    assert run("tidy", "--long", file, "-o", out).status == 0
    assert out.read_bytes().count(b"\n") == out.read_bytes().count(b"\r\n")


def test_a_file_that_is_there_stays(run, tmp_path) -> None:
    out = tmp_path / "out.toml"
    out.write_text("mine")
    ran = run("tidy", LONG, "-o", out)
    assert (ran.status, out.read_text()) == (2, "mine")
    assert "--replace" in ran.err
    assert run("tidy", LONG, "-o", out, "--replace").status == 0


def test_a_wrong_file_is_told_and_nothing_written(run, tmp_path) -> None:
    file, out = tmp_path / "a.toml", tmp_path / "b.toml"
    file.write_text(LONG.read_text().replace('breaker = "label 15 A"', 'breaker = "15"'))
    ran = run("tidy", file, "-o", out)
    assert (ran.status, out.exists()) == (2, False)
    assert "supply.breaker" in ran.err


def test_tables_on_one_line_are_not_rewritten(run, tmp_path) -> None:
    file, out = tmp_path / "a.toml", tmp_path / "b.toml"
    file.write_text(
        'format = 1\njob = { title = "a", rulebook = "nec-2023" }\nsupply = { voltage = "120 V", breaker = "15 A" }\n'
    )
    ran = run("tidy", file, "-o", out)
    assert (ran.status, out.exists()) == (2, False)
    assert "header of its own" in ran.err
