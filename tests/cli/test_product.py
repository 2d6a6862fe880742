"""``circuitcheck product``: lists, copies, and writes nothing where it cannot."""

from pathlib import Path

from circuitcheck.circuit.reader import read_file
from circuitcheck.tables.rulebook import vocabulary

TOP = Path(__file__).parents[2]
PRODUCTS = TOP / "examples" / "products.toml"
HALLWAY = TOP / "examples" / "hallway.circuit.toml"


def test_it_copies_under_the_name(run, tmp_path) -> None:
    out = tmp_path / "new.circuit.toml"
    ran = run("product", "round wall light", HALLWAY, "--part", "wall light 1", "-o", out, "--products", PRODUCTS)
    assert (ran.status, ran.err) == (0, "")
    assert "wall light 1 is round wall light" in ran.out
    assert next(load for load in read_file(out, vocabulary()).loads if load.id == "wall light 1").product


def test_the_products_are_looked_for_beside_the_file(run, tmp_path) -> None:
    (tmp_path / "products.toml").write_bytes(PRODUCTS.read_bytes())
    file = tmp_path / "a.circuit.toml"
    file.write_bytes(HALLWAY.read_bytes())
    ran = run("product", "14/2 cable", file, "--part", "feed", "-o", tmp_path / "b.toml")
    assert (ran.status, ran.err) == (0, "")


def test_it_lists(run) -> None:
    ran = run("product", "--products", PRODUCTS)
    assert ran.out.splitlines()[0].startswith("round wall light (light): power, ")


def test_what_cannot_be_done_is_told_and_nothing_written(run, tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    out = tmp_path / "b.toml"
    copied = ("-o", out, "--products", PRODUCTS)
    for arguments in (
        ("no such", HALLWAY, "--part", "feed", *copied),
        ("14/2 cable", HALLWAY, "--part", "no such", *copied),
        ("14/2 cable", HALLWAY, *copied),
        ("14/2 cable", tmp_path / "none.toml", "--part", "feed", *copied),
        ("14/2 cable", HALLWAY, "--part", "feed", "-o", out, "--products", tmp_path / "none.toml"),
        (),
    ):
        ran = run("product", *arguments)
        assert (ran.status, ran.out) == (2, ""), arguments
        assert ran.err
    assert not out.exists()
