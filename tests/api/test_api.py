"""What `import circuitcheck` promises."""

import json
import subprocess
import sys
from dataclasses import fields
from pathlib import Path
from typing import Any

import pint
import pytest

import circuitcheck
from circuitcheck import api, findings
from circuitcheck.advice import advised
from circuitcheck.circuit.reader import circuit_in
from circuitcheck.cli.main import main
from circuitcheck.tables.rulebook import vocabulary

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.circuit.toml"))
HALLWAY = ROOT / "examples" / "hallway.circuit.toml"

HOSTILE = """\
format = 1
[job]
title = "<script>x</script> [/bold] \\u001b[31m"
rulebook = "nec-2023"
[supply]
voltage = "120 V"
breaker = "15 A"
[[box]]
id = "<img src=x onerror=y>"
[[cable]]
id = "feed"
from = "panel"
to = "<img src=x onerror=y>"
"""


def test_the_lazy_names_are_those_of_the_api() -> None:
    assert set(circuitcheck.__all__) - {"__version__"} == set(api.__all__)
    for name in api.__all__:
        assert getattr(circuitcheck, name) is getattr(api, name)
    assert dir(circuitcheck) == sorted(circuitcheck.__all__)
    with pytest.raises(AttributeError, match="no attribute 'chek'"):
        circuitcheck.chek  # noqa: B018


def test_import_alone_loads_nothing_heavy() -> None:
    code = "import sys, circuitcheck; print(sorted(name for name in sys.modules if name.startswith('circuitcheck')))"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "['circuitcheck']"


def test_a_check_loads_no_unit_library_until_a_quantity_is_asked() -> None:
    code = (
        "import sys, circuitcheck; report = circuitcheck.check_file(sys.argv[1]); report.to_dict();"
        "assert not {'pint', 'pydantic', 'rich', 'textual', 'jinja2'} & sys.modules.keys(), sys.modules.keys();"
        "report.of('box-fill')[0].quantity(); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code, str(HALLWAY)], check=True)


@pytest.fixture
def advised_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """To be asked again for the very same circuit, report and book takes long and tells nothing new."""
    advise, asked = advised.advised, []

    def remembered(*told: Any, room: bool = True) -> Any:
        for before, answer in asked:
            if before == (*told, room):
                return answer
        asked.append(((*told, room), advise(*told, room=room)))
        return asked[-1][1]

    monkeypatch.setattr(advised, "advised", remembered)


@pytest.mark.usefixtures("advised_once")
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_to_dict_is_what_the_command_prints(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", "--json", str(path)])
    printed = json.loads(capsys.readouterr().out)
    report = circuitcheck.check_file(path, advice=True)
    assert report.to_dict() == printed
    assert report.verdict == printed["verdict"]
    assert len(report) == len(report.rows()) == len(printed["findings"])


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_a_circuit_as_a_dict_is_the_same_circuit(path: Path) -> None:
    circuit = circuitcheck.read_file(path)
    assert circuit_in(circuit.to_dict(), "", str(path), vocabulary()) == circuit.model


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_what_is_shown_is_short(path: Path) -> None:
    report = circuitcheck.check_file(path)
    for shown in (repr(report), repr(circuitcheck.read_file(path)), *map(repr, report)):
        assert len(shown) < 200
        assert "\n" not in shown
    for row in circuitcheck.read_file(path).rows("cable"):
        assert row.keys() == circuitcheck.read_file(path).rows("cable")[0].keys()


def test_a_finding_has_every_field_of_the_inner_one() -> None:
    assert {field.name for field in fields(circuitcheck.Finding)} == {field.name for field in fields(findings.Finding)}
    report = circuitcheck.check_file(HALLWAY)
    inner = report._held.findings
    for ours, theirs in zip(report.findings, inner, strict=True):
        assert all(getattr(ours, field.name) == getattr(theirs, field.name) for field in fields(findings.Finding))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_every_number_of_a_finding_becomes_a_quantity(path: Path) -> None:
    for finding in circuitcheck.check_file(path):
        quantity = finding.quantity("limit")
        assert (quantity is None) is (finding.limit is None)
        if quantity is not None:
            assert isinstance(quantity, pint.Quantity)
            assert quantity.magnitude == finding.limit


def test_quantities_of_a_circuit() -> None:
    circuit = circuitcheck.read_file(HALLWAY)
    low, high = circuit.quantity("supply.breaker")
    assert low == high
    assert low.to("mA").magnitude == pytest.approx(15_000)
    assert circuit.quantity("box.attic.volume") is None
    for missing in ("box.nowhere.volume", "box.attic.colour", "nothing.at.all", "box"):
        with pytest.raises(KeyError):
            circuit.quantity(missing)
    with pytest.raises(TypeError, match="no unit"):
        circuit.quantity("box.attic.covered")
    with pytest.raises(ValueError, match="none of value"):
        circuitcheck.check(circuit).findings[0].quantity("colour")


def test_html_holds_user_text_as_text_and_the_cautions() -> None:
    circuit = circuitcheck.read_text(
        HOSTILE.replace("onerror=y>", 'onerror=y>"\norigin = "existing').replace('""', '"')
    )
    report = circuitcheck.check(circuit)
    for shown in (circuit._repr_html_(), report._repr_html_(), repr(circuit), repr(report), *map(repr, report)):
        assert "\x1b" not in shown
    for shown in (circuit._repr_html_(), report._repr_html_()):
        assert "<script>" not in shown
        assert "<img" not in shown
        assert "\x1b" not in shown
    assert "licensed electrician" in report._repr_html_()
    assert "breaker" in report._repr_html_()


def test_another_rulebook_and_one_that_is_not_there() -> None:
    circuit = circuitcheck.read_file(HALLWAY)
    assert {circuitcheck.check(circuit, rulebook=name).rulebook for name in circuitcheck.rulebooks()} == set(
        circuitcheck.rulebooks()
    )
    with pytest.raises(circuitcheck.CommandError, match='no rulebook "nec-2032"'):
        circuitcheck.check(circuit, rulebook="nec-2032")


def test_problems_are_data() -> None:
    with pytest.raises(circuitcheck.CircuitFileError) as caught:
        circuitcheck.read_text("format = 1\nnothing = 2\n", name="mine")
    assert {problem.file for problem in caught.value.problems} == {"mine"}
    assert any(problem.line == 2 for problem in caught.value.problems)
