"""Imports point down, as DEVELOPERS.md draws it, and the heavy libraries stay where they belong."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "circuitcheck"

BOTTOM = {"quantities", "findings", "errors", "text", "outcomes", "safety", "refs"}

#: Layer -> what it may import besides itself. Top to bottom as in DEVELOPERS.md.
MAY_IMPORT = {
    "findings": set(),
    "errors": set(),
    "text": set(),
    "safety": set(),
    "outcomes": {"findings", "refs"},
    "refs": set(),
    "quantities": {"errors", "text"},
    "circuit": BOTTOM,
    "tables": BOTTOM,
    "physics": set(),
    "possible": BOTTOM | {"circuit", "tables", "physics"},
    "case": BOTTOM | {"circuit", "tables", "possible"},
    "domain": BOTTOM | {"circuit", "tables", "physics", "case"},
    "rules": BOTTOM | {"circuit", "tables", "physics", "case", "domain"},
    "checking": BOTTOM | {"circuit", "tables", "possible", "case", "domain", "rules"},
    "advice": BOTTOM | {"circuit", "tables", "case", "rules", "checking"},
    "paper": BOTTOM,
    "note": BOTTOM | {"circuit", "tables", "checking", "advice", "paper"},
    "sheets": BOTTOM | {"circuit", "tables", "checking", "advice", "paper", "note"},
    "ui": BOTTOM | {"circuit", "tables", "checking", "advice", "paper", "note", "sheets"},
    "api": BOTTOM | {"circuit", "tables", "checking", "advice"},
    "cli": BOTTOM | {"circuit", "tables", "checking", "advice", "paper", "note", "sheets", "ui", "api"},
}

#: Library -> the only layers that may import it.
ONLY_IN = {
    "textual": {"ui"},
    "rich": {"ui"},
    "textual_serve": {"ui"},
    "pint": {"quantities"},
    "pydantic": {"api"},
    "jinja2": {"paper"},
    "markupsafe": {"paper"},
    "typst": {"paper"},
}

MODULES = sorted(path for path in PACKAGE.rglob("*.py"))


def name_of(path: Path) -> str:
    """Dotted name of a module below the package: ``rules.evidence.stop_first``, ``__init__`` for the package itself."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" and len(parts) > 1 else parts)


def imports_of(path: Path) -> Iterator[str]:
    """Full dotted names that a module imports anywhere, also within functions and under TYPE_CHECKING."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def layer_of(dotted: str) -> str:
    rest = dotted.removeprefix("circuitcheck").lstrip(".")
    top = rest.split(".")[0]
    return top if top in MAY_IMPORT else "__init__"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_imports_point_down(path: Path) -> None:
    layer = name_of(path).split(".")[0]
    if layer in {"__init__", "__main__"}:
        return
    assert layer in MAY_IMPORT, f"{layer} is no layer of the drawing"
    for imported in imports_of(path):
        if imported.split(".")[0] == "circuitcheck":
            other = layer_of(imported)
            allowed = other in MAY_IMPORT[layer] or imported == "circuitcheck.__version__"
            assert other == layer or allowed, f"{name_of(path)} imports {imported}"


@pytest.mark.parametrize("layer", ["note", "sheets", "ui", "cli"])
def test_what_people_read_knows_no_rule_and_nothing_of_the_domain(layer: str) -> None:
    assert MAY_IMPORT[layer].isdisjoint({"rules", "domain", "case"})


def test_rules_are_found_by_their_files_and_nothing_else_stands_among_them() -> None:
    folder = PACKAGE / "rules"
    families = sorted(path for path in folder.iterdir() if path.is_dir() and path.name != "__pycache__")
    assert [path.name for path in folder.glob("*.py")] == ["__init__.py"]
    for path in (module for family in families for module in family.glob("*.py") if module.name != "__init__.py"):
        named = [
            node.targets[0].id if isinstance(node, ast.Assign) else ""
            for node in ast.parse(path.read_text("utf-8")).body
            if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name)
        ]
        assert "RULE" in named, f"{name_of(path)} holds no rule: what rules share stands in domain"
    (init,) = folder.glob("*.py")
    text = init.read_text("utf-8")
    assert not any(path.stem in text for family in families for path in family.glob("*.py") if path.stem != "__init__")


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_libraries_stay_in_their_layers(path: Path) -> None:
    layer = name_of(path).split(".")[0]
    for imported in imports_of(path):
        allowed = ONLY_IN.get(imported.split(".")[0])
        assert allowed is None or layer in allowed, f"{name_of(path)} imports {imported}"


def test_layers_have_no_cycle() -> None:
    done: set[str] = set()
    while len(done) < len(MAY_IMPORT):
        ready = {layer for layer, below in MAY_IMPORT.items() if layer not in done and below <= done}
        assert ready, f"a cycle among {sorted(set(MAY_IMPORT) - done)}"
        done |= ready


def test_modules_have_no_import_cycle() -> None:
    known = {f"circuitcheck.{name_of(path)}": path for path in MODULES}
    known["circuitcheck"] = PACKAGE / "__init__.py"
    graph: dict[str, set[str]] = {}
    for name, path in known.items():
        graph[name] = set()
        tree = ast.parse(path.read_text("utf-8"))
        for node in tree.body:  # imports on top only: those within functions run later
            if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("circuitcheck"):
                for alias in node.names:
                    whole = f"{node.module}.{alias.name}"
                    graph[name].add(whole if whole in known else node.module)
            elif isinstance(node, ast.Import):
                graph[name].update(alias.name for alias in node.names if alias.name in known)
        graph[name] = (graph[name] & known.keys()) - {name}
    order: set[str] = set()
    while len(order) < len(graph):
        ready = {name for name, needed in graph.items() if name not in order and needed <= order}
        assert ready, f"a cycle among {sorted(set(graph) - order)}"
        order |= ready


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_no_module_is_long(path: Path) -> None:
    lines = path.read_text("utf-8").count("\n")
    assert lines < 400, f"{name_of(path)} has {lines} lines: split it"


def test_the_check_command_loads_no_screen_and_no_document_library() -> None:
    code = (
        "import sys; from circuitcheck.cli.main import main; main(['check', sys.argv[1]]);"
        "print(sorted({name.split('.')[0] for name in sys.modules}), file=sys.stderr)"
    )
    example = PACKAGE.parent / "examples" / "hallway.circuit.toml"
    run = subprocess.run([sys.executable, "-c", code, str(example)], capture_output=True, text=True, check=True)
    loaded = run.stderr
    assert "'circuitcheck'" in loaded
    for heavy in ("textual", "rich", "jinja2", "typst", "pydantic", "pint", "numpy"):
        assert f"'{heavy}'" not in loaded
