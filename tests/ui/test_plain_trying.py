"""Trying in the line-by-line mode: a fix seen and taken, a change planned, a what-if, the room left, one box."""

import tomllib
from pathlib import Path

from tests.ui.test_plain import talk_through, words


def test_a_fix_is_shown_before_it_is_taken(hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    said = words(talk_through(hallway, "fixes 1", "1", "no", "", "F", "1", "yes", "save", "leave"))
    assert 'Answer: DOES NOT FIT, as before Goes FAIL box fill, box "attic"' in said, "of finding 1 alone"
    assert "Answer: DOES NOT FIT to FITS ON PAPER" in said
    assert "clamps inside yes to no" in said
    assert said.index("tested dead") < said.index("Take it into the plan?")
    for stroke in "→✗✓│":
        assert stroke not in said, "no strokes that a screen reader would spell"
    text = hallway.read_text("utf-8")
    assert text.startswith(before.rstrip("\n"))
    assert {change["part"] for change in tomllib.loads(text)["change"]} == {"box.attic", "supply"}


def test_a_change_is_planned_and_the_room_left_is_said(hallway: Path) -> None:
    answers = ("plan 5", "replace", "1", "4 x 2-1/8 octagon", "", "room 3", "delete 7", "yes", "undo", "save", "leave")
    said = words(talk_through(hallway, *answers))
    assert "box attic, to be replaced" in said
    assert "There now: 4 x 1-1/2 octagon." in said
    # 15 A less the 12.2 A that the listed loads draw
    assert "Room left, panel and breaker: 2.8 A more" in said
    assert "Does the work take it away? The file keeps what is there." in said
    plan = tomllib.loads(hallway.read_text("utf-8"))["change"]
    assert plan == [{"part": "box.attic", "action": "replace", "new": {"trade_size": "4 x 2-1/8 octagon"}}]


def test_two_what_ifs_kept_and_dropped(hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    first = ("what if", "5", "Trade size", "4 x 2-1/8 octagon", "")
    second = ("other", "3", "Arc-fault", "arc-fault", "", "what if", "save", "drop", "keep", "undo", "leave", "discard")
    said = words(talk_through(hallway, *first, *second))
    assert "WHAT IF 1: 1 change." in said
    assert 'gone: box fill, box "attic"' in said
    assert "as it was: FAIL 16 in³ what if 1: PASS 16 in³ what if 2: FAIL 16 in³" in said
    assert "A what-if is on: write keep or drop first, then save." in said
    assert "What if 2 is dropped; what if 1 is on again." in said
    assert "Kept: Trade size of a metal box, box attic." in said
    assert hallway.read_text("utf-8") == before


def test_one_box_is_counted_by_questions(folder: Path) -> None:
    # NFPA 70, 314.16(B): 14/2, 14/2 and 14/3 make 14.00 in³, a switch 4.00, no clamps: 18.00; with grounds, which
    # the print does not tell, 2.00 more: 20.00. Of the 22 that leaves one more at least, and two where there are none.
    said = words(talk_through(None, "Count one box", "14/2 14/2 14/3", "switch", "none", "", "22 in^3", "no", "", ""))
    assert "it needs 18 to 20 in³ of its 22 in³" in said
    assert "Room left for more conductors: at least 1 of 14 AWG" in said
    assert "Smallest metal box of the table that would do" in said
