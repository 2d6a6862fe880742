"""The working page driven by keys and read as a user reads it."""

from pathlib import Path

import pytest
from textual.widgets import Input

from circuitcheck.ui.document.disk import recovery_path
from circuitcheck.ui.screens.cautions import CautionsScreen
from circuitcheck.ui.screens.finding import FindingScreen
from circuitcheck.ui.screens.first_answer import FirstAnswerScreen
from circuitcheck.ui.screens.note import NoteScreen
from circuitcheck.ui.screens.start import StartScreen
from circuitcheck.ui.screens.working import WorkingScreen
from circuitcheck.ui.widgets.entry_list import EntryList
from circuitcheck.ui.widgets.part_form import PartForm
from tests.ui.test_guided_start import FACTS, answer


async def test_new_circuit_to_note_without_a_mouse(screens, folder: Path) -> None:
    async with screens(None, (80, 24)) as page:
        assert isinstance(page.app.screen, StartScreen)
        told = {"goes dark": "hall light 60 W", "on the box": "a light: hall light", "protection": "arc-fault"}
        await answer(page, FACTS | told)
        assert isinstance(page.app.screen, FirstAnswerScreen)
        await page.press("b")
        await page.settled()
        assert isinstance(page.app.screen, WorkingScreen)
        assert "CANNOT TELL YET" in page.text
        assert "of 15 A" in page.text
        assert not list(folder.glob("*.circuit.toml")), "nothing is written before it is saved"
        await page.press("s")
        assert "Saved hallway-lights.circuit.toml" in page.words
        saved = (folder / "hallway-lights.circuit.toml").read_text("utf-8")
        assert 'length = "about 40 ft"' in saved
        assert 'breaker = "15 A"' in saved
        await page.press("w")
        assert isinstance(page.app.screen, CautionsScreen)
        assert "Turn off the breaker" in page.words
        await page.press("y")
        assert isinstance(page.app.screen, NoteScreen)
        await page.press("enter")
        await page.settled()
        note = folder / "hallway-lights-note.html"
        assert "hall light" in note.read_text("utf-8")
        await page.press("w")
        assert isinstance(page.app.screen, NoteScreen), "the cautions are asked for once a session"


async def test_no_note_before_the_cautions_are_acknowledged(screens, hallway: Path, folder: Path) -> None:
    async with screens(hallway) as page:
        await page.press("w", "escape")
        assert isinstance(page.app.screen, WorkingScreen)
        await page.press("w")
        assert isinstance(page.app.screen, CautionsScreen), "going back is no acknowledgement"
    assert not list(folder.glob("*note*"))


async def test_every_edit_is_checked_at_once(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        assert "DOES NOT FIT" in page.text
        await page.stand_on("box.attic.trade_size")
        await page.press("enter")
        await page.type("2-1/8 oct")
        await page.press("enter")
        await page.settled()
        assert "4 x 2-1/8 octagon" in page.text
        worst = page.working.bench.checked.findings
        assert not [f for f in worst if f.check == "box-fill" and f.subject == "attic" and f.outcome == "fail"]
        await page.press("z")
        await page.settled()
        assert "4 x 1-1/2 octagon" in page.text
        assert not page.working.bench.document.changed


async def test_a_value_is_read_while_it_is_typed(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type("11.5m")
        assert "read as 11.5 m" in page.text
        assert page.working.bench.part.data["length"] == "11.5 m"
        await page.press("enter", "m")
        assert page.working.bench.part.data["length"] == "measured 11.5 m"
        assert "11.5 m" in page.text
        assert "measured" in page.words
        await page.press("m")
        assert page.working.bench.part.data["length"] == "11.5 m"
        await page.press("z", "z", "z")
        assert page.working.bench.part.data["length"] == "22 ft to 30 ft"
        assert not page.working.bench.document.changed


@pytest.mark.parametrize(
    ("key", "text", "says", "taken"),
    [
        ("load.wall light 1.power", "1,5 W", "comma", "1.5 W"),
        ("supply.breaker", "15", "without a unit", "15 A"),
        ("cable.feed.length", "38 feets", "Write a length", "38 ft"),
        ("load.wall light 1.power", "75 VA", "apparent power", ""),
        ("cable.feed.to", "atic", "Nothing is called atic", ""),
        ("cable.feed.id", "to landing", "taken already", ""),
        ("site.wired", "later", "whole number", ""),
    ],
)
async def test_a_wrong_value_is_told_beside_the_field_and_kept(
    screens, hallway: Path, key: str, text: str, says: str, taken: str
) -> None:
    async with screens(hallway, (80, 24)) as page:
        before = page.working.bench.document.text
        await page.stand_on(key)
        page.working.query_one(PartForm).edit(key.rpartition(".")[2], "")
        await page.settled()
        await page.type(text)
        await page.press("enter")
        assert says in page.words_in("#form")
        assert page.app.screen.query_one("#field", Input).value == text, "what was typed stays"
        if taken:
            assert f"Enter again takes {taken}" in page.words_in("#form")
        await page.press("tab")
        await page.press("up")
        await page.settled()
        assert text in page.words_in("#form"), "the text stays in the form"
        counts = page.working.bench.shown_text(key.rpartition(".")[2])
        assert (counts or "unknown") in page.words_in("#form"), "beside the value that counts"
        assert page.working.bench.document.text == before, "and the file keeps what it had"
        await page.press("enter")
        assert page.app.screen.query_one("#field", Input).value == text, "to be put right later"
        await page.press("escape")
        await page.settled()
        assert f'"{text}" is not taken' not in page.words_in("#form"), "Esc: as it was before"
        assert page.working.bench.document.text == before
        assert not page.working.bench.drafts


async def test_the_guess_is_taken_by_a_second_enter(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("load.wall light 1.power")
        await page.type("7")
        await page.press("backspace")
        await page.type("1,5 W")
        await page.press("enter", "enter")
        await page.settled()
        assert page.working.query_one(EntryList).has_focus, "taken and closed"
        assert page.working.bench.part.data["power"] == "1.5 W", "how another value was known says nothing about it"


async def test_unknown_and_back(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.attic.internal_clamps")
        await page.press("u")
        assert "internal_clamps" not in page.working.bench.part.data
        assert "unknown now" in page.words
        await page.press("space")
        assert page.working.bench.part.data["internal_clamps"] is True
        await page.press("space")
        assert page.working.bench.part.data["internal_clamps"] is False
        await page.stand_on("supply.breaker")
        await page.press("u")
        assert page.working.bench.part.data["breaker"] == "label 15 A"
        assert "is needed" in page.words


async def test_marks_of_words_go_to_known_by(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.attic.material")
        await page.press("g")
        assert page.working.bench.part.data["known_by"]["material"] == "guess"
        await page.press("g")
        assert "material" not in page.working.bench.part.data.get("known_by", {})


async def test_undo_goes_through_everything_done_by_keys(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        before = page.working.bench.document.text
        await page.press("t", "home", "down", "down", "down", "down")
        assert page.working.bench.part.id == "attic"
        await page.press("a", "enter")  # a light on a new box
        await page.stand_on("load.lamp 1.power")
        await page.type("9 W")
        await page.press("enter", "l", "escape")
        await page.press("d")
        await page.press("minus")
        await page.press("c")
        await page.stand_on("box.wall 3.id")
        await page.press("escape", "v")
        await page.stand_on("box.wall 1.id")
        await page.press("escape", "x", "y")
        after = page.working.bench.document.text
        assert after != before
        steps = 0
        while page.working.bench.document.history.can_undo:
            await page.press("ctrl+z")
            steps += 1
        assert steps >= 7
        assert page.working.bench.document.text == before
        while page.working.bench.document.history.can_redo:
            await page.press("ctrl+y")
        assert page.working.bench.document.text == after
        assert hallway.read_text("utf-8") == before, "nothing was written"


async def test_a_finding_opens_and_jumps_to_the_entry_that_decides_it(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("f", "enter")
        assert isinstance(page.app.screen, FindingScreen)
        assert 'box fill, box "attic"' in page.text
        assert "limit 15.5 in^3" in page.words
        assert "What to do" in page.text
        await page.press("pagedown")
        assert "NFPA 70 2023, Table 314.16(A) (published)" in page.words
        await page.press("n", "p")
        await page.press("enter")
        await page.settled()
        assert isinstance(page.app.screen, WorkingScreen)
        assert page.working.bench.part.path == "box.attic"
        assert page.working.query_one(EntryList).item == "trade_size"
        assert page.working.query_one(EntryList).has_focus


async def test_leaving_with_unsaved_work_asks(screens, hallway: Path) -> None:
    before = hallway.read_text("utf-8")
    async with screens(hallway) as page:
        await page.press("d", "t", "end", "d", "q")
        assert "Save before leaving?" in page.text
        assert "hall.circuit.toml has changes that are not saved" in page.words
        await page.press("n")
        assert isinstance(page.app.screen, WorkingScreen)
        await page.press("ctrl+q")
        assert "Save before leaving?" in page.text
        await page.press("d")
    assert page.app.return_value == 0
    assert hallway.read_text("utf-8") == before
    assert not recovery_path(hallway).exists()


async def test_saving_on_leaving(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("t", "end", "d", "q", "s")
        await page.settled()
        assert isinstance(page.app.screen, StartScreen)
    assert "wall light 4" in hallway.read_text("utf-8")


async def test_a_file_changed_underneath_is_never_overwritten_silently(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        theirs = hallway.read_text("utf-8").replace("15 A", "20 A")
        await page.press("t", "end", "d")  # unsaved work here
        hallway.write_text(theirs, "utf-8")
        await page.press("s")
        assert "The file changed on disk" in page.text
        assert hallway.read_text("utf-8") == theirs
        await page.press("escape", "s")
        assert "The file changed on disk" in page.text, "staying is no answer: the next save asks again"
        await page.press("r")
        await page.settled()
        assert "20 A breaker" in page.text
        await page.press("z")
        assert page.working.bench.document.named("load", "wall light 4") is not None, "what was here comes back"
        await page.press("s")
    assert "wall light 4" in hallway.read_text("utf-8")


async def test_a_file_changed_underneath_is_read_again_when_nothing_is_unsaved(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        hallway.write_text(hallway.read_text("utf-8").replace("15 A", "20 A"), "utf-8")
        page.working.file.look_at_disk()
        await page.settled()
        assert "20 A breaker" in page.text
        assert "read again" in page.words
        assert not page.working.bench.document.changed


async def test_comments_and_order_survive_the_screens(screens, folder: Path) -> None:
    path = folder / "a.circuit.toml"
    text = (
        '# mine\nformat = 1\n\n[supply]  # first\nvoltage = "120 V"\nbreaker = "15 A"   # read today\n\n'
        '[job]\ntitle = "t"\nrulebook = "nec-2023"\n'
    )
    path.write_text(text, "utf-8")
    async with screens(path) as page:
        await page.stand_on("supply.breaker")
        await page.press("enter", *["backspace"] * 4)
        await page.type("20 A")
        await page.press("enter", "s")
    assert path.read_text("utf-8") == text.replace("15 A", "20 A")


async def test_a_file_with_mistakes_is_shown_and_put_right(screens, folder: Path) -> None:
    path = folder / "a.circuit.toml"
    path.write_text(
        'format = 1\n[job]\ntitle = "t"\nrulebook = "nec-2023"\n[supply]\nvoltage = "120 V"\nbreaker = "15 W"\n'
        '[[box]]\nid = "b"\n[[cable]]\nid = "c"\nfrom = "panel"\nto = "b"\nlenght = "3 ft"\n',
        "utf-8",
    )
    async with screens(path) as page:
        assert "NO ANSWER YET" in page.text
        assert "2 entries to correct first" in page.words
        await page.press("f", "enter")
        assert page.working.query_one(EntryList).item == "breaker"
        await page.type("15 A")
        await page.press("enter")
        assert "1 entry to correct first" in page.words
        assert "lenght" in page.text
    assert path.read_text("utf-8").count("15 W") == 1


async def test_a_list_of_small_tables_is_filled_by_keys(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.attic.fixture_wires")
        await page.press("enter", "a")
        assert "Size" in page.text
        await page.type("18 AWG")
        await page.press("enter", "down")
        await page.type("2")
        await page.press("enter", "tab")
        await page.settled()
        assert page.working.bench.part.data["fixture_wires"] == [{"size": "18 AWG", "count": 2}]
        await page.press("z")
        assert page.working.bench.part.data["fixture_wires"] == [], "as the file has it: a bare lampholder brings none"


async def test_several_words_are_ticked(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.attic.fittings")
        await page.press("enter", "space", "down", "space", "enter")
        await page.settled()
        assert page.working.bench.part.data["fittings"] == ["stud", "hickey"]
        await page.press("enter", "space", "escape")
        await page.settled()
        assert page.working.bench.part.data["fittings"] == ["stud", "hickey"], "Esc: as it was"


async def test_next_goes_to_what_is_wanted_most(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await page.press("u", "escape", "n")
        assert page.working.bench.part.path == "cable.feed"
        assert page.working.query_one(EntryList).item == "length"
        assert "unknown: decides" in page.words


@pytest.mark.parametrize("pane", ["circuit", "findings", "entries"])
async def test_every_key_in_the_footer_does_something_where_it_is_shown(screens, hallway: Path, pane: str) -> None:
    async with screens(hallway, (80, 24)) as page:
        working = page.working
        working.action_focus_pane(pane)
        await page.settled()
        footer = page.text.split("\n")[-1]
        shown = [active.binding for active in page.app.screen.active_bindings.values() if active.binding.show]
        first = {binding.description: binding for binding in reversed(shown)}
        assert len(first) >= 6
        for binding in first.values():
            assert binding.description in footer, binding.description
            before = page.text
            await page.press(binding.key)
            assert page.text != before, f"{binding.key} {binding.description} does nothing"
            while page.app.screen is not working:
                await page.press("escape")
            await page.press("escape")
            working.action_focus_pane(pane)
            await page.settled()


async def test_the_palette_does_by_name_what_the_keys_do(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("ctrl+p")
        await page.type("light look")
        await page.pilot.pause(0.5)
        await page.press("enter")
        await page.pilot.pause(0.2)
        assert page.app.theme == "circuit-light"
        await page.press("ctrl+p")
        await page.type("find out next")
        await page.pilot.pause(0.5)
        await page.press("enter")
        await page.pilot.pause(0.2)
        assert "Nothing is left" in page.words


async def test_help_and_the_explanation_of_an_entry(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 50)) as page:
        await page.press("question_mark")
        assert "Help: the circuit" in page.text
        assert page.words.index("A part") < page.words.index("Moving about")
        await page.press("escape")
        await page.stand_on("supply.breaker")
        await page.press("h")
        assert "this number" in page.text, "the picture of a breaker's handle"
        assert "Do not take the cover off the panel" in page.words


async def test_mouse(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 40)) as page:
        circuit = page.working.query_one("#circuit")
        await page.pilot.click(circuit, offset=(10, 5))
        await page.settled()
        assert page.working.bench.part.path == "box.attic"
        await page.pilot.click(circuit, offset=(10, 5))
        await page.settled()
        assert page.working.query_one(EntryList).has_focus
        await page.pilot.click("#summary", offset=(100, 1))
        await page.settled()
        assert isinstance(page.app.screen, FindingScreen)
        assert 'box fill, box "attic"' in page.text


@pytest.mark.parametrize("way", ["escape", "ctrl+z"])
@pytest.mark.parametrize("text", ["11.5m", "11.5 feets", ""])
async def test_a_field_is_left_as_it_was(screens, hallway: Path, way: str, text: str) -> None:
    async with screens(hallway) as page:
        await page.press("t", "end", "d")  # something earlier, which is not to be undone
        before = page.working.bench.document.text
        steps = len(page.working.bench.document.history.unsaved_names(100))
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type(text)
        await page.press(way)
        await page.settled()
        assert page.working.bench.document.text == before
        assert len(page.working.bench.document.history.unsaved_names(100)) == steps
        assert "22 ft to 30 ft" in page.words_in("#form")
        assert page.working.query_one(EntryList).has_focus
        assert page.working.query_one(EntryList).item == "length"


async def test_tab_takes_what_was_typed(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type("11.5m")
        await page.press("tab")
        await page.settled()
        assert page.working.bench.part.data["length"] == "11.5 m"


async def test_a_hint_names_no_key_that_is_text(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type("11.5m")
        assert "Enter takes it, Esc leaves it as it was" in page.words_in("#form")
        assert "m, l or g" not in page.words_in("#form")


async def test_the_value_that_counts_stands_beside_text_that_is_none(screens, hallway: Path) -> None:
    async with screens(hallway, (80, 24)) as page:
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type("3 feets")
        assert "22 ft to 30 ft still counts" in page.words_in("#form")
        await page.press("enter")
        assert "Until then 22 ft to 30 ft counts" in page.words_in("#form")
        assert page.working.bench.part.data["length"] == "22 ft to 30 ft", "also for the findings on this page"
        await page.press("tab")
        await page.settled()
        assert "22 ft to 30 ft ✗" in page.words_in("#form")
        await page.press("up")
        assert "Until then 22 ft to 30 ft counts" in page.words_in("#form")


async def test_undo_takes_back_the_text_that_was_typed_last_and_nothing_else(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("t", "end", "d")
        assert page.working.bench.document.named("load", "wall light 4") is not None
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type("3 feets")
        await page.press("tab", "z")
        assert 'Undone: "3 feets" typed in Length' in page.words
        assert not page.working.bench.drafts
        assert page.working.bench.document.named("load", "wall light 4") is not None
        await page.press("z")
        assert page.working.bench.document.named("load", "wall light 4") is None


async def test_the_question_on_leaving_names_what_is_not_in_the_file(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 40)) as page:
        await page.press("t", "end", "d", "s")
        await page.stand_on("cable.feed.length")
        await page.press("enter", *["backspace"] * 20)
        await page.type("3 feets")
        await page.press("tab", "q")
        assert '"3 feets" in Length, cable feed, is no value' in page.words
        assert "not saved" not in page.words_in("#sheet"), "all else is in the file"
        assert "Save and leave" not in page.words_in("#sheet")
        await page.press("n")
        await page.stand_on("cable.feed.length")
        await page.type("9 m")
        await page.press("enter", "q")
        assert "has changes that are not saved: Length, cable feed" in page.words
        assert "duplicate" not in page.words_in("#sheet").casefold()
        assert "is no value" not in page.words_in("#sheet")


async def test_a_saved_change_that_is_undone_is_named(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 40)) as page:
        await page.press("t", "end", "d", "s", "z", "q")
        assert "not saved: undone: " in page.words


async def test_a_list_of_small_tables_is_left_as_it_was(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        before = page.working.bench.document.text
        await page.stand_on("box.attic.fixture_wires")
        await page.press("enter", "escape")
        assert page.app.screen is page.working, "nothing was changed, so nothing is asked"
        await page.press("enter", "a", "escape", "escape")
        assert "Leave the list as it was?" in page.text
        await page.press("d")
        await page.settled()
        assert page.app.screen is page.working
        assert page.working.bench.document.text == before
        await page.press("enter", "a")
        await page.type("18 foo")
        await page.press("down", "tab")
        assert '"18 foo" is no value' in page.words
        await page.press("n", "escape", "escape", "s", "y")
        await page.settled()
        assert page.app.screen is page.working
        assert page.working.bench.part.data["fixture_wires"] == [{"count": 1}]


async def test_a_pick_list_is_taken_with_enter_or_tab_and_left_with_escape(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.stand_on("box.attic.material")
        before = page.working.bench.part.data["material"]
        await page.press("enter", "down", "escape")
        await page.settled()
        assert page.working.bench.part.data["material"] == before
        await page.press("enter", "down", "tab")
        await page.settled()
        assert page.working.bench.part.data.get("material") != before


@pytest.mark.parametrize(
    ("pane", "ways"),
    [
        ("circuit", "Enter Edit f Findings ? Help"),
        ("findings", "t Circuit e Entry ? Help"),
        ("entries", "t Circuit f Findings ? Help"),
    ],
)
async def test_the_key_line_of_a_thin_window_leads_to_the_other_panes(screens, hallway: Path, pane, ways) -> None:
    async with screens(hallway, (60, 20)) as page:
        page.working.action_focus_pane(pane)
        await page.settled()
        assert ways in " ".join(page.text.split("\n")[-1].split())
        await page.press("question_mark")
        assert f"Help: the {pane}" in page.text


async def test_slash_filters_what_the_pane_is_about(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("f", "slash")
        await page.type('voltage drop, "wall light 2"')
        await page.press("enter")
        listed = page.working.query_one("#findings")
        assert listed.item == ("voltage-drop", "attic lamp"), "the row of all that pass this check"
        assert "wall light 2" in page.words_in("#findings")
        assert listed.has_focus
        await page.stand_on("cable.feed.length")
        await page.press("slash")
        await page.type("solid or")
        await page.press("enter")
        assert page.working.query_one(EntryList).item == "stranding"


async def test_delete_deletes_a_part(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("t", "end", "d", "delete")
        assert "Deleted: light wall light 4 (z brings it back)" in page.words
        assert page.working.bench.document.named("load", "wall light 4") is None


async def test_the_palette_names_the_key_of_each_command(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 40)) as page:
        await page.press("ctrl+p")
        await page.type("write the note")
        await page.pilot.pause(0.5)
        assert "Write the note (w)" in page.words


async def test_a_fault_of_the_program_shows_its_line_in_the_list(screens, hallway: Path, monkeypatch) -> None:
    def faulty(*_: object, **__: object) -> None:
        raise ZeroDivisionError("one <b>")

    monkeypatch.setattr("circuitcheck.ui.examining.check_again", faulty)
    async with screens(hallway, (120, 40)) as page:
        assert "✗ PROGRAM FAULT" in page.words_in("#findings")
        assert "ZeroDivisionError: one <b>" in page.words_in("#findings")
        assert "Your file is not touched" in page.words_in("#findings")


async def test_undo_leaves_one_near_where_the_part_was(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("t", "end", "d", "z")
        assert page.working.bench.part.path == "load.wall light 3"


async def test_the_drawing_keeps_its_order_when_parts_are_added(screens, hallway: Path) -> None:
    async with screens(hallway, (100, 60)) as page:
        listed = page.working.query_one("#circuit")
        before = [row.item for row in listed.rows]
        await page.stand_on("box.landing outlet.id")
        await page.press("escape")
        for _ in range(6):  # a run of six boxes behind the outlet is longer than the one that went straight on
            await page.press("a", "enter")
            box = page.working.bench.part
            await page.stand_on(f"box.{box.data.get('box', box.id)}.id")
            await page.press("escape")
        after = [row.item for row in listed.rows]
        assert len(after) > len(before) + 12
        assert [item for item in after if item in before] == before


async def test_findings_with_one_cause_stand_together_and_what_passes_is_folded(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 50)) as page:
        checked = page.working.bench.checked
        assert checked is not None
        listed = page.working.query_one("#findings")
        alike = [f for f in checked.findings if f.check == "voltage-drop" and f.outcome == "caution"]
        assert [finding.subject for finding in alike] == ["landing lamps", "vacuum cleaner"]
        assert "! CAUTION voltage drop, 2 findings: landing lamps" in page.words_in("#findings")
        passing = [finding for finding in checked.findings if finding.outcome == "pass"]
        assert f"✓ {len(passing)} checks found nothing wrong" in page.words_in("#findings")
        assert "✓ PASS" not in page.words_in("#findings")
        folded = len(listed.rows)
        await page.press("f", "end", "enter")
        assert len(listed.rows) == folded + len({finding.check for finding in passing})
        await page.press("up")
        assert "✓ PASS" in page.words_in("#findings")
        await page.press("p")
        assert len(listed.rows) == folded
        assert listed.item == "passes"


async def test_each_finding_of_a_group_is_reached(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 50)) as page:
        await page.press("f")
        listed = page.working.query_one("#findings")
        assert listed.stand_on(("voltage-drop", "landing lamps"))
        await page.settled()
        assert "vacuum cleaner: " in page.words_in("#findings"), "standing on it shows each sentence"
        await page.press("enter")
        assert 'voltage drop, "landing lamps"' in page.text
        await page.press("n")
        assert 'voltage drop, "vacuum cleaner"' in page.text
