"""The low-voltage tables, typed again from the transcription of NFPA 70-2017 (read in a public copy)."""

import pytest

from circuitcheck.tables.rulebook import editions, load_rulebook

#: Greatest nameplate rating of class 2 sources that are inherently limited: (up to V, A or None, VA or None).
CLASS_2 = {
    "class-2-ac": [(20, 5.0, None), (30, None, 100)],
    "class-2-dc": [(20, 5.0, None), (30, None, 100), (60, None, 100)],
}


@pytest.mark.parametrize("edition", editions("nec"))
@pytest.mark.parametrize("name", CLASS_2)
def test_class_2(edition, name):
    book = load_rulebook(edition)
    if name not in book.tables:
        pytest.skip(f"{edition} has no {name}")
    rows = [(row.number("up_to"), row.number("current"), row.number("power")) for row in book.table(name).rows]
    assert rows == CLASS_2[name]


@pytest.mark.parametrize("edition", editions("nec"))
def test_fixture_wires(edition):
    book = load_rulebook(edition)
    if "fixture-wire-ampacity" not in book.tables:
        pytest.skip(f"{edition} has no fixture wires")
    found = [(row.key[0], row.number("ampacity")) for row in book.table("fixture-wire-ampacity").rows]
    assert found == [("18 AWG", 6), ("16 AWG", 8), ("14 AWG", 17), ("12 AWG", 23), ("10 AWG", 28)]
    assert sum(amperes for _, amperes in found) == 82


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("low-voltage-lighting-ac", 30),
        ("low-voltage-lighting-dc", 60),
        ("low-voltage-lighting-current", 25),
        ("low-voltage-supply-breaker", 20),
        ("class-2-clearance", 0.25 * 0.0254),
        ("driver-supply-wire-temperature", 90),
        ("driver-supply-wire-distance", 3 * 0.0254),
        # 1/58 microohm metre over 35 micrometres x 3 mm, two conductors; shown as 0.1 ohm/ft
        ("unknown-strip-resistance", pytest.approx(2 / 58e6 / (35e-6 * 3e-3), rel=0.005)),
    ],
)
def test_single_values(name, value):
    for edition in ("nec-2017", "nec-2020", "nec-2023"):
        assert load_rulebook(edition).value(name).number == value
