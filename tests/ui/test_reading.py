"""Reading on the working page: only what decides, how many questions are left, and what nobody can find out."""

from pathlib import Path

import pytest

from circuitcheck.findings import Outcome
from circuitcheck.ui.settings import read_settings
from circuitcheck.ui.starting.file import starting_text


@pytest.fixture
def begun(folder: Path) -> Path:
    """A circuit of which little is known."""
    path = folder / "begun.circuit.toml"
    told = {"breaker": "15 A", "protection": "arc-fault", "signs": "none", "room": "hallway"}
    path.write_text(starting_text(told), "utf-8")
    return path


async def test_only_what_decides_is_shown_on_a_key_and_all_again(screens, hallway: Path) -> None:
    async with screens(hallway) as page:
        await page.press("f")
        assert "CAUTION" in page.words_in("#findings")
        await page.press("o")
        rows = page.app.screen.query_one("#findings").rows
        items = {row.item for row in rows}
        findings = page.working.bench.checked.findings
        deciding = {(f.check, f.subject) for f in findings if f.outcome in (Outcome.FAIL, Outcome.UNDETERMINED)}
        assert items
        assert items <= deciding
        assert "Only what decides (o shows all)" in page.text
        await page.press("o")
        assert "CAUTION" in page.words_in("#findings")


async def test_the_next_question_is_told_as_one_of_how_many_what_settles_most_first(screens, begun: Path) -> None:
    async with screens(begun, (120, 40)) as page:
        questions = page.working.bench.open_questions()
        assert [q.settles for q in questions] == sorted((q.settles for q in questions), reverse=True)
        await page.press("n")
        assert f"To find out, 1 of {len(questions)}: {questions[0].title}" in page.words
        await page.press("t", "n")
        assert f"To find out, 2 of {len(questions)}: {questions[1].title}" in page.words


async def test_what_nobody_can_find_out_is_left_out_and_remembered(screens, begun: Path) -> None:
    before = begun.read_text("utf-8")
    async with screens(begun, (120, 40)) as page:
        count = len(page.working.bench.open_questions())
        await page.press("n", "i")
        assert "cannot find out" in page.words_in("#entries")
        await page.press("t", "n")
        assert f"1 of {count - 1}:" in page.words
        assert begun.read_text("utf-8") == before, "the file still only says that it is unknown"
    assert len(read_settings().given_up_in(begun)) == 1
    async with screens(begun, (120, 40)) as page:
        assert len(page.working.bench.open_questions()) == count - 1
        given_up = next(iter(page.working.bench.given_up))
        await page.stand_on(given_up)
        await page.press("i")
        assert len(page.working.bench.open_questions()) == count
    assert not read_settings().given_up_in(begun)


async def test_a_value_is_not_marked_as_impossible_to_find_out(screens, hallway: Path) -> None:
    async with screens(hallway, (120, 40)) as page:
        await page.stand_on("cable.feed.length")
        await page.press("i")
        assert "has a value" in page.words
        assert not page.working.bench.given_up
