"""``circuitcheck.fixes``: the same fixes from Python."""

from pathlib import Path

import circuitcheck

HALLWAY = Path(__file__).parents[2] / "examples" / "hallway.circuit.toml"


def test_a_fix_holds_the_circuit_and_the_report_that_it_was_checked_with():
    found = circuitcheck.fixes(circuitcheck.read_file(HALLWAY))
    assert len(found) == len(list(found)) >= 3
    assert found.why_none is None
    first = found[0]
    assert first.report.verdict == "fits"
    assert circuitcheck.check(first.circuit).verdict == "fits"
    assert [change["part"] for change in first.to_dict()["changes"]] == ["box.attic", "supply"]
    assert found.to_dict()["fixes"][0] == first.to_dict()
