"""The schema of the circuit file in TOML language servers, all on the Python package index.

taplo and tombi say by their own commands what they would mark: those share their code with the server that an editor
starts. The wheel of taplo has no server in it; olpat, a fork of it, has. Each takes the schema from the first line of
the file, as an editor does.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from doors.language_server import LanguageServer
from tests.circuit.test_file_schema import BEYOND_A_SCHEMA, BROKEN, SHORT

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted(ROOT.glob("examples/*.circuit.toml"))
LINTERS = {"taplo": ["lint"], "tombi": ["lint", "--offline"]}


@pytest.fixture(scope="module")
def beside_the_schema(tmp_path_factory) -> Path:
    """A folder with the schema in it, as `circuitcheck schema -o` leaves it."""
    folder = tmp_path_factory.mktemp("schema")
    shutil.copy(ROOT / "docs" / "circuit-file.schema.json", folder)
    return folder


def marked(program: str, options: list[str], file: Path) -> str:
    """What the linter has to say, or nothing where it takes the file."""
    ran = subprocess.run([program, *options, file.name], capture_output=True, text=True, cwd=file.parent)
    return ran.stdout + ran.stderr if ran.returncode else ""


@pytest.mark.parametrize("linter", LINTERS)
@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name)
def test_an_example_is_taken(linter, example, needs) -> None:
    assert marked(needs(linter, f"pip install {linter}"), LINTERS[linter], example) == ""


@pytest.mark.parametrize("linter", LINTERS)
def test_short_forms_are_taken(linter, beside_the_schema, needs) -> None:
    file = beside_the_schema / "short.circuit.toml"
    file.write_text(f"#:schema circuit-file.schema.json\n{SHORT}", "utf-8")
    assert marked(needs(linter, f"pip install {linter}"), LINTERS[linter], file) == ""


@pytest.mark.parametrize("linter", LINTERS)
@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_is_marked_where_a_schema_can_see_it(linter, name, beside_the_schema, needs) -> None:
    program = needs(linter, f"pip install {linter}")
    file = beside_the_schema / f"{name}.circuit.toml"
    file.write_text(f"#:schema circuit-file.schema.json\n{BROKEN[name].read_text('utf-8')}", "utf-8")
    said = marked(program, LINTERS[linter], file)
    beyond = any(name in names for names in BEYOND_A_SCHEMA.values())
    if beyond and said:
        assert name == "value-toml-nan", "the linter sees more: take the name out of the list"
    assert bool(said) or beyond
    assert not re.search(r"fail\w* to (?:load|fetch) schema", said)


@pytest.mark.parametrize("command", [("olpat", "lsp", "stdio"), ("tombi", "lsp", "--offline")], ids=["olpat", "tombi"])
def test_an_editor_sees_the_marks_and_the_help(command, beside_the_schema, needs) -> None:
    """A session with the server: a whole file has no error, a broken one has it at its line, a key is explained."""
    program, *options = command
    server_command = [needs(program, f"pip install {program}"), *options]
    whole = beside_the_schema / "whole.circuit.toml"
    whole.write_text(f"#:schema circuit-file.schema.json\n{SHORT}", "utf-8")
    broken = beside_the_schema / "broken.circuit.toml"
    broken.write_text(whole.read_text("utf-8").replace('breaker = "15 A"', "breaker = 15"), "utf-8")
    line = broken.read_text("utf-8").splitlines().index("breaker = 15")
    with LanguageServer(server_command, beside_the_schema) as server:
        assert [mark for mark in server.opened(whole) if mark.get("severity", 1) == 1] == []
        errors = [mark for mark in server.opened(broken) if mark.get("severity", 1) == 1]
        assert line in [mark["range"]["start"]["line"] for mark in errors]
        assert "rating of the breaker" in server.hover(whole, line, 2)
