"""The program's test of itself says what works, what is not installed and what is at fault."""

import sys

import pytest

from circuitcheck.cli import self_test
from circuitcheck.cli.self_test import Trial


def states(out: str) -> dict[str, str]:
    """Name and state of each trial."""
    rows = [line for line in out.splitlines() if line[:10].strip() in self_test.TRIALS]
    return {line[:10].strip(): line[10:25].strip() for line in rows}


def test_everything_that_is_installed_works(run) -> None:
    ran = run("self-test")
    assert ran.status == 0
    assert set(states(ran.out)) == set(self_test.TRIALS)
    assert "FAULT" not in ran.out
    assert states(ran.out)["check"] == states(ran.out)["tables"] == states(ran.out)["screens"] == "works"
    assert sys.version.split()[0] in ran.out
    assert "turn off the breaker" in ran.out
    assert all(len(line) <= 100 for line in ran.out.splitlines())


def test_an_extra_that_is_not_installed_is_no_fault(run, monkeypatch) -> None:
    from importlib.metadata import PackageNotFoundError

    def missing(name: str) -> str:
        if name in ("typst", "textual-serve"):
            raise PackageNotFoundError(name)
        return "1"

    for module in ("circuitcheck.paper.trying", "circuitcheck.ui.trying"):
        monkeypatch.setattr(f"{module}.version", missing)
    ran = run("self-test")
    assert ran.status == 0
    assert states(ran.out)["pdf"] == states(ran.out)["browser"] == "not installed"
    assert "extra pdf" in " ".join(ran.out.split())


def test_a_wrong_count_and_a_trial_that_stops_are_faults(run, monkeypatch) -> None:
    monkeypatch.setattr(self_test, "_NEEDED_IN3", 14.0)
    ran = run("self-test")
    assert ran.status == 4
    assert states(ran.out)["check"] == "FAULT"

    def stops() -> Trial:
        raise RuntimeError("no tables \x1b[31m here")

    monkeypatch.setitem(self_test.TRIALS, "tables", stops)
    ran = run("self-test")
    assert ran.status == 4
    assert states(ran.out)["tables"] == "FAULT"
    assert states(ran.out)["screens"] == "works"
    assert "\x1b" not in ran.out


@pytest.mark.parametrize("script", ["Latin", "Greek", "Cyrillic"])
def test_letters_that_the_typefaces_inside_have(script) -> None:
    pytest.importorskip("typst")
    from circuitcheck.paper.pdf_form import characters_without_letters
    from circuitcheck.paper.trying import SCRIPTS

    assert characters_without_letters([SCRIPTS[script]]) == set()
