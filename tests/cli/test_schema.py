"""The two schemas as the command gives them."""

import json
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.mark.parametrize("of", ["circuit-file", "report"])
def test_what_is_printed_is_the_file_in_docs(run, of) -> None:
    ran = run("schema", of)
    assert ran.status == 0
    assert json.loads(ran.out) == json.loads((DOCS / f"{of}.schema.json").read_text("utf-8"))


def test_it_is_written_beside_circuit_files_and_not_over_another(run, tmp_path) -> None:
    target = tmp_path / "circuit-file.schema.json"
    assert run("schema", "-o", target).status == 0
    assert json.loads(target.read_text("utf-8"))["title"] == "Circuit file"
    refused = run("schema", "-o", target)
    assert refused.status == 2
    assert "--replace" in refused.err
    assert run("schema", "-o", target, "--replace").status == 0
