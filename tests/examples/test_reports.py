"""The JSON reports of three examples, every number in them worked by hand.

Sources of what the numbers are compared with, all read as quoted in public texts that the table files name:
- conductor volumes and counting rules: NFPA 70, 314.16(B): 14 AWG counts 2.00 in^3; all equipment grounds up to four
  count as one conductor in the editions used here; any number of inside clamps counts one; a device counts two; the
  wires of a luminaire with a canopy, up to four and smaller than 14 AWG, and its ground may be left out
- box volumes: NFPA 70, Table 314.16(A): 4 x 1-1/2 octagon 15.5 in^3, 4 x 2-1/8 octagon 21.5 in^3
- ampacity of 14 AWG copper: NFPA 70, Table 310.16: 25 A at 90 degC, 15 A at 60 degC; in air up to 60 degC times 0.71
- resistance of 14 AWG solid copper at 75 degC: NFPA 70, chapter 9, Table 8: 3.07 ohm per 1000 ft, so 0.00614 ohm for
  each foot of cable, there and back (reactance, 0.058 ohm per 1000 ft, changes less than the last digit here)
- 240.4(D): 14 AWG copper at most 15 A; 210.23: one plugged-in load at most 80 % of the circuit

Voltage drops are solved by repeated substitution from 120 V: currents from the volts at each lamp, volts from the
currents, until the third decimal of the percent stands. The steps are in the comments.
"""

import json
from pathlib import Path

import pytest

from circuitcheck.cli.main import main

EXAMPLES = Path(__file__).parents[2] / "examples"

#: check, subject -> outcome, value, limit, unit; with low and high where they differ
Expected = dict[tuple[str, str], tuple[object, ...]]

BEDROOM: Expected = {
    # 60 W + 2 x 40 W = 140 W, power factor 1: 140 VA / 120 V = 1.1667 A; nothing is on for three hours
    ("load-share", "circuit"): ("pass", 1.1667, 15, "A"),
    # 14 AWG copper behind 15 A, everywhere
    **{("breaker-vs-wire", cable): ("pass", 15, 15, "A") for cable in ("feed", "to ceiling", "to left", "to right")},
    # inside, 30 degC: factor 1.00; 25 A from the 90 degC column, held to 15 A of the 60 degC column.
    # feed and to ceiling carry all 140 W, to left 80 W, to right 40 W
    ("ampacity", "feed"): ("pass", 1.1667, 15, "A"),
    ("ampacity", "to ceiling"): ("pass", 1.1667, 15, "A"),
    ("ampacity", "to left"): ("pass", 0.6667, 15, "A"),
    ("ampacity", "to right"): ("pass", 0.3333, 15, "A"),
    # feed and to ceiling, 42 ft: 0.25788 ohm x 1.1667 A = 0.3009 V. The volts being lower, the current is 1.0029
    # times that (140 W / 119.66 V = 1.1700 A): 0.3017 V = 0.2514 %
    ("voltage-drop", "ceiling lamp"): ("pass", 0.2514, 3, "percent"),
    # + to left, 15 ft: 0.0921 ohm x 80 W / 119.62 V = 0.0616 V; together 0.3633 V = 0.3028 %
    ("voltage-drop", "left light"): ("pass", 0.3028, 3, "percent"),
    # + to right, 14 ft: 0.08596 ohm x 40 W / 119.61 V = 0.0287 V; together 0.3920 V = 0.3267 %
    ("voltage-drop", "right light"): ("pass", 0.3267, 3, "percent"),
    # two cables of 14/2: 4 x 2.00, grounds 2.00, switch 2 x 2.00, no clamps
    ("box-fill", "door switch"): ("pass", 14, 18, "in^3"),
    # two cables: 4 x 2.00, grounds 2.00, clamps 2.00; the luminaire has a canopy
    ("box-fill", "ceiling"): ("pass", 12, 21.5, "in^3"),
    ("box-fill", "left"): ("pass", 12, 16, "in^3"),
    # one cable: 2 x 2.00, ground 2.00, clamps 2.00
    ("box-fill", "right"): ("pass", 8, 16, "in^3"),
    # the file's own numbers against the books': 50 lb marked; 1-1/4 in to the face (300.4), supports at 4-1/2 ft and
    # within 12 in of a box (334.30), 6 in of free conductor (300.14); cable for 90 degC where the luminaire asks for it
    **{("box-support", box): ("pass", 2, 50, "lb") for box in ("left", "right")},
    **{("cable-edge", cable): ("pass", 1.5, 1.25, "in") for cable in ("to left", "to right")},
    **{("cable-support", cable): ("pass", 48, 54, "in") for cable in ("to left", "to right")},
    **{("free-conductor", cable): ("pass", 8, 6, "in") for cable in ("to left", "to right")},
    **{("supply-temperature", load): ("pass", 90, 90, "degC") for load in ("left light", "right light")},
}

DEN: Expected = {
    # 100 W + 60 W + 20 W = 180 VA / 120 V
    ("load-share", "circuit"): ("pass", 1.5, 15, "A"),
    # the size of the feed is a guess, so it may be the size next to it: 16 AWG has no ampacity in the 60 degC column
    ("breaker-vs-wire", "feed"): ("undetermined", 15, 0, "A"),
    ("ampacity", "feed"): ("undetermined", 1.5, 0, "A"),
    ("breaker-vs-wire", "to hall"): ("pass", 15, 15, "A"),
    ("breaker-vs-wire", "to bookcase"): ("pass", 15, 15, "A"),
    ("ampacity", "to hall"): ("pass", 0.5, 15, "A"),
    ("ampacity", "to bookcase"): ("pass", 0.1667, 15, "A"),
    # "about 60 ft" is 45 ft to 75 ft, and the guessed 14 AWG may be 16 or 12 AWG (Chapter 9, Table 8, solid copper:
    # 4.89, 3.07 and 1.93 ohm per 1000 ft). 16 AWG, 75 ft: 0.7335 ohm; 12 AWG, 45 ft: 0.1737 ohm; to hall 25 ft (15 ft)
    # of 14 AWG: 0.1535 ohm (0.0921); to bookcase 18 ft: 0.1105 ohm. Constant watts, iterated: 1.5142 A and 1.1108 V, at
    # best 1.5033 A and 0.2611 V in the feed; at most 118.812 V at the hall lamp, 118.871 V at the bookcase light.
    ("voltage-drop", "ceiling lamp"): ("pass", 0.9257, 3, "percent", 0.2176, 0.9257),
    ("voltage-drop", "hall lamp"): ("pass", 0.9903, 3, "percent", 0.2561, 0.9903),
    ("voltage-drop", "bookcase light"): ("pass", 0.9412, 3, "percent", 0.2330, 0.9412),
    # three cables of 14/2: 6 x 2.00, grounds 2.00 = 14.00; were the guessed one 12 AWG, with clamps inside:
    # 4 x 2.00 + 2 x 2.25 + grounds 2.25 + clamps 2.25 = 17.00; were it 16 AWG, without clamps: 8.00 + 2 x 1.75 + 2.00
    ("box-fill", "ceiling"): ("undetermined", 17, 15.5, "in^3", 13.5, 17),
    ("box-fill", "hall"): ("pass", 6, 20, "in^3"),  # 2 x 2.00, ground 2.00
    ("box-fill", "bookcase"): ("pass", 8, 16, "in^3"),  # and clamps 2.00
    ("box-support", "bookcase"): ("pass", 1.5, 50, "lb"),
    ("cable-edge", "to bookcase"): ("pass", 1.5, 1.25, "in"),
    ("cable-support", "to bookcase"): ("pass", 48, 54, "in"),
    ("free-conductor", "to bookcase"): ("pass", 8, 6, "in"),
    ("supply-temperature", "bookcase light"): ("pass", 90, 90, "degC"),
}

NEW_CABLES = ("to hall switch", "to wall 1", "to wall 2", "to wall 3")
HALLWAY: Expected = {
    # 0.5 + 2 x 0.5 + 9.2 + 3 x 0.5 = 12.2 A; four fifths of 15 A are 12 A
    ("load-share", "circuit"): ("caution", 12.2, 15, "A"),
    ("cord-load-share", "vacuum cleaner"): ("pass", 9.2, 12, "A"),  # 0.8 x 15 A
    **{
        ("breaker-vs-wire", cable): ("pass", 15, 15, "A")
        for cable in ("feed", "to landing", "to landing light", "to landing outlet", *NEW_CABLES)
    },
    # attic, 60 degC: 25 A x 0.71 = 17.75 A, held to the 15 A of the 60 degC column; inside: 25 A, held to 15 A
    ("ampacity", "feed"): ("pass", 12.2, 15, "A"),
    ("ampacity", "to landing"): ("pass", 10.2, 15, "A"),  # 1 + 9.2
    ("ampacity", "to landing light"): ("pass", 1, 15, "A"),
    ("ampacity", "to landing outlet"): ("pass", 9.2, 15, "A"),
    ("ampacity", "to hall switch"): ("pass", 1.5, 15, "A"),
    ("ampacity", "to wall 1"): ("pass", 1.5, 15, "A"),
    ("ampacity", "to wall 2"): ("pass", 1, 15, "A"),
    ("ampacity", "to wall 3"): ("pass", 0.5, 15, "A"),
    # Resistances [ohm]: feed 30 ft 0.18420 (22 ft 0.13508), to landing 24 ft 0.14736, to landing light 14 ft 0.08596,
    # to landing outlet 12 ft 0.07368, to hall switch 26 ft 0.15964, to wall 1 17 ft 0.10438, to wall 2 and 3 15 ft
    # 0.09210 each. With 30 ft the currents settle at 12.6467 A in feed, 10.6007 A to landing, 1.5360 A to hall switch
    # (currents at 120 V: 12.2, 10.2, 1.5), so volts: attic 120 - 2.3295 = 117.6705; landing switch 116.1084; landing
    # light 116.0195; landing outlet 115.4035; hall switch 117.4253; wall 1 117.2650; wall 2 117.1706; wall 3
    # 117.1234. With 22 ft: 12.5770, 10.5420, 1.5278 A; attic 118.3011; light 116.6592; outlet 116.0467; walls
    # 117.8977, .8039, .7570.
    ("voltage-drop", "attic lamp"): ("pass", 1.9413, 3, "percent", 1.4157, 1.9413),
    ("voltage-drop", "landing lamps"): ("caution", 3.3171, 3, "percent", 2.7840, 3.3171),
    ("voltage-drop", "vacuum cleaner"): ("caution", 3.8304, 3, "percent", 3.2944, 3.8304),
    ("voltage-drop", "wall light 1"): ("pass", 2.2792, 3, "percent", 1.7519, 2.2792),
    ("voltage-drop", "wall light 2"): ("pass", 2.3578, 3, "percent", 1.8301, 2.3578),
    ("voltage-drop", "wall light 3"): ("pass", 2.3971, 3, "percent", 1.8692, 2.3971),
    # three cables: 6 x 2.00, three grounds count as one 2.00, clamps 2.00; the lampholder brings no wires
    ("box-fill", "attic"): ("fail", 16, 15.5, "in^3"),
    ("box-fill", "landing switch"): ("pass", 18, 22.5, "in^3"),  # 6 x 2.00, grounds 2.00, switch 4.00, no clamps
    ("box-fill", "landing light"): ("pass", 6, 20, "in^3"),  # 2 x 2.00, ground 2.00
    ("box-fill", "landing outlet"): ("pass", 10, 18, "in^3"),  # 2 x 2.00, ground 2.00, receptacle 4.00
    ("box-fill", "hall switch"): ("pass", 16, 20, "in^3"),  # 4 x 2.00, grounds 2.00, switch 4.00, clamps 2.00
    ("box-fill", "wall 1"): ("pass", 12, 16, "in^3"),  # 4 x 2.00, grounds 2.00, clamps 2.00
    ("box-fill", "wall 2"): ("pass", 12, 16, "in^3"),
    ("box-fill", "wall 3"): ("pass", 8, 16, "in^3"),  # 2 x 2.00, ground 2.00, clamps 2.00
    **{("box-support", box): ("pass", 3, 50, "lb") for box in ("wall 1", "wall 2", "wall 3")},
    **{("cable-edge", cable): ("pass", 1.5, 1.25, "in") for cable in NEW_CABLES},
    **{("cable-support", cable): ("pass", 48, 54, "in") for cable in NEW_CABLES},
    **{("free-conductor", cable): ("pass", 8, 6, "in") for cable in NEW_CABLES},
    **{
        ("supply-temperature", load): ("pass", 90, 90, "degC")
        for load in ("wall light 1", "wall light 2", "wall light 3")
    },
}

#: The support next to a box stands in a finding of its own beside the spacing: 10 in of 12 in.
NEXT_TO_BOX = ("pass", 10, 12, "in")

CASES = {
    "bedroom": (0, "fits", "nec-2017", BEDROOM, ("to left", "to right")),
    "den": (3, "undetermined", "nec-2020", DEN, ("to bookcase",)),
    "hallway": (1, "does not fit", "nec-2023", HALLWAY, NEW_CABLES),
}


#: What a report cost is paid once for each example: all of these stay in one process.
pytestmark = pytest.mark.xdist_group("reports")
_REPORTS: dict[str, tuple[int, dict]] = {}


def report_of(name: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, dict]:
    if name not in _REPORTS:
        status = main(["check", "--json", str(EXAMPLES / f"{name}.circuit.toml")])
        _REPORTS[name] = status, json.loads(capsys.readouterr().out)
    return _REPORTS[name]


@pytest.mark.parametrize("name", CASES)
def test_answer(name, capsys) -> None:
    status, report = report_of(name, capsys)
    assert (status, report["verdict"], report["rulebook"]) == CASES[name][:3]
    assert report["report"] == 1


@pytest.mark.parametrize("name", CASES)
def test_every_number(name, capsys) -> None:
    expected = dict(CASES[name][3])
    unmatched = []
    next_to_box = []
    for finding in report_of(name, capsys)[1]["findings"]:
        if finding["value"] is None and finding["limit"] is None:
            continue
        key = (finding["check"], finding["subject"])
        found = (finding["outcome"], finding["value"], finding["limit"], finding["unit"])
        if key[0] == "cable-support" and finding["limit"] == 12:
            assert found == NEXT_TO_BOX
            next_to_box.append(key[1])
            continue
        outcome, value, limit, unit, *ends = expected.pop(key)
        low, high = ends or (value, value)
        assert (finding["outcome"], finding["unit"]) == (outcome, unit), key
        numbers = (finding["value"], finding["limit"], finding["low"], finding["high"])
        if numbers != pytest.approx((value, limit, low, high), abs=0.0001):
            unmatched.append((key, numbers, (value, limit, low, high)))
    assert unmatched == []
    assert expected == {}
    assert tuple(next_to_box) == CASES[name][4]


@pytest.mark.parametrize("name", CASES)
def test_wire_size(name, capsys) -> None:
    """14 AWG is the smallest for a branch circuit (210.24) and all that 15 A asks for: nothing larger is needed."""
    findings = [one for one in report_of(name, capsys)[1]["findings"] if one["check"] == "wire-size"]
    assert tuple(one["subject"] for one in findings) == CASES[name][4]
    assert {(one["chosen"], one["smallest"], one["decided_by"]) for one in findings} == {
        ("14 AWG", "14 AWG", "breaker-vs-wire")
    }


def test_hallway_other_answers(capsys) -> None:
    """An outlet is added in a hallway, which 210.12 lists, and the breaker has no arc-fault protection."""
    report = report_of("hallway", capsys)[1]
    bad = {(one["check"], one["subject"]): one["outcome"] for one in report["findings"] if one["outcome"] != "pass"}
    assert bad.pop(("arc-fault", "circuit")) == "fail"
    assert bad.pop(("who-may", "circuit")) == "caution"  # the permit office has not been asked
    assert bad.pop(("loads-complete", "circuit")) == "caution"  # nobody walked the house with the breaker off
    assert {key for key in bad if HALLWAY[key][0] == bad[key]} == set(bad)


def test_den_says_what_to_find_out(capsys) -> None:
    report = report_of("den", capsys)[1]
    deciding = {unknown["key"] for unknown in report["unknowns"] if unknown["decides"]}
    assert deciding == {"box.ceiling.internal_clamps", "cable.feed.size"}
    assert {guess["key"] for guess in report["guesses"]} == {"cable.feed.length", "cable.feed.size"}
    assert any("45 ft to 75 ft" in guess["stands_for"] for guess in report["guesses"])
