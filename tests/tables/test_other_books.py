"""Another country's book, and an edition that lacks a table, come in as data alone."""

import pytest

from circuitcheck.errors import TableError
from circuitcheck.tables import editions, loading, rulebook
from circuitcheck.tables.editions import Edition
from circuitcheck.tables.loading import table_file_from

TABLE = """
name = "trial"
title = "A table"
key = ["size"]
[columns]
size = { kind = "text" }
current = { unit = "A" }
[[version]]
editions = EDITIONS
document = "Book of rules"
place = "Table 1"
status = "from memory"
rows = [["1.5 mm^2", 16]]
"""


@pytest.fixture(autouse=True)
def two_books(monkeypatch: pytest.MonkeyPatch) -> None:
    """Invented: one book with two editions, the older of which lacks the table, and one with a single edition."""
    listed = {
        name: Edition(name, name, country, book, document, year, "invented", frozenset(lacks))
        for name, country, book, document, year, lacks in (
            ("hill-1", "Hill Country", "hill", "Book of rules", "1", ["trial"]),
            ("hill-2", "Hill Country", "hill", "Book of rules", "2", []),
            ("lake-1", "Lake Country", "lake", "Lake code", "2020", []),
        )
    }
    monkeypatch.setattr(editions, "editions_listed", lambda: listed)
    monkeypatch.setattr(loading, "editions_listed", lambda: listed)


def test_a_book_that_a_table_does_not_mention_simply_has_none() -> None:
    file = table_file_from(TABLE.replace("EDITIONS", '["hill-1", "hill-2"]'), "trial")
    assert set(file.tables) == {"hill-1", "hill-2"}


def test_an_edition_may_lack_a_table_when_it_says_so() -> None:
    file = table_file_from(TABLE.replace("EDITIONS", '["hill-2"]'), "trial")
    assert set(file.tables) == {"hill-2"}


def test_an_edition_that_does_not_say_so_may_not() -> None:
    with pytest.raises(TableError, match="edition hill-2 is missing"):
        table_file_from(TABLE.replace("EDITIONS", '["hill-1"]'), "trial")


def test_the_year_stands_only_beside_the_books_own_document() -> None:
    tables = table_file_from(TABLE.replace("EDITIONS", '["hill-2", "lake-1"]'), "trial").tables
    assert tables["hill-2"].rows[0].source.edition == "2"
    assert tables["lake-1"].rows[0].source.edition == ""


def test_a_new_file_is_of_the_newest_edition_of_the_first_book(monkeypatch: pytest.MonkeyPatch) -> None:
    listed = editions.editions_listed()
    monkeypatch.setattr(rulebook, "editions_listed", lambda: listed)
    assert rulebook.editions() == ("hill-1", "hill-2", "lake-1")
    assert rulebook.newest_edition() == "hill-2"
    assert rulebook.editions_beside("hill-1") == ("hill-1", "hill-2")
    assert rulebook.editions_beside("lake-1") == ("lake-1",)
